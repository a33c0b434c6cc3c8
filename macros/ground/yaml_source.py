"""Reads YAML and remembers where each value stood. The only module that imports yaml.

Every scalar and every key is kept as the text that was typed: YAML's own guesses turn `12:00` into 720,
`on` into true and `017` into 15. The models give each text its type.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

import yaml

from macros.ground.house_files import read_file
from macros.ground.problems import Place, Problem
from macros.ground.seen import UNSEEN
from macros.ground.yaml_slips import slip_of

MAX_DEPTH = 30
MAX_NODES = 100_000
"""Bounds on one file. A house of 40 systems stays under a tenth of each; past them lies a file made to hang us."""

Path_ = tuple[str | int, ...]

ANY_NAME = "*"
"""Stands among the names left out for one that could not be read itself."""

_PLAIN_TAGS = frozenset(
    [None, "!"]
    + [
        f"tag:yaml.org,2002:{name}"
        for name in ("str", "int", "float", "bool", "null", "timestamp", "map", "seq", "merge", "value")
    ]
)
"""No tag, and those that YAML itself gives to plain text, mappings and lists; any other asks for more than text."""


_LINE_ENDS = re.compile("[\x85\u2028\u2029]")


@dataclass
class Source:
    """YAML as plain data (dict, list, text, None), the place of every entry in it, and the text of each file."""

    data: Any = None
    places: dict[Path_, Place] = field(default_factory=dict)
    file: str = ""
    texts: dict[str, str] = field(default_factory=dict)
    left_out: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """Sections with entries that hold a mistake and were left out, and the names of these: they are told at the mistake, and
    not as names that lead nowhere."""

    def place(self, path: Path_) -> Place:
        """Place of the entry, or of the nearest parent that exists."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, Place(self.file, 1))


def read_yaml(path: Path, shown: str, house: Path | None = None) -> tuple[Source | None, list[Problem]]:
    """Read one file of the folder `house`, else of its own; `shown` is its name in messages. None where it cannot be
    read."""
    text, problems = read_file(
        path, shown, house or path.parent, remedy="Split it; every *.yml in the folder is read"
    )
    return read_yaml_text(text, shown) if text is not None else (None, problems)


def read_yaml_text(text: str, shown: str, first_line: int = 1) -> tuple[Source | None, list[Problem]]:
    """Read YAML text whose first line is line `first_line` of the file `shown`."""
    hidden = _hidden_line_end(text, shown, first_line)
    if hidden is not None:
        return None, [hidden]
    loader = yaml.SafeLoader(text) if not hasattr(yaml, "CSafeLoader") else yaml.CSafeLoader(text)
    reading = _Reading(loader, text, shown, first_line)
    try:
        reading.whole()
    except _TooMuch as refused:
        return None, [refused.problem]
    except yaml.YAMLError as error:
        return None, [_syntax(text, error, shown, first_line)]
    except (RecursionError, ValueError) as error:
        return None, [
            _refusal(shown, first_line, f"the YAML cannot be read ({error})", "", "Simplify this file")
        ]
    finally:
        loader.dispose()
    return reading.source, reading.problems


def _hidden_line_end(text: str, shown: str, first_line: int) -> Problem | None:
    """A character that YAML takes for the end of a line and no editor shows: what stands behind it in a comment counts."""
    found = _LINE_ENDS.search(text)
    if found is None:
        return None
    line = first_line + text.count("\n", 0, found.start())
    return unseen_character(found.group(), shown, line, "file")


@dataclass(frozen=True)
class Mark:
    """A piece of a YAML text: `scalar`, `mapping`, `list` or `end`, where it begins and ends (line, column from 0), and
    how it is written: in brackets (`flow`), as lines of text (`block`).
    """

    kind: Literal["scalar", "mapping", "list", "end"]
    start: tuple[int, int]
    end: tuple[int, int]
    text: str = ""
    flow: bool = False
    block: bool = False


def marks_of(text: str) -> Iterator[Mark]:
    """The pieces of a text that `read_yaml_text` read without a problem, in their order."""
    kinds: dict[type, Literal["scalar", "mapping", "list", "end"]] = {
        yaml.ScalarEvent: "scalar",
        yaml.MappingStartEvent: "mapping",
        yaml.SequenceStartEvent: "list",
        yaml.MappingEndEvent: "end",
        yaml.SequenceEndEvent: "end",
    }
    events: Iterator[Any] = yaml.parse(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    for event in events:
        if type(event) in kinds:
            start, end = event.start_mark, event.end_mark
            yield Mark(
                kinds[type(event)],
                (start.line, start.column),
                (end.line, end.column),
                str(getattr(event, "value", "")),
                bool(getattr(event, "flow_style", False)),
                getattr(event, "style", None) in ("|", ">"),
            )


class _TooMuch(Exception):  # noqa: N818 - a bound that was reached
    """Carries the problem; nothing more is read of the file."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(str(problem))
        self.problem = problem


class _Reading:
    """One text on its way from events to plain data. No tree of nodes is built and nothing is resolved.

    Bounds are looked at event by event, so that a hostile file costs no memory. Aliases are refused whole.
    """

    def __init__(self, loader: Any, text: str, shown: str, first_line: int) -> None:
        self._next_event, self._shown, self._first = loader.get_event, shown, first_line
        self._count = self._depth = 0
        self.source = Source(file=shown, texts={shown: text})
        self.problems: list[Problem] = []

    def whole(self) -> None:
        """The one document of the text, into `source`."""
        self._event()  # the stream begins
        if not isinstance(self._event(), yaml.DocumentStartEvent):
            return
        self.source.data = self._value(self._event(), ())
        self._event()  # the document ends
        another = self._event()
        if not isinstance(another, yaml.StreamEndEvent):
            raise yaml.MarkedYAMLError(problem="but found another document", problem_mark=another.start_mark)

    def _event(self) -> Any:
        event = self._next_event()
        self._count += 1
        if isinstance(event, yaml.NodeEvent):
            if event.anchor is not None:  # an alias has one too
                raise self._too_much(
                    event,
                    "an anchor (&) or alias (*) is used",
                    "Each value is written where it counts",
                    "Write the value out",
                )
            if isinstance(event, yaml.CollectionStartEvent):
                self._depth += 1
                if self._depth > MAX_DEPTH:
                    raise self._too_much(
                        event, f"entries are nested over {MAX_DEPTH} deep", "", "Flatten this part"
                    )
        elif isinstance(event, yaml.CollectionEndEvent):
            self._depth -= 1
        if self._count > MAX_NODES:
            raise self._too_much(event, f"the file has over {MAX_NODES} entries", "", "Split the file")
        return event

    def _too_much(self, event: Any, what: str, allowed: str, remedy: str) -> _TooMuch:
        return _TooMuch(_refusal(self._shown, self._line(event), what, allowed, remedy))

    def _line(self, event: Any) -> int:
        return self._first + int(event.start_mark.line)

    def _refuse(self, line: int, what: str, allowed: str, remedy: str, path: Path_, code: str = "") -> None:
        self.problems.append(_refusal(self._shown, line, what, allowed, remedy, dotted(path), code))

    def _value(self, event: Any, path: Path_) -> Any:
        """What begins with this event, read to its end; None where it is refused or nothing is written."""
        line = self._line(event)
        self.source.places.setdefault(path, Place(self._shown, line))
        if event.tag not in _PLAIN_TAGS:
            self._refuse(
                line, f"the YAML tag {event.tag} is used", "Tags are not read", "Write plain text", path
            )
            self._pass_over(event)
            return None
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event, line, path)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(path)
        return self._sequence(path)

    def _scalar(self, event: Any, line: int, path: Path_) -> str | None:
        text = str(event.value)
        if UNSEEN.search(text):
            self._tell_unseen(text, line, path)
            return None
        plain_empty = not event.style and text in ("", "~", "null")
        return None if plain_empty else text

    def _sequence(self, path: Path_) -> list[Any]:
        items: list[Any] = []
        while not isinstance(event := self._event(), yaml.SequenceEndEvent):
            items.append(self._value(event, (*path, len(items))))
        return items

    def _mapping(self, path: Path_) -> dict[str, Any]:
        result: dict[str, Any] = {}
        while not isinstance(event := self._event(), yaml.MappingEndEvent):
            key = self._key(event, path, result)
            value = self._event()
            if key is None:
                self._pass_over(value)
                continue
            here = (*path, key)
            self.source.places[here] = Place(self._shown, self._line(event))
            result[key] = self._value(value, here)
        return result

    def _key(self, event: Any, path: Path_, before: dict[str, Any]) -> str | None:
        """The name that begins with this event; None where it is refused."""
        line = self._line(event)
        if not isinstance(event, yaml.ScalarEvent):
            self._refuse(
                line,
                "a list or mapping stands as a name",
                "Names are plain text",
                "Write a name before the colon",
                path,
            )
            self._pass_over(event)
            return None
        key = str(event.value)
        if UNSEEN.search(key):
            self._tell_unseen(key, line, path)
            return None
        if key in before:
            first = self.source.places[(*path, key)].line
            self._refuse(
                line,
                f"{key} stands here a second time (first at line {first})",
                "Each name is written once",
                "Remove one of the two",
                (*path, key),
                "E32",
            )
            return None
        return key

    def _tell_unseen(self, text: str, line: int, path: Path_) -> None:
        unseen = unseen_character(text, self._shown, line, dotted(path))
        self.problems += [unseen] if unseen is not None else []

    def _pass_over(self, event: Any) -> None:
        """Read to the end of what begins with this event; it was refused."""
        within = 0
        while True:
            if isinstance(event, yaml.CollectionStartEvent):
                within += 1
            elif isinstance(event, yaml.CollectionEndEvent):
                within -= 1
            if within == 0:
                return
            event = self._event()


def unseen_character(text: str, shown: str, line: int, key: str) -> Problem | None:
    """A character nobody sees that breaks a line or turns the order of numbers; letters of any script are welcome."""
    found = UNSEEN.search(text)
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


def _syntax(text: str, error: yaml.YAMLError, shown: str, first_line: int) -> Problem:
    for number, line in enumerate(text.split("\n"), start=first_line):
        unseen = unseen_character(line, shown, number, "file")
        if unseen is not None:
            return unseen
    slip = slip_of(text, *_lines_of(error), _gives_up_at)
    return _refusal(shown, first_line + slip.line, slip.what, "", slip.remedy)


def _lines_of(error: yaml.YAMLError) -> tuple[int, int]:
    """Where YAML gave up, and where began what it was reading then."""
    at = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    began = getattr(error, "context_mark", None) or at
    return (0, 0) if at is None or began is None else (at.line, began.line)


def _gives_up_at(text: str) -> float:
    """The line at which YAML gives up, or at which a second document begins; beyond all lines where it does not."""
    try:
        documents = 0
        for event in yaml.parse(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)):
            documents += isinstance(event, yaml.DocumentStartEvent)
            if documents > 1:
                return float(event.start_mark.line) if event.start_mark is not None else 0
    except yaml.YAMLError as error:
        return _lines_of(error)[0]
    except (RecursionError, ValueError):
        return 0
    return float("inf")


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


def human_path(source: Source, path: Path_) -> str:
    """A path with list positions replaced by the id, name or role of the item there."""
    text = ""
    data: Any = source.data
    for step in path:
        there = (
            step in data if isinstance(data, dict) else isinstance(data, list) and step in range(len(data))
        )
        data = data[step] if there else None
        if isinstance(step, int):
            named = (
                next((data[n] for n in ("id", "name", "role", "botanical") if n in data), None)
                if isinstance(data, dict)
                else None
            )
            text += f"[{named or step}]"
        else:
            text += f".{step}" if text else step
    return text
