"""The change list: all that prints otherwise than when it was last issued or taken, why, and what is to be done.

Nothing on it is lost: an item stays until it is issued, a thing until the items it follows from are, and what waits for
no issue until the owner says that the list was seen to.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from macros.amounts import Register
from macros.control.changes.baseline import Baseline, BaselineEntry, Inputs, inputs_of, read_baseline
from macros.control.changes.causes import Cause, Causes, Reasons
from macros.control.changes.uncontrolled_things import PrintedThing
from macros.control.documents.controlled_documents import ControlledDocument
from macros.control.documents.issued_copies import Archive, snapshot_of
from macros.control.documents.judge_change import Difference, Judgement, judge_change, line_differences
from macros.control.documents.place_words import place_in_words
from macros.control.documents.reviews import review_standings
from macros.control.documents.wall_copies import copies_of, hanging
from macros.ground.problems import Problem
from macros.house.files.facts_as_written import written_facts
from macros.manual.pages.values_code import issues_of, last_issue
from macros.manual.procedures.load_files import ProcedureFile
from macros.page_model.checklist import ChecklistView
from macros.page_model.page import PageView
from macros.training.path.sign_offs import shown_name, standings


@dataclass(frozen=True)
class ExplainedDifference:
    """One difference in words: where, what it was, what it is, what it means, and the inputs that made it."""

    place: str
    old: str
    new: str
    means: str
    reasons: Reasons


@dataclass(frozen=True)
class ItemChange:
    """A controlled item that waits. `verdict` is `re-issue`, `wording`, `first issue`, `review due`, `gone`, or
    `not known`.

    `not known` is a change since an issue that kept no lines. `hangs` tells where its copies hang.
    """

    key: str
    kind: str
    title: str
    address: str
    revision: str
    verdict: str
    retrain: bool
    differences: tuple[ExplainedDifference, ...] = ()
    hangs: tuple[str, ...] = ()


@dataclass(frozen=True)
class ThingChange:
    """A thing that prints otherwise: `state` is `changed`, `new` or `gone`. `waits_for` are the items it follows."""

    key: str
    kind: str
    title: str
    address: str
    state: str
    waits_for: tuple[str, ...]
    differences: tuple[ExplainedDifference, ...] = ()


@dataclass(frozen=True)
class SignOffChange:
    """A sign-off in force that a waiting page touches: void once it is issued, or to be looked at."""

    who: str
    page: str
    revision: int
    void: bool


@dataclass(frozen=True)
class ChangeList:
    """The whole list. `unseen` are inputs that changed and print the same everywhere.

    `compared` is no where the house has no baseline, so that nothing but its items can be compared.
    """

    compared: bool
    items: tuple[ItemChange, ...] = ()
    things: tuple[ThingChange, ...] = ()
    pages: tuple[ThingChange, ...] = ()
    sign_offs: tuple[SignOffChange, ...] = ()
    unseen: tuple[Cause, ...] = ()

    @property
    def nothing(self) -> bool:
        """Whether all prints as it was issued."""
        return self.compared and not (self.items or self.things or self.pages or self.unseen)

    def signed_off(self, *, void: bool) -> list[str]:
        """Who is signed off on which waiting page: what a re-issue voids, or what is to be looked at."""
        return [f"{one.who} on {one.page}" for one in self.sign_offs if one.void == void]

    def of_kind(self, kind: str) -> tuple[ThingChange, ...]:
        """The things of one kind."""
        return tuple(one for one in self.things if one.kind == kind)


def comparison(
    register: Register, procedures: Sequence[ProcedureFile], house_folder: Path, archive: Archive
) -> Comparison:
    """The manual at hand beside what its house issued and printed last, as the house folder keeps it."""
    inputs = inputs_of(register, procedures)
    files = {file.id: file.file for file in procedures}
    baseline, unread = read_baseline(house_folder)
    return Comparison(register, baseline, inputs, archive, files, unread)


def item_thing(item: ControlledDocument) -> PrintedThing:
    """A controlled item among the things: only the inputs it was issued with are kept of it."""
    return PrintedThing(item.key, item.kind, item.title, item.address, (item.key,), (), kept=False)


class Comparison:
    """What all parts of one change list share."""

    def __init__(
        self,
        register: Register,
        baseline: Baseline | None,
        inputs: Inputs,
        archive: Archive,
        procedures: Mapping[str, str],
        unread: Sequence[Problem] = (),
    ) -> None:
        """`procedures` holds the file of each procedure by its id; `unread` says why there is no baseline."""
        self.unread = unread
        self.register, self.house, self.archive = register, register.house, archive
        self.baseline, self.inputs, self.procedures = baseline or Baseline(), inputs, procedures
        self.compared = baseline is not None and bool(baseline.things)
        self._facts = written_facts(self.house)
        self._causes: dict[str, Causes] = {}

    def with_baseline(self, baseline: Baseline) -> Comparison:
        """The same manual beside another baseline."""
        return Comparison(self.register, baseline, self.inputs, self.archive, self.procedures)

    def changes(
        self,
        items: Sequence[ControlledDocument],
        things: Iterable[PrintedThing],
        pages: Iterable[PrintedThing] | None,
        *,
        names: bool,
    ) -> ChangeList:
        """The list. `names` shows initials of who signed; without `pages` those of the site are not compared."""
        waiting = (*self._items(items), *self._gone_items(items))
        made, of_site = self._known_things({item.key for item in items})
        same = self.baseline.all_from(self.inputs)
        changed = self._things(things, made) if self.compared and not same else ()
        told = {one.address for one in waiting} | {one.address for one in changed if one.kind == "questions"}
        # Even from the same inputs: pages of the site tell the lines facts stand on.
        read = self._things(pages, of_site) if self.compared and pages is not None else ()
        return ChangeList(
            self.compared,
            waiting,
            changed,
            tuple(one for one in read if one.address not in told),
            self._sign_offs(items, waiting, names=names),
            self._unseen((*waiting, *changed)),
        )

    def _known_things(self, items: set[str]) -> tuple[dict[str, BaselineEntry], dict[str, BaselineEntry]]:
        """What was taken beside the items: the things that are printed, and the pages and files of the site."""
        made: dict[str, BaselineEntry] = {}
        of_site: dict[str, BaselineEntry] = {}
        for key, one in self.baseline.things.items():
            if key not in items and one.kind not in _ITEMS:
                (of_site if one.kind in _SITE else made)[key] = one
        return made, of_site

    # ------------------------------------------------------------- items

    def _items(self, items: Sequence[ControlledDocument]) -> tuple[ItemChange, ...]:
        standing = review_standings(self.house, (item.key for item in items))
        found = []
        for item in items:
            last = last_issue(self.house, item.key)
            due = standing.get(item.key)
            review = None
            if due is not None and due.is_due(self.register.built_for):
                review = (due.due, self.register.built_for)
            if last is not None and last.values_code == item.control.values_code and review is None:
                continue
            found.append(self._item(item, review))
        return tuple(one for one in found if one is not None)

    def _item(self, item: ControlledDocument, review: tuple[date, date] | None) -> ItemChange | None:
        last = last_issue(self.house, item.key)
        change = ItemChange(
            item.key,
            item.kind,
            item.title,
            item.address,
            item.control.revision,
            "first issue",
            retrain=False,
            hangs=tuple(hanging(self.house, copy) for copy in copies_of(self.house, item.key)),
        )
        if last is None:
            return change
        now = snapshot_of(item.view, last.revision, self.register)
        same = last.values_code == item.control.values_code
        issued = now if same else self.archive.of(last, issues_of(self.house, item.key))
        if issued is None:
            return replace(change, verdict="not known", retrain=True)
        judged: Judgement = judge_change(issued, now, review)
        if judged.verdict == "none":
            return None
        differences = tuple(
            self._told(one, item.key, documents_of(item), item.view) for one in judged.differences
        )
        verdict = "review due" if same else judged.verdict
        return replace(change, verdict=verdict, retrain=judged.retrain, differences=differences)

    def _gone_items(self, items: Sequence[ControlledDocument]) -> tuple[ItemChange, ...]:
        there = {item.key for item in items}
        gone = {
            key: one for key, one in self.baseline.things.items() if one.kind in _ITEMS and key not in there
        }
        return tuple(
            ItemChange(
                key, one.kind, one.title, "", str(last.revision) if (last := last_issue(self.house, key)) else "0",
                "gone", retrain=False, hangs=tuple(hanging(self.house, copy) for copy in copies_of(self.house, key)),
            )
            for key, one in gone.items()
        )  # fmt: skip

    # ------------------------------------------------------------- things

    def _things(
        self, things: Iterable[PrintedThing], known: Mapping[str, BaselineEntry]
    ) -> tuple[ThingChange, ...]:
        found = []
        left = dict(known)
        for thing in things:
            old = left.pop(thing.key, None)
            if old is not None and old.code == thing.code:
                continue
            differences: tuple[ExplainedDifference, ...] = ()
            if old is not None and old.lines:
                documents = [document_of(page) for page in thing.pages]
                differences = tuple(
                    self._told(one, thing.key, documents) for one in line_differences(old.lines, thing.lines)
                )
            state = "new" if old is None else "changed"
            found.append(
                ThingChange(
                    thing.key, thing.kind, thing.title, thing.address, state, thing.pages, differences
                )
            )
        found += [ThingChange(key, one.kind, one.title, "", "gone", one.pages) for key, one in left.items()]
        return tuple(found)

    # ------------------------------------------------------------- people

    def _sign_offs(
        self, items: Sequence[ControlledDocument], waiting: Sequence[ItemChange], *, names: bool
    ) -> tuple[SignOffChange, ...]:
        changed = {one.key: one for one in waiting if one.kind == "page" and one.verdict != "review due"}
        views = [item.view for item in items if isinstance(item.view, PageView) and item.key in changed]
        return tuple(
            SignOffChange(
                shown_name(self.house, one.entry.who, names),
                one.page.key,
                one.entry.revision,
                void=changed[one.page.key].retrain,
            )
            for one in standings(self.register, views)
            if one.state != "void"
        )

    # ------------------------------------------------------------- why

    def _told(
        self, one: Difference, key: str, documents: Sequence[str], view: object = None
    ) -> ExplainedDifference:
        due = one.kind == "review"
        reasons = (
            Reasons((Cause("the day", "", one.old, one.new),)) if due else self._why(key).of(one, documents)
        )
        return ExplainedDifference(place_in_words(one.place, view), one.old, one.new, one.why, reasons)

    def _why(self, key: str) -> Causes:
        """What changed since the thing was taken; since the newest baseline where it never was."""
        taken = self.baseline.things.get(key)
        return self._causes_since(
            taken.inputs if taken else max(self.baseline.inputs, default="", key=self._age)
        )

    def _causes_since(self, code: str) -> Causes:
        if code not in self._causes:
            old = self.baseline.inputs.get(code, self.inputs)
            self._causes[code] = Causes(self.register, self._facts, self.procedures, old, self.inputs)
        return self._causes[code]

    def _age(self, code: str) -> str:
        return self.baseline.inputs[code].day

    def _unseen(self, changes: Sequence[ItemChange | ThingChange]) -> tuple[Cause, ...]:
        """Inputs that changed and are the cause of no difference."""
        if not self.compared:
            return ()
        changed = [set(self._causes_since(code).all) for code in self.baseline.inputs]
        causes = set.intersection(*changed)  # what is no change to something issued since was seen to
        if any(one.state in ("new", "gone") for one in changes if isinstance(one, ThingChange)):
            return ()
        seen = {cause for one in changes for told in one.differences for cause in told.reasons.causes}
        untold = any(not one.differences for one in changes if isinstance(one, ItemChange))
        return () if untold else tuple(sorted(causes - seen))


_ITEMS = ("page", "checklist", "card")
_SITE = ("page of the site", "file")


def documents_of(item: ControlledDocument) -> list[str]:
    """The procedures an item is made of."""
    if isinstance(item.view, PageView):
        return [item.view.document]
    pages = (
        item.view.pages if isinstance(item.view, ChecklistView) else [one.page for one in item.view.sources]
    )
    return [document_of(page) for page in pages]


def document_of(key: str) -> str:
    """`SOP-08` of the page `SOP-08-A`."""
    return "-".join(key.split("-")[:2])
