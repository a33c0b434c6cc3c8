"""The impact list as lines for a terminal: counts, each item with its differences, what follows, what to type next."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, replace
from itertools import groupby, zip_longest

from macros.control.changes.changes import Impact, ItemChange, ThingChange, Told
from macros.control.changes.sheet_kinds import SHEET_KINDS
from macros.house import House
from macros.house.rules.people import TRAINER

MOST_NAMED = 8
"""Keys in one command; more are named by `--all`."""

NEVER = "first issue"
VERDICTS = {
    "re-issue": "re-issue",
    "wording": "wording only",
    NEVER: "never issued",
    "review due": "review due: read it again",
    "not known": "changed; its last issue kept no lines, so what changed is not known",
    "gone": "no longer in the manual: withdraw it",
}
"""What a verdict is called."""

MOST_ROWS = 6
"""Rows of one table or list that are told one by one; of more the first three and the last."""
CONTEXT, LONG = 30, 90
"""Characters around what differs, in a text longer than so many."""
_NUMBERED = re.compile(r"\W*\(?\d+\)?$")


def impact_json(impact: Impact) -> str:
    """The list for a program: keys sorted, the same bytes on every run."""
    return json.dumps(asdict(impact), sort_keys=True, ensure_ascii=False, indent=1) + "\n"


def summary(impact: Impact) -> str:
    """The list in one line of counts."""
    if impact.nothing:
        return "Nothing waits: everything prints as it was issued."
    if not (impact.items or impact.things):
        return f"Nothing waits to be issued{' or printed again' if impact.compared else ''}."
    verdicts = ", ".join(
        f"{sum(one.verdict == verdict for one in impact.items)} {name.partition(';')[0].partition(':')[0]}"
        for verdict, name in VERDICTS.items()
        if any(one.verdict == verdict for one in impact.items)
    )
    items = f"{_count(len(impact.items), 'controlled item')} ({verdicts})"
    pieces = [items] if impact.items else []
    pieces += [
        _count(len(impact.of_kind(kind.name)), kind.name, kind.several)
        for kind in SHEET_KINDS.values()
        if impact.of_kind(kind.name)
    ]
    if impact.sign_offs:
        pieces.append(_count(len(impact.sign_offs), "sign-off"))
    return f"Waiting: {', '.join(pieces)}."


def impact_lines(impact: Impact, house: House, folder: str = "") -> Iterator[str]:
    """The whole list. `folder` is what `--house` needs, empty for the folder at hand."""
    yield summary(impact)
    if not impact.compared:
        yield (
            "There is no earlier print to compare with: every sheet, card, label and question is new. "
            "The list begins with the next issue, or now: trayside changes --seen."
        )
    never = [item.key for item in impact.items if item.verdict == NEVER]
    if never:
        yield f"Never issued: {', '.join(never)}."
    for item in impact.items:
        if item.verdict != NEVER:
            yield from _item(item)
    for kind in SHEET_KINDS.values():
        yield from _kind(kind.head, impact.of_kind(kind.name))
    yield from _sign_offs(impact)
    if impact.pages:
        names = ", ".join(one.address or one.key for one in impact.pages)
        yield f"Pages and files of the site that read otherwise; a build is enough: {names}."
    for cause in impact.unseen:
        yield f"{cause.text}, and prints the same everywhere: no re-issue."
    commands = list(next_commands(impact, house, folder))
    if commands:
        yield "Next:"
        yield from (f"  {command}" for command in commands)


def next_commands(impact: Impact, house: House, folder: str = "") -> Iterator[str]:
    """What to type, in its order."""
    where = f" --house {folder}" if folder else ""
    role = next((person.role for person in house.people if person.level >= TRAINER), "ROLE")
    by = f' --by {role} --why "..."{where}'
    reviews = [one.key for one in impact.items if one.verdict == "review due"]
    wording = [one.key for one in impact.items if one.verdict == "wording"]
    issued = [
        one.key for one in impact.items if one.verdict != "gone" and one.key not in (*reviews, *wording)
    ]
    if len(issued) > MOST_NAMED and not wording:
        yield f"trayside issue --all{by}"
    elif issued:
        yield f"trayside issue {' '.join(issued)}{by}"
    if wording:
        yield f"trayside issue {' '.join(wording)} --same-meaning{by}"
    if reviews:
        yield f"trayside issue {' '.join(reviews)} --by {role} --reviewed{where}"
    if impact.nothing:
        return
    yield f"trayside build{where}"
    yield from (f"trayside pack {pack}{where}" for pack in _packs(impact))
    items = {one.key for one in impact.items}
    if any(not set(one.waits_for) & items for one in impact.things) or impact.unseen or not impact.items:
        yield f"trayside changes --seen{where}    (once the things that wait for no issue are printed)"


def _packs(impact: Impact) -> list[str]:
    """The packs that print what is to be printed again, each once."""
    found: list[str] = []
    for thing in impact.things:
        if thing.state != "gone":
            found += SHEET_KINDS[thing.kind].packs(thing.key, thing.waits_for)
    if any(one.kind == "card" and one.verdict not in ("gone", "review due") for one in impact.items):
        found.append("cards")
    if any(one.hangs for one in impact.items):
        found.append("control")
    return list(dict.fromkeys(found))


def _item(item: ItemChange) -> Iterator[str]:
    again = ", training again" if item.retrain and item.kind == "page" and item.verdict == "re-issue" else ""
    yield f"{item.key} {item.title} (revision {item.revision}): {VERDICTS[item.verdict]}{again}"
    yield from _differences(item.differences)
    if item.hangs:
        yield f"  hangs: {'; '.join(item.hangs)}"


def _kind(head: str, things: Sequence[ThingChange]) -> Iterator[str]:
    if not things:
        return
    yield f"{head}:"
    for one in things:
        state = "" if one.state == "changed" else f" ({one.state})"
        yield f"  {one.title}{state}"
        yield from (f"  {line}" for line in _differences(one.differences))


def _differences(differences: Iterable[Told]) -> Iterator[str]:
    """Each difference; what made several in a row is told once, below them."""
    told = list(shortened(differences))
    for one, after in zip_longest(told, told[1:]):
        yield f"  {one.place}: {one.old or 'nothing'} -> {one.new or 'nothing'}"
        if after is None or after.reasons.text != one.reasons.text:
            yield f"      because of {one.reasons.text}"


def shortened(differences: Iterable[Told]) -> Iterator[Told]:
    """The differences as a person reads them: what is wholly new or gone is one line, long lists are cut, and of long
    texts stand the words around what differs."""
    whole = [row for _, group in groupby(differences, key=_thing) for row in _whole(list(group))]
    for _, group in groupby(whole, key=lambda one: (_NUMBERED.sub("", one.place), one.reasons.text)):
        rows = list(group)
        cut = rows if len(rows) <= MOST_ROWS else [*rows[:3], rows[-1]]
        for number, row in enumerate(cut):
            old, new = around(row.old, row.new)
            place = row.place
            if len(cut) < len(rows) and number == len(cut) - 1:
                place = f"{len(rows) - len(cut)} more, then {place}"
            yield replace(row, place=place, old=old, new=new)


def _thing(one: Told) -> str:
    """What a line belongs to: `question ec_swap` of `question ec_swap: answer`."""
    return one.place.partition(":")[0]


def _whole(rows: list[Told]) -> list[Told]:
    """All lines of one step or question, or one line for all where none of them was there before, or is there now."""
    if len(rows) < 2 or not (all(not one.old for one in rows) or all(not one.new for one in rows)):
        return rows
    name = _thing(rows[0])
    said = next((one for one in rows if one.place in (name, f"{name}: what to do")), rows[0])
    return [replace(said, place=name)]


def around(old: str, new: str) -> tuple[str, str]:
    """Two texts on one line each; where they are long, without the words they share at both ends."""
    old, new = " ".join(old.split()), " ".join(new.split())
    if max(len(old), len(new)) <= LONG or not old or not new:
        return old, new
    head = _shared(old, new)
    tail = _shared(old[head:][::-1], new[head:][::-1])
    return _cut(old, head, len(old) - tail), _cut(new, head, len(new) - tail)


def _shared(one: str, other: str) -> int:
    """Characters two texts have in common from their start."""
    return next(
        (n for n, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other))
    )


def _cut(text: str, start: int, end: int) -> str:
    first = 0 if start <= CONTEXT else text.rfind(" ", 0, start - CONTEXT + 1) + 1
    last = text.find(" ", end + CONTEXT)
    return f"{'... ' if first else ''}{text[first:] if last < 0 else text[first:last]}{'' if last < 0 else ' ...'}"


def _sign_offs(impact: Impact) -> Iterator[str]:
    for void, told in (
        (True, "Sign-offs that are void once the page is issued"),
        (False, "Sign-offs to be looked at"),
    ):
        found = [f"{one.who} on {one.page}" for one in impact.sign_offs if one.void == void]
        if found:
            yield f"{told}: {', '.join(found)}."


def _count(number: int, one: str, several: str = "") -> str:
    return f"{number} {one if number == 1 else several or one + 's'}"
