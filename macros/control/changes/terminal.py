"""The change list as lines for a terminal: counts, each item with its differences, what follows, what to type next."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict, replace
from itertools import groupby, zip_longest

from macros.control.changes.changes import ChangeList, ExplainedDifference, ItemChange, ThingChange
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


def changes_json(changes: ChangeList) -> str:
    """The list for a program: keys sorted, the same bytes on every run."""
    return json.dumps(asdict(changes), sort_keys=True, ensure_ascii=False, indent=1) + "\n"


def summary(changes: ChangeList) -> str:
    """The list in one line of counts."""
    if changes.nothing:
        return "Nothing waits: everything prints as it was issued."
    if not (changes.items or changes.things):
        return f"Nothing waits to be issued{' or printed again' if changes.compared else ''}."
    pieces = []
    if changes.items:
        count = Counter(one.verdict for one in changes.items)
        verdicts = [
            f"{count[one]} {re.split('[;:]', name)[0]}" for one, name in VERDICTS.items() if count[one]
        ]
        pieces.append(f"{_count(len(changes.items), 'controlled item')} ({', '.join(verdicts)})")
    for kind in SHEET_KINDS.values():
        if changes.of_kind(kind.name):
            pieces.append(_count(len(changes.of_kind(kind.name)), kind.name, kind.several))
    if changes.sign_offs:
        pieces.append(_count(len(changes.sign_offs), "sign-off"))
    return f"Waiting: {', '.join(pieces)}."


def change_lines(changes: ChangeList, house: House, folder: str = "") -> Iterator[str]:
    """The whole list. `folder` is what `--house` needs, empty for the folder at hand."""
    yield summary(changes)
    if not changes.compared:
        yield (
            "There is no earlier print to compare with: every sheet, card, label and question is new. "
            "The list begins with the next issue, or now: trayside changes --seen."
        )
    yield from _items(changes.items)
    for kind in SHEET_KINDS.values():
        yield from _kind(kind.head, changes.of_kind(kind.name))
    for void, head in (
        (True, "Sign-offs that are void once the page is issued"),
        (False, "Sign-offs to be looked at"),
    ):
        if found := changes.signed_off(void=void):
            yield f"{head}: {', '.join(found)}."
    if changes.pages:
        names = ", ".join(one.address or one.key for one in changes.pages)
        yield f"Pages and files of the site that read otherwise; a build is enough: {names}."
    for cause in changes.unseen:
        yield f"{cause.text}, and prints the same everywhere: no re-issue."
    commands = [f"  {command}" for command in next_commands(changes, house, folder)]
    yield from ("Next:", *commands) if commands else ()


def next_commands(changes: ChangeList, house: House, folder: str = "") -> Iterator[str]:
    """What to type, in its order."""
    where = f" --house {folder}" if folder else ""
    yield from _issues(changes.items, house, where)
    if changes.nothing:
        return
    yield f"trayside build{where}"
    yield from (f"trayside pack {pack}{where}" for pack in _packs(changes))
    items = {one.key for one in changes.items}
    if any(not set(one.waits_for) & items for one in changes.things) or changes.unseen or not changes.items:
        yield f"trayside changes --seen{where}    (once the things that wait for no issue are printed)"


def _issues(items: Sequence[ItemChange], house: House, where: str) -> Iterator[str]:
    """The commands that issue and review; a correction of wording has its own, so `--all` would take it along."""
    role = next((person.role for person in house.people if person.level >= TRAINER), "ROLE")
    by = f' --by {role} --why "..."{where}'
    keys: dict[str, list[str]] = {"issue": [], "wording": [], "review due": [], "gone": []}
    for one in items:
        keys[one.verdict if one.verdict in keys else "issue"].append(one.key)
    if len(keys["issue"]) > MOST_NAMED and not keys["wording"]:
        yield f"trayside issue --all{by}"
    elif keys["issue"]:
        yield f"trayside issue {' '.join(keys['issue'])}{by}"
    if keys["wording"]:
        yield f"trayside issue {' '.join(keys['wording'])} --same-meaning{by}"
    if keys["review due"]:
        yield f"trayside issue {' '.join(keys['review due'])} --by {role} --reviewed{where}"


def _packs(changes: ChangeList) -> list[str]:
    """The packs that print what is to be printed again, each once."""
    found: list[str] = []
    for thing in changes.things:
        if thing.state != "gone":
            found += SHEET_KINDS[thing.kind].packs(thing.key, thing.waits_for)
    if any(one.kind == "card" and one.verdict not in ("gone", "review due") for one in changes.items):
        found.append("cards")
    if any(one.hangs for one in changes.items):
        found.append("control")
    return list(dict.fromkeys(found))


def _items(items: Sequence[ItemChange]) -> Iterator[str]:
    never = [item.key for item in items if item.verdict == NEVER]
    if never:
        yield f"Never issued: {', '.join(never)}."
    for item in items:
        if item.verdict != NEVER:
            yield from _item(item)


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


def _differences(differences: Iterable[ExplainedDifference]) -> Iterator[str]:
    """Each difference; what made several in a row is told once, below them."""
    told = list(shortened(differences))
    for one, after in zip_longest(told, told[1:]):
        yield f"  {one.place}: {one.old or 'nothing'} -> {one.new or 'nothing'}"
        if after is None or after.reasons.text != one.reasons.text:
            yield f"      because of {one.reasons.text}"


def shortened(differences: Iterable[ExplainedDifference]) -> Iterator[ExplainedDifference]:
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


def _thing(one: ExplainedDifference) -> str:
    """What a line belongs to: `question ec_swap` of `question ec_swap: answer`."""
    return one.place.partition(":")[0]


def _whole(rows: list[ExplainedDifference]) -> list[ExplainedDifference]:
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


def _count(number: int, one: str, several: str = "") -> str:
    return f"{number} {one if number == 1 else several or one + 's'}"
