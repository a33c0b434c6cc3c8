"""The questions of `trayside measure`: one a fact, in the order of the sheet, each answer checked and saved at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from macros.ground.problems import Problem, errors_in
from macros.ground.yaml_source import Path_
from macros.house.files.load_house import FOLDER
from macros.house.files.write_fact import NotChanged, Value
from macros.house.records.chemicals import TestStrip
from macros.house.records.systems import Reservoir
from macros.measuring.additions import typed_addition
from macros.measuring.agenda import Asked, agenda, has_no_use
from macros.measuring.answers import addition_explained
from macros.measuring.checked import with_checked
from macros.measuring.facts import Addition, Fact
from macros.measuring.house_files import ChangedMeanwhile, HouseFiles
from macros.measuring.order import Item, of_other_shape
from macros.measuring.rests_on import RestsOn
from macros.measuring.state import State, state_of
from macros.measuring.talk import HELP, Stop, Talk, Undo, Word, plain

_ROUNDS = 20
"""Answers that may hang on one another in one stroke."""
_WHY = {"to fill in": "", "assumed": "assumed", "starter": "the starter's example", "missing": ""}


@dataclass
class _Stroke:
    """What an answer changed: the facts, the texts before, and the question it was given to."""

    facts: frozenset[Path_]
    before: dict[str, str | None]
    at: int


@dataclass
class Dialogue:
    """One sitting at a house.

    Parameters
    ----------
    files : the house; it has no errors
    rests : what its pages rest on
    talk : how it is asked and told
    asked : which facts
    day : the day the amounts are for, ISO; None takes the house's own
    """

    files: HouseFiles
    rests: RestsOn
    talk: Talk
    asked: Asked = field(default_factory=Asked)
    day: str | None = None
    saved: int = 0
    _strokes: list[_Stroke] = field(default_factory=list)
    _told_place: str = ""

    def __post_init__(self) -> None:
        self.now = self._state(self.files.texts)
        self.talk = replace(self.talk, us=self.now.register is not None and self.now.register.house.us)
        self.queue: list[Item] = agenda(self.now, self.rests, self.asked)

    def run(self) -> None:
        """Put every question; ends with the last, or where somebody stops."""
        self.talk.say(HELP)
        self.talk.say(self.progress())
        at = 0
        try:
            while at < len(self.queue) or self._more_asked():
                try:
                    at = self._put(at)
                except Undo:
                    at = self._undo(at)
        except Stop:
            self.talk.say("Stopped. Every answer is saved; the next run goes on from here.")
        self.talk.say(self.progress())

    def _more_asked(self) -> bool:
        """Put behind the others what the answers have opened, as the limit of the drain for another sanitizer."""
        queued = {item.what.path for item in self.queue}
        opened = [
            item
            for item in agenda(self.now, self.rests, self.asked)
            if isinstance(item.what, Fact) and item.what.path not in queued
        ]
        self.queue += opened
        return bool(opened)

    def progress(self) -> str:
        """How much is done, and which pages rest on the owner's own facts alone."""
        asked = [item for item in self.queue if isinstance(item.what, Fact)]
        done = sum(self._is_known(item.what.path) for item in asked)
        own = self.rests.own(self.now.open)
        pages = f"{len(own)} of {len(self.rests.pages)} pages are your own"
        return f"{done} of {len(asked)} facts are yours. {pages}{': ' + ', '.join(own) if own else ''}."

    # ------------------------------------------------------------- questions

    def _put(self, at: int) -> int:
        """Put the question at this place of the order; the place to go on from is returned."""
        item = self.queue[at]
        if isinstance(item.what, Addition):
            self._add(item, at)
            return at + 1
        fact = self.now.facts_at.get(item.what.path)
        if fact is None or not self._is_asked(fact):
            return at + 1
        self._tell_place(item)
        self.talk.tell_fact(fact, self._why(fact), f"{at + 1} of {len(self.queue)}", item.pages)
        typed = self.talk.value(fact, _words(fact))
        if typed is None:
            return at + 1
        return at + 1 if self._answer(fact, typed, at) else at

    def _answer(self, fact: Fact, typed: Value | Word, at: int) -> bool:
        """Do what was answered. False where the question is put again."""
        if typed is Word.OK:
            return self._check_off(fact, at)
        if typed is Word.NONE:
            return self._settle({fact.path: None}, at)
        assert not isinstance(typed, Word)
        facts: dict[Path_, Value | None] = {fact.path: typed, **self._other_sizes(fact, typed)}
        if not self._ask_strips(fact, typed, facts):
            return True
        return self._settle(facts, at)

    def _is_asked(self, fact: Fact) -> bool:
        if any(fact.path in stroke.facts for stroke in self._strokes):
            return False
        return (fact.name in self.now.open or self.asked.is_all) and not has_no_use(self.now, fact)

    def _is_known(self, path: Path_) -> bool:
        fact = self.now.facts_at.get(path)
        return fact is not None and fact.value is not None and fact.name not in self.now.open

    def _why(self, fact: Fact) -> str:
        return _WHY[self.now.open[fact.name].why] if fact.name in self.now.open else ""

    def _tell_place(self, item: Item) -> None:
        if item.place.name != self._told_place:
            self._told_place = item.place.name
            self.talk.say(f"\n== {item.place.name}. {item.place.look}")

    def _other_sizes(self, fact: Fact, typed: Value) -> dict[Path_, None]:
        """The sizes that a tank of another shape has not: they are switched off with the answer."""
        if fact.record is not Reservoir or fact.field != "shape":
            return {}
        of_tank = [one for one in self.now.facts.values() if one.path[:-1] == fact.path[:-1]]
        gone = [one for one in of_tank if one.value is not None and of_other_shape(one, str(typed))]
        if gone:
            self.talk.say(f"  Switched off with it: {', '.join(one.words for one in gone)}.")
        return {one.path: None for one in gone}

    def _add(self, item: Item, at: int) -> None:
        """Ask whether something is added, what it must have, and save it whole; the rest of it is asked next."""
        addition = self.now.additions_at.get(item.what.path)
        if addition is None:
            return
        self._tell_place(item)
        asks = (
            f"{addition.words}: give it now?" if addition.kind == "record" else f"One more {addition.words}?"
        )
        why = addition_explained(addition, self.talk.us) if addition.kind == "record" else ""
        if not self.talk.yes(f"\n{asks} {f'{why} ' if why else ''}[y/N]"):
            return
        added = typed_addition(addition, self.now, self.talk)
        if added is None:
            self.talk.say("  Nothing was written.")
            return
        before = self.saved
        self._settle(added.facts, at)
        if self.saved == before:
            return
        self.queue[at + 1 : at + 1] = self._asked_next(item, added.later)

    def _asked_next(self, item: Item, later: Sequence[Fact]) -> list[Item]:
        """The other facts of what was added, and whether there is one more."""
        queued = {one.what.path for one in self.queue}
        paths = {fact.path for fact in later}
        new: list[Fact | Addition] = [
            one for one in self.now.facts.values() if one.path in paths and one.path not in queued
        ]
        if isinstance(item.what, Addition) and item.what.kind != "record":
            new.append(item.what)
        return [replace(item, what=one, reason="", pages=0) for one in new]

    # ------------------------------------------------------------- strokes

    def _settle(self, facts: dict[Path_, Value | None], at: int) -> bool:
        """Save facts that go together, asking for what does not go with them. False where the question is put again."""
        for _ in range(_ROUNDS):
            try:
                texts = self.files.with_stroke(facts)
            except NotChanged as refused:
                self.talk.say(f"  Not written: {refused}.")
                return True
            would = self._state({**self.files.texts, **texts})
            errors = would.new_errors(self.now)
            if not errors:
                return self._save(facts, texts, would, at)
            problem, needed = _first_asked(errors, would)
            renamed = self._renamed(facts, needed)
            if renamed is not None and needed is not None:
                facts[needed.path] = renamed
                continue
            self.talk.say(f"  {plain(problem)}")
            if needed is None:
                return self._keep(facts, texts, would, at)
            if needed.path not in facts:
                self.talk.say(f"  So {needed.of}: {needed.words} is asked with it. u gives them up.")
                self.talk.tell_fact(needed, self._why(needed))
            typed = self.talk.value_or_none(needed, is_needed=True)
            if typed is None:
                self.talk.say("  Nothing was written.")
                return True
            facts[needed.path] = typed
            if not self._ask_strips(needed, typed, facts):
                return True
        return False

    def _keep(self, facts: dict[Path_, Value | None], texts: dict[str, str], would: State, at: int) -> bool:
        """Save what is right in itself where no answer mends the error, as a tool too coarse for a dose: it is bought later."""
        if would.register is None:
            self.talk.say("  Nothing was written.")
            return False
        self.talk.say(
            "  It is saved all the same: no answer here mends that. Until it is mended no manual is built."
        )
        return self._save(facts, texts, would, at)

    def _ask_strips(self, fact: Fact, typed: Value, facts: dict[Path_, Value | None]) -> bool:
        """A strip that reads something else is another strip: its pads are asked with it, and the others that read
        what it read. False where they are given up.
        """
        if fact.record is not TestStrip or fact.field != "measures" or typed == fact.value:
            return True
        read = [
            one.path[:-1]
            for one in self.now.facts.values()
            if (one.record, one.field, one.value) == (TestStrip, "measures", fact.value)
        ]
        for one in self.now.facts.values():
            if one.path[:-1] not in read or one.path in facts or one.field not in ("measures", "pads"):
                continue
            self.talk.tell_fact(one, "")
            answer = self.talk.value_or_none(one, is_needed=True)
            if answer is None:
                self.talk.say("  Nothing was written.")
                return False
            facts[one.path] = answer
        return True

    def _renamed(self, facts: dict[Path_, Value | None], needed: Fact | None) -> Value | None:
        """What a fact reads that led to a thing by the name it had before this stroke; None where it did not."""
        for path, new in facts.items():
            old = self.now.facts_at.get(path)
            if (
                needed is None
                or old is None
                or old.field not in ("id", "name", "role")
                or needed.path in facts
            ):
                continue
            if isinstance(needed.value, tuple) and old.value in needed.value:
                return tuple(str(new) if one == old.value else one for one in needed.value)
            if needed.value is not None and needed.value == old.value:
                return new
        return None

    def _save(self, facts: dict[Path_, Value | None], texts: dict[str, str], would: State, at: int) -> bool:
        for path in facts:
            fact = would.facts_at.get(path)
            if (
                fact is not None
                and fact.name in would.open
                and fact.field != "basis"
                and fact.value is not None
            ):
                name = self.files.file_of(str(path[0]))
                texts[name] = with_checked(texts.get(name, self.files.texts.get(name, "")), path)
        warnings = [one for one in would.new_problems(self.now) if one.severity == "warning"]
        return self._write(frozenset(facts), texts, at, warnings)

    def _check_off(self, fact: Fact, at: int) -> bool:
        why = self.now.open[fact.name].why if fact.name in self.now.open else None
        if why == "to fill in":
            self.talk.say("  It still waits to be filled in.")
            return False
        if why is None:
            return True
        name = self.files.file_of(str(fact.path[0]))
        text = with_checked(self.files.texts[name], fact.path)
        return self._write(frozenset([fact.path]), {name: text}, at, [])

    def _write(
        self, facts: frozenset[Path_], texts: dict[str, str], at: int, warnings: Sequence[Problem]
    ) -> bool:
        try:
            before = self.files.write(texts)
        except ChangedMeanwhile as refused:
            self.talk.say(f"  {refused} It is read again: give the answer once more.")
            self._read_again()
            return False
        self._strokes.append(_Stroke(facts, before, at))
        self.saved += 1
        self.now = self._state(self.files.texts)
        self.talk.say(f"  Saved in {', '.join(f'{FOLDER}/{name}' for name in texts)}.")
        for one in warnings:
            self.talk.say(f"  Mind: {plain(one)}")
        return True

    def _undo(self, at: int) -> int:
        if not self._strokes:
            self.talk.say("  There is no answer of this run to take back.")
            return at
        last = self._strokes.pop()
        try:
            self.files.write({name: text or "" for name, text in last.before.items()})
        except ChangedMeanwhile as refused:
            self.talk.say(f"  {refused} The answer stays; take it back by hand.")
            self._read_again()
            return at
        self.now = self._state(self.files.texts)
        self.talk.say("  Taken back. The files are as they were before that answer.")
        return last.at

    def _read_again(self) -> None:
        self.files.read()
        self.now = self._state(self.files.texts)
        if self.now.register is None:
            for problem in errors_in(self.now.problems)[:3]:
                self.talk.say(f"  {problem}")
            self.talk.say("  Mend this in the file first.")
            raise Stop

    def _state(self, texts: dict[str, str]) -> State:
        return state_of(self.files.folder, texts, self.day)


def _words(fact: Fact) -> list[Word]:
    """The words that serve for a fact as it stands. Without its basis a record would pass for measured."""
    if fact.value is None:
        return []
    return [Word.OK] if fact.required or fact.field == "basis" else [Word.OK, Word.NONE]


def _first_asked(errors: Sequence[Problem], would: State) -> tuple[Problem, Fact | None]:
    """The first error that a fact answers, and that fact; else the first, and none."""
    for problem in errors:
        fact = would.facts.get(problem.key)
        if fact is not None:
            return problem, fact
    return errors[0], None
