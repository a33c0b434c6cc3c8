"""What a person did who typed a YAML file that cannot be read: the line, in words, and a cure that was tried.

YAML tells where it gave up, often lines after the slip and never in words of whoever keeps a house. Here each slip people make
is undone in a copy of the text; the first cure with which the file reads on past that line is the one that is told.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

MOST_TRIALS = 60
MOST_CHARACTERS = 200_000
"""Bounds on the trying: a larger file is told where YAML gave up, and no more."""

_LINES_BACK = 12
_NAME = r"(?P<before>\s*(?:- +)*[{\[]?)(?P<name>[\w.-]+)"


@dataclass(frozen=True)
class Slip:
    """What is wrong at a line (counted from 0), and what to do about it."""

    line: int
    what: str
    remedy: str


@dataclass(frozen=True)
class _Cure:
    """One way to write a line (counted from 0) anew; `told` is the slip if that is what helps."""

    line: int
    instead: str
    what: str
    remedy: str


def slip_of(text: str, line: int, began: int, gives_up_at: Callable[[str], float]) -> Slip:
    """What the person did who typed a text that cannot be read.

    Parameters
    ----------
    line, began : where reading gave up, and where began what was read then; lines counted from 0
    gives_up_at : the line at which a text cannot be read on; beyond all lines where it is read whole
    """
    lines = text.split("\n")
    line = min(line, len(lines) - 1)
    if len(text) <= MOST_CHARACTERS:
        for cures in _kinds_of_cures(lines, line, min(began, line)):
            helped = _furthest(cures, lines, line, gives_up_at)
            if helped is not None:
                return Slip(helped.line, helped.what, helped.remedy)
    return Slip(
        line,
        "the file cannot be read on from here",
        "Look at this line and the one above: a colon, quote, bracket or indent is out of place",
    )


def _furthest(
    cures: Iterable[_Cure], lines: list[str], line: int, gives_up_at: Callable[[str], float]
) -> _Cure | None:
    """The cure with which the file reads on furthest past the line; None where none helps."""
    helped, reads_to = None, float(line)
    for cure in islice(cures, MOST_TRIALS):
        end = gives_up_at("\n".join([*lines[: cure.line], cure.instead, *lines[cure.line + 1 :]]))
        if end > reads_to:
            helped, reads_to = cure, end
        if end == float("inf"):
            break
    return helped


def _kinds_of_cures(lines: list[str], line: int, began: int) -> Iterator[Iterator[_Cure]]:
    """Each kind of cure, the surest signs first, for the lines where its slip may stand."""
    before = list(range(line + 1))
    written = [number for number in before if lines[number].strip() and lines[number].lstrip()[0] != "#"]
    close = list(reversed(written[-2:])) or [line]
    near = list(reversed([number for number in written if number >= began][-_LINES_BACK:])) or close
    yield _of_lines(_tab, lines, before)
    yield _of_lines(_open_quote, lines, before)
    yield _of_lines(_second_document, lines, close)
    for one in (
        _text_after_quote,
        _mark_at_start,
        _no_space,
        _no_dash_space,
        _colon_in_value,
        _no_colon,
    ):
        yield _of_lines(one, lines, close)
    yield _of_lines(_comma, lines, near)
    yield _of_lines(_colon_in_braces, lines, close)
    yield _of_lines(_open_bracket, lines, list(dict.fromkeys([*near, *close])))
    yield _of_lines(_bracket_too_many, lines, close)
    yield _of_lines(_comma_at_end, lines, near)
    yield _indents(lines, list(dict.fromkeys([*close, began, *near, *written[:1]])))


def _of_lines(
    cures: Callable[[int, str], Iterable[_Cure]], lines: list[str], numbers: Iterable[int]
) -> Iterator[_Cure]:
    for number in numbers:
        yield from cures(number, lines[number])


# ------------------------------------------------------------------ the slips


def _tab(number: int, line: str) -> Iterator[_Cure]:
    indent = line[: len(line) - len(line.lstrip())]
    if "\t" in indent and line.strip():
        remedy = "Put spaces there: two a level, as in the lines above"
        for width in (2, 4, 6, 8):
            mended = indent.replace("\t", " " * width) + line.lstrip()
            yield _Cure(number, mended, "the line begins with a tab", remedy)
    elif "\t" in line:
        yield _Cure(number, line.replace("\t", " "), "a tab stands in the line", "Put a space there")


def _open_quote(number: int, line: str) -> Iterator[_Cure]:
    """A text in quotes that does not end on its line; it may go on as long as it likes, so the cure is tried."""
    for quote in ('"', "'"):
        bare = _without_comment(line)
        if bare.count(quote) % 2 == 0 or (
            quote == "'" and not re.search(r"(^|[:,\[{-] *)'", bare.split('"')[0])
        ):
            continue
        what = (
            f"a quote ({quote}) stands alone in this line: the text in quotes does not end, or does not begin"
        )
        ends = [found.start() for found in re.finditer(r", |[}\]]*,?\s*$", bare)]
        starts = [found.end() for found in re.finditer(r": +|, +|[\[{]", bare)]
        for at in dict.fromkeys([*ends[:20], *starts[:20]]):
            mended = bare[:at] + quote + bare[at:]
            yield _Cure(number, mended, what, "Write a quote at both ends of the text")


def _without_comment(line: str) -> str:
    """The line up to a comment; a # in quotes is none."""
    found = re.match(r"""((?:"[^"]*"|[^"#]|(?<=\S)#)*?)(?:(?<=\s)#[^"]*)?$""", line)
    return found.group(1) if found else line


def _second_document(number: int, line: str) -> Iterator[_Cure]:
    if re.match(r"(---|\.\.\.)", line):
        what = f'"{line.strip()[:20]}" begins a second document, and one is read'
        yield _Cure(number, "", what, "Take the line away")


def _text_after_quote(number: int, line: str) -> Iterator[_Cure]:
    """`"The "big" rack"`, `'Owner's shelf'`: the second quote ends the text."""
    match = re.match(r"""(.*?: +|\s*- +)(["'])(.+)\2(\s*)$""", line)
    if match is None:
        return
    head, quote, inner, after = match.groups()
    if quote not in inner:
        return
    other = "'" if quote == '"' and "'" not in inner else '"'
    mended = head + other + (inner if other != quote else inner.replace(quote, "")).replace(other, "") + other
    what = f"a quote ({quote}) inside the text ends it too early"
    instead = "'single' quotes" if other == "'" else '"double" quotes'
    yield _Cure(
        number, mended + after, what, f"Put the whole text into {instead}, or take the inner quotes away"
    )


def _mark_at_start(number: int, line: str) -> Iterator[_Cure]:
    match = re.match(r"(.*?: +|\s*- +|\s*[\w-]+: *\[ *)([@`%|>&*!?][^,}\]]*?)(\s*[,}\]].*|\s*)$", line)
    if match is not None:
        what = f"the text begins with {match.group(2)[0]}, which means something else in YAML"
        mended = f"{match.group(1)}'{match.group(2)}'{match.group(3)}"
        yield _Cure(
            number, mended, what, f'Take it away, or put the text in quotes: "{_short(match.group(2))}"'
        )


def _no_space(number: int, line: str) -> Iterator[_Cure]:
    match = re.match(_NAME + r":(?P<rest>[^\s:].*)$", line)
    if match is not None:
        name, rest = match.group("name"), match.group("rest")
        mended = f"{match.group('before')}{name}: {rest}"
        yield _Cure(
            number,
            mended,
            f"there is no space after the colon of {name}",
            f"Write it as {name}: {_short(rest)}",
        )


def _no_dash_space(number: int, line: str) -> Iterator[_Cure]:
    match = re.match(r"(\s*)-([\w{].*)$", line)
    if match is not None:
        yield _Cure(
            number,
            f"{match.group(1)}- {match.group(2)}",
            "there is no space after the dash",
            f"Write it as - {_short(match.group(2))}",
        )


def _colon_in_value(number: int, line: str) -> Iterator[_Cure]:
    match = re.match(_NAME + r": +(?P<value>[^\"'\[{\s].*:(?:\s.*|))$", line)
    if match is not None and not re.search(r", [\w-]+: ", match.group("value")):
        name, value = match.group("name"), match.group("value").strip()
        mended = f"{match.group('before')}{name}: '{value.replace(chr(39), '')}'"
        what = f"the text of {name} holds a colon, which begins a new value"
        yield _Cure(number, mended, what, f'Put the text in quotes: {name}: "{_short(value)}"')


def _colon_in_braces(number: int, line: str) -> Iterator[_Cure]:
    """`{phone: office: 555, ...}`: the text goes to the next comma or brace."""
    for found in re.finditer(
        r"(?<=[{,] )([\w-]+): +([^\"'\[\]{},]+: [^,{}\[\]]*)|(?<=\{)([\w-]+): +([^\"'\[\]{},]+: [^,{}\[\]]*)",
        line,
    ):
        name, value = (found.group(1), found.group(2)) if found.group(1) else (found.group(3), found.group(4))
        mended = line[: found.start()] + f"{name}: '{value.replace(chr(39), '')}'" + line[found.end() :]
        what = f"the text of {name} holds a colon, which begins a new value"
        yield _Cure(number, mended, what, f'Put the text in quotes: {name}: "{_short(value)}"')


def _no_colon(number: int, line: str) -> Iterator[_Cure]:
    equal = re.match(_NAME + r"\s*[=;]\s*(?P<rest>.*)$", line)
    if equal is not None:
        name, rest = equal.group("name"), equal.group("rest")
        yield _Cure(
            number,
            f"{equal.group('before')}{name}: {rest}",
            f"{name} has no colon after it",
            f"Write it as {name}: {_short(rest)}".rstrip(),
        )
    match = re.match(_NAME + r"(?P<rest>(?:\s+\S.*)?)$", line)
    if match is not None:
        name, rest = match.group("name"), match.group("rest").strip()
        yield _Cure(
            number,
            f"{match.group('before')}{name}: {rest}",
            f"there is no colon after {name}",
            f"Write it as {name}: {_short(rest)}".rstrip(),
        )


def _comma(number: int, line: str) -> Iterator[_Cure]:
    """Between braces or brackets: the comma after a value, before the next name."""
    what = "a comma is missing between two values in brackets"
    for found in re.finditer(r"(?<=[\w\"'\]}])(?: *;)? +(?=[\w.-]+: |\"|\{)", line):
        name = re.match(r"[\w.-]+", line[found.end() :])
        remedy = f"Put a comma before {name.group()}" if name else "Put a comma between them"
        yield _Cure(number, line[: found.start()] + ", " + line[found.end() :], what, remedy)


def _comma_at_end(number: int, line: str) -> Iterator[_Cure]:
    bare = line.rstrip()
    if bare and not bare.endswith((",", "{", "[", ":")):
        yield _Cure(
            number,
            bare + ",",
            "a comma is missing at the end of this line",
            "Values in brackets go on after a comma",
        )


def _open_bracket(number: int, line: str) -> Iterator[_Cure]:
    for opening, closing in (("{", "}"), ("[", "]")):
        what = f"the bracket {opening} is not closed"
        ends = {len(line.rstrip())} | {found.start() for found in re.finditer(r"[}\]]|, (?=[\w.-]+: )", line)}
        for at in sorted(ends, reverse=True)[:4]:
            yield _Cure(
                number,
                line[:at] + closing + line[at:],
                what,
                f"Write {closing} where the values in it end",
            )


def _bracket_too_many(number: int, line: str) -> Iterator[_Cure]:
    for found in reversed(list(re.finditer(r"[}\]]", line))):
        what = f"the bracket {found.group()} closes nothing"
        yield _Cure(
            number,
            line[: found.start()] + line[found.end() :],
            what,
            "Take it away, or write the bracket that opens",
        )


def _indents(lines: list[str], numbers: list[int]) -> Iterator[_Cure]:
    """A line further in or out than its neighbours."""
    for number in numbers:
        line = lines[number]
        own = len(line) - len(line.lstrip())
        found = []
        for other in (*range(number - 1, -1, -1), *range(number + 1, min(number + 2, len(lines)))):
            if lines[other].strip() and not lines[other].lstrip().startswith("#"):
                dashes = re.match(r"\s*(?:- +)*", lines[other])
                found += [len(dashes.group())] if dashes else []
                found += [len(lines[other]) - len(lines[other].lstrip())]
            if len(set(found)) > 4:
                break
        for width in dict.fromkeys([*found, 0]):
            if width != own:
                what = f"the line begins {_spaces(own)} in, and its neighbours {_spaces(width)}"
                remedy = "Lines of one list of names begin under each other: move it"
                yield _Cure(number, " " * width + line.lstrip(), what, remedy)


def _spaces(count: int) -> str:
    return f"{count} space" if count == 1 else f"{count} spaces"


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:37].rstrip() + "..."
