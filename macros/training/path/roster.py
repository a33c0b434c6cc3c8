"""The roster: who may do which page now, what is due for refresh, what a re-issue voided, who may train.

The site and the printed roster show the same tables; initials stand on the printed one, and on the site only where the
house publishes them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from macros.amounts import Register
from macros.house import House
from macros.house.rules.people import trainers
from macros.manual.house_facts.sign_off_levels import LEVELS
from macros.page_model.page import LinkView, PageView
from macros.page_model.table import Table, TablePage
from macros.training.path.sign_offs import BY_INITIALS, Standing, names_published, shown_name, standings

ADDRESS = "training/roster.html"
NOT_SIGNED = "not signed"
ANYBODY = "anybody"
NOT_YET = "starts on"
MEANINGS = (
    ("alone, trains, beside somebody", "What the sign-off allows, until its day."),
    ("refresh first", "The day of the refresher has passed: beside somebody who has it until then."),
    ("void", "A later revision asks for training again: beside somebody, then sign anew."),
    (
        "look",
        "The page prints other values than its last issue: read what changed with a trainer before the next run.",
    ),
    (NOT_SIGNED, "Beside somebody who has it, whatever the level on file."),
    (ANYBODY, "An emergency page, done at once by whoever is there; its sign-off says who was drilled."),
)


def roster_page(
    register: Register,
    views: Sequence[PageView],
    withdrawn: Mapping[tuple[str, int], LinkView] | None = None,
) -> TablePage:
    """The roster as a page of the site; a sign-off to a revision that was withdrawn leads to it."""
    house = register.house
    names = names_published(house)
    kept = "" if names else " Initials stand on the printed roster only."
    entered = (
        "Who may do which page alone now. A sign-off is to one revision of a page; a re-issue that changes the work "
        f"opens it again. As of {register.built_for}.{kept}"
    )
    without = (
        "No sign-off is entered yet. Write the lines below into a file under site_data, one entry for each person and "
        "page, then build again. who is a role of people or initials; by is the trainer who watched, of level 4."
    )
    return TablePage(
        "Roster",
        entered if house.sign_offs else without,
        roster_tables(register, views, names, withdrawn),
        see=(LinkView("Who may do what: levels and pages", "reference/roles.html"),),
        example="" if house.sign_offs else example(register, views),
    )


def example(register: Register, views: Sequence[PageView]) -> str:
    """How a sign-off is entered, for a page of this house."""
    key = next((view.key for view in views if view.level > 1), views[0].key if views else "SOP-01")
    trainer = next(iter(trainers(register.house, register.built_for)), "owner")
    return (
        "sign_offs:\n"
        f"  - {{who: helper, procedure: {key}, revision: 1, by: {trainer}, when: {register.built_for}}}\n"
        f"  - {{who: QM, procedure: {key}, revision: 1, by: {trainer}, when: {register.built_for}, level: 4,"
        f" runs: [{register.built_for}]}}\n"
    )


def roster_tables(
    register: Register,
    views: Sequence[PageView],
    names: bool,
    withdrawn: Mapping[tuple[str, int], LinkView] | None = None,
) -> tuple[Table, ...]:
    """Every table of the roster; with `names` initials stand in it. Tables without rows are left out on the way out."""
    house = register.house
    known = standings(register, views)

    def who(one: Standing) -> str:
        return shown_name(house, one.entry.who, names)

    def signed_to(one: Standing) -> str | LinkView:
        cited = one.page.key, one.entry.revision
        return (withdrawn or {}).get(cited, f"revision {one.entry.revision}")

    def listed(
        title: str, heads: tuple[str, ...], rows: Iterable[tuple[str | LinkView, ...]], note: str = ""
    ) -> Table:
        return Table(
            title, heads, tuple(dict.fromkeys(rows)), note
        )  # without initials two people may read alike

    return (
        Table("Who may do which page now", *_matrix(register, views, known, names), "The words are explained below the table."),
        Table("What the words mean", ("Word", "Meaning"), (*MEANINGS, *_to_come(register))),
        listed(
            "To be refreshed",
            ("Who", "Page", "Signed on", "Refresh by", "Because", "Now"),
            (
                (
                    who(one), one.page.key, str(one.entry.when), str(one.due), one.why_due,
                    "refresh first" if one.state == "due" else "in force",
                )
                for one in sorted(known, key=lambda one: (one.due, who(one), one.page.key))
                if one.state != "void"
            ),
        ),
        listed(
            "Void by a re-issue: brief and sign anew",
            ("Who", "Page", "Signed to", "Void since", "What changed"),
            (
                (
                    who(one), one.page.key, signed_to(one),
                    f"revision {one.voided_by[0].revision}, {one.voided_by[0].effective}",
                    "; ".join(f"revision {issue.revision}: {issue.why}" for issue in one.voided_by),
                )
                for one in known
                if one.voided_by
            ),
        ),
        listed(
            "To be looked at: the page changed since",
            ("Who", "Page", "Signed to", "Signed on"),
            ((who(one), one.page.key, signed_to(one), str(one.entry.when)) for one in known if one.changed),
            "The page is a draft: it prints other values than its last issue. Issue it, or put the value back.",
        ),
        Table("Who may train", ("Who", "For"), _trainers(register, known, who)),
    )  # fmt: skip


def _to_come(register: Register) -> tuple[tuple[str, str], ...]:
    """What it means that somebody's first day has not come; nothing where everybody is there."""
    if all(person.has_started(register.built_for) for person in register.house.people):
        return ()
    return (
        (
            f"{NOT_YET} and a day",
            "Not in the house before that day: planned for no page, signed off for none.",
        ),
    )


def _trainers(
    register: Register, known: Sequence[Standing], who: Callable[[Standing], str]
) -> tuple[tuple[str, ...], ...]:
    there = trainers(register.house, register.built_for)
    found = {role.replace("_", " "): ["every page"] for role in there}
    for one in known:
        if one.in_force and one.may == "trains":
            found.setdefault(who(one), []).append(one.page.key)
    return tuple((name, ", ".join(dict.fromkeys(pages))) for name, pages in found.items())


def _matrix(
    register: Register, views: Sequence[PageView], known: Sequence[Standing], names: bool
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Pages down, people across. Systems whose cells read alike stand in one row."""
    house = register.house
    named, counted = _columns(house, names)
    by_initials = (BY_INITIALS,) if counted else ()
    heads = ("Page", "Least level", *(shown_name(house, who, True) for who in named), *by_initials)
    grouped: dict[tuple[str, ...], list[PageView]] = {}
    for view in views if named or counted else ():
        cells = _cells(register, view, known, named, counted)
        grouped.setdefault((view.document, LEVELS[view.level], *cells), []).append(view)
    return heads, tuple((_page_name(found), *key[1:]) for key, found in grouped.items())


def _columns(house: House, names: bool) -> tuple[list[str], list[str]]:
    """Those with a column of their own, and those known by initials alone who are counted in one."""
    signed = {house.role_of(entry.who) for entry in house.sign_offs}
    roles = [person.role for person in house.people if person.level > 0 or person.role in signed]
    initials = sorted(signed.difference(person.role for person in house.people))
    return ([*roles, *initials], []) if names else (roles, initials)


def _cells(
    register: Register,
    view: PageView,
    known: Sequence[Standing],
    named: Sequence[str],
    counted: Sequence[str],
) -> list[str]:
    """What each of those named may do on a page, and how many of those counted."""
    own = {one.entry.who: one for one in known if one.page.key == view.key}
    there = trainers(register.house, register.built_for)
    awaited = {
        person.role: f"{NOT_YET} {person.starts}"
        for person in register.house.people
        if not person.has_started(register.built_for)
    }
    cells = [awaited.get(who) or _cell(own.get(who), who in there, view.level == 0) for who in named]
    return (
        [*cells, _counted([own[who] for who in counted if who in own], view.level == 0)] if counted else cells
    )


def _page_name(views: Sequence[PageView]) -> str:
    systems = " and ".join(view.system for view in views if view.system)
    return f"{views[0].document} {views[0].title}{f', {systems}' if systems else ''}"


def _cell(one: Standing | None, trainer: bool, free: bool) -> str:
    """What one person may do on one page; a `free` page is done by anybody, so nobody waits for a sign-off there."""
    if one is None:
        return "trains" if trainer else ANYBODY if free else NOT_SIGNED
    look = "; look: the page changed" if one.changed else ""
    first = f"{ANYBODY}; " if free else ""
    if one.state == "void":
        return f"{first}void since revision {one.voided_by[0].revision}{look}"
    if one.state == "due":
        return f"{first}refresh first, due {one.due}{look}"
    return f"{first}{one.may} until {one.due}{look}"


def _counted(signed: Sequence[Standing], free: bool) -> str:
    """How many of those known by initials may do it, of those who signed."""
    if not signed:
        return ANYBODY if free else NOT_SIGNED
    able = sum(one.in_force and one.may != "beside somebody" for one in signed)
    look = "; look: the page changed" if any(one.changed for one in signed) else ""
    return f"{f'{ANYBODY}; ' if free else ''}{able} of {len(signed)} in force{look}"
