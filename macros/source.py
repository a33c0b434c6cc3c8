"""Reads YAML and remembers where each value stood. The only module that imports yaml.

Every scalar and every key is kept as the text that was typed: YAML's own guesses turn `12:00` into 720,
`on` into true and `017` into 15. The models give each text its type.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from macros.problems import Place, Problem

MAX_BYTES = 1_000_000
MAX_DEPTH = 30
MAX_NODES = 100_000
"""Bounds on one file. A house of 40 systems stays under a tenth of each; past them lies a file made to hang us."""

Path_ = tuple[str | int, ...]

_PLAIN_TAGS = frozenset(
    f"tag:yaml.org,2002:{name}"
    for name in ("str", "int", "float", "bool", "null", "timestamp", "map", "seq", "merge", "value")
)
"""What YAML itself gives to plain text, mappings and lists; any other tag asks for more than text."""

# Controls, other ends of line than \n, halves of letters, and what turns the reading order of its neighbours: after Unicode UAX 9 and TR 36.
_UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")


@dataclass
class Source:
    """A YAML document as plain data (dict, list, text, None), and the place of every entry in it."""

    data: Any = None
    places: dict[Path_, Place] = field(default_factory=dict)
    file: str = ""

    def place(self, path: Path_) -> Place:
        """Place of the entry, or of the nearest parent that exists."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, Place(self.file, 1))


def read_yaml(path: Path, shown: str) -> tuple[Source | None, list[Problem]]:
    """Read one file. `shown` is the name used in messages. No source is returned when it cannot be read."""
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            return None, [
                _refusal(
                    shown,
                    1,
                    f"the file is {size} bytes",
                    f"At most {MAX_BYTES} bytes are read",
                    "Split it; every *.yml in the folder is read",
                )
            ]
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None, [_refusal(shown, 1, "the file is not UTF-8 text", "", "Save it as UTF-8")]
    except OSError as error:
        return None, [
            _refusal(shown, 1, f"the file cannot be read ({error.strerror})", "", "Check its permissions")
        ]
    return read_yaml_text(text, shown)


def read_yaml_text(text: str, shown: str, first_line: int = 1) -> tuple[Source | None, list[Problem]]:
    """Read YAML text whose first line is line `first_line` of the file `shown`."""
    loader = yaml.SafeLoader(text) if not hasattr(yaml, "CSafeLoader") else yaml.CSafeLoader(text)
    try:
        refusal = _too_much(text, shown, first_line)
        if refusal:
            return None, [refusal]
        node = loader.get_single_node()
    except yaml.YAMLError as error:
        return None, [_syntax(error, shown, first_line)]
    except (RecursionError, ValueError) as error:
        return None, [
            _refusal(shown, first_line, f"the YAML cannot be read ({error})", "", "Simplify this file")
        ]
    finally:
        loader.dispose()
    source = Source(file=shown)
    problems: list[Problem] = []
    if node is not None:
        source.data = _walk(node, (), source, problems, shown, first_line)
    return source, problems


def _too_much(text: str, shown: str, first_line: int) -> Problem | None:
    """Count events before a tree is built, so that a hostile file costs no memory. Aliases are refused whole."""
    depth = 0
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    for count, event in enumerate(yaml.parse(text, Loader=loader), start=1):
        line = first_line + (event.start_mark.line if event.start_mark else 0)
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            return _refusal(
                shown,
                line,
                "an anchor (&) or alias (*) is used",
                "Each value is written where it counts",
                "Write the value out",
            )
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth > MAX_DEPTH:
            return _refusal(shown, line, f"entries are nested over {MAX_DEPTH} deep", "", "Flatten this part")
        if count > MAX_NODES:
            return _refusal(shown, line, f"the file has over {MAX_NODES} entries", "", "Split the file")
    return None


def _walk(
    node: yaml.Node, path: Path_, source: Source, problems: list[Problem], shown: str, first: int
) -> Any:
    place = Place(shown, first + node.start_mark.line)
    source.places.setdefault(path, place)
    if node.tag not in _PLAIN_TAGS:
        problems.append(
            _refusal(
                shown,
                place.line,
                f"the YAML tag {node.tag} is used",
                "Tags are not read",
                "Write plain text",
                dotted(path),
            )
        )
        return None
    if isinstance(node, yaml.MappingNode):
        return _walk_mapping(node, path, source, problems, shown, first)
    if isinstance(node, yaml.SequenceNode):
        return [
            _walk(item, (*path, index), source, problems, shown, first)
            for index, item in enumerate(node.value)
        ]
    text = str(node.value)
    unseen = unseen_character(text, shown, place.line, dotted(path))
    if unseen is not None:
        problems.append(unseen)
        return None
    plain_empty = not getattr(node, "style", None) and text in ("", "~", "null")
    return None if plain_empty else text


def _walk_mapping(
    node: yaml.MappingNode, path: Path_, source: Source, problems: list[Problem], shown: str, first: int
) -> dict[str, Any]:
    result: dict[str, Any] = {}
    for key_node, value_node in node.value:
        line = first + key_node.start_mark.line
        if not isinstance(key_node, yaml.ScalarNode):
            problems.append(
                _refusal(
                    shown,
                    line,
                    "a list or mapping stands as a name",
                    "Names are plain text",
                    "Write a name before the colon",
                    dotted(path),
                )
            )
            continue
        key = str(key_node.value)
        unseen = unseen_character(key, shown, line, dotted(path))
        if unseen is not None:
            problems.append(unseen)
            continue
        here = (*path, key)
        if key in result:
            problems.append(
                _refusal(
                    shown,
                    line,
                    f"{key} stands here a second time (first at line {source.places[here].line})",
                    "Each name is written once",
                    "Remove one of the two",
                    dotted(here),
                    code="E32",
                )
            )
            continue
        source.places[here] = Place(shown, line)
        result[key] = _walk(value_node, here, source, problems, shown, first)
    return result


def unseen_character(text: str, shown: str, line: int, key: str) -> Problem | None:
    """A character nobody sees that breaks a line or turns the order of numbers; letters of any script are welcome."""
    found = _UNSEEN.search(text)
    if found is None:
        return None
    character = found.group()
    name = unicodedata.name(character, "a control character").lower()
    return _refusal(
        shown,
        line,
        f"the text holds U+{ord(character):04X} ({name}), which is not seen and can turn the order of numbers",
        "Letters of any script, digits and marks; lines end with a plain line end",
        "Delete the text here and type it anew",
        key,
    )


def _syntax(error: yaml.YAMLError, shown: str, first_line: int) -> Problem:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line = first_line + mark.line if mark else first_line
    said = str(getattr(error, "problem", None) or getattr(error, "reason", None) or "not YAML")
    return _refusal(
        shown,
        line,
        f"this is not valid YAML ({said})",
        "",
        "Look at this line and the one above: a colon, quote, bracket or indent is out of place",
    )


def _refusal(
    shown: str, line: int, what: str, allowed: str, remedy: str, key: str = "file", code: str = ""
) -> Problem:
    return Problem(Place(shown, line), key or "file", what, allowed, remedy, code)


def dotted(path: Path_) -> str:
    """The path as a person writes it: `systems[0].reservoir.shape`."""
    text = ""
    for part in path:
        text += f"[{part}]" if isinstance(part, int) else (f".{part}" if text else part)
    return text
