"""The steps of a job's pages as pieces of work and waits, with what must come before what."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache

from macros.amounts import NotFound, Register
from macros.day_plan.times import wait_of
from macros.day_plan.work import Piece, Work, is_step
from macros.ground.problems import Problem
from macros.manual.procedures.expand_steps import planned_varieties
from macros.page_model.page import PageView, StepView
from macros.published.work import jobs
from macros.published.work.jobs import Job, JobPage, Part


def work_of(job: Job, pages: Sequence[PageView], register: Register, system: str) -> Work:
    """The work of a job on one system, from its finished pages. Problems stand in the result."""
    own = {page.document: page for page in pages if page.system in ("", system)}
    work = Work(job, system)
    ends: dict[str, list[str]] = {}
    for entry in job.pages:
        page = own.get(entry.document)
        if page is None:
            ends |= {part.id: [] for part in entry.parts}
            continue
        _PageWork(work, entry, page, register).add(ends)
    _order_parts(work, ends)
    return work


class _PageWork:
    """One page in the making."""

    def __init__(self, work: Work, entry: JobPage, page: PageView, register: Register) -> None:
        self.work, self.entry, self.page, self.register = work, entry, page, register
        self.waiting: list[tuple[str, int | None]] = []

    def add(self, ends: dict[str, list[str]]) -> None:
        """Enter the page's pieces; `ends` gets the last pieces of each of its parts."""
        by_part = self._steps_of_parts()
        for part in self.entry.parts:
            ends[part.id] = self._part(part, by_part[part.id]) if by_part[part.id] else []

    def _steps_of_parts(self) -> dict[str, list[StepView]]:
        parts = self.entry.parts
        found: dict[str, list[StepView]] = {part.id: [] for part in parts}
        dropped = self._left_out() | self._either()
        current = parts[0]
        for step in self.page.steps:
            assert step.timing is not None
            task = dict(step.timing.keys).get("task", "")
            current = next(
                (
                    part
                    for part in parts
                    if (not part.steps or step.timing.step in part.steps) and part.task in ("", task)
                ),
                current,
            )
            if step.id not in dropped:
                found[current.id].append(step)
        return found

    def _left_out(self) -> set[str]:
        """Steps the job leaves out, each told with its reason; one that is critical or held is a problem."""
        reasons = self.entry.left_out
        dropped: set[str] = set()
        for step in self.page.steps:
            assert step.timing is not None
            reason = reasons.get(step.timing.step)
            if reason is None:
                continue
            if step.critical or step.hold:
                self.work.problems.append(
                    Problem(
                        step.timing.place,
                        f"steps[{step.timing.step}]",
                        f"step {step.number} of {self.page.key} is left out of the {self.work.job.title.lower()}, "
                        "and the page calls it critical",
                        "A critical or held step is never left out of a day",
                        "Take it out of leave_out in macros/published/work/jobs.yml, or ask whether it is critical",
                    )
                )
                continue
            dropped.add(step.id)
            self.work.notes.append(f"{self.page.document} step {step.number} is left out: {reason}.")
        return dropped

    def _either(self) -> set[str]:
        """Of steps that exclude each other the longest stays."""
        dropped: set[str] = set()
        for group in jobs.rules().either:
            found = [step for step in self.page.steps if any(is_step(self.page, step, one) for one in group)]
            if len(found) > 1:
                longest = max(found, key=lambda step: step.minutes)
                dropped |= {step.id for step in found if step is not longest}
                self.work.instead[longest.id] = tuple(s.number for s in found if s is not longest)
                numbers = " or ".join(str(step.number) for step in found)
                self.work.notes.append(
                    f"{self.page.document}: of steps {numbers} one is counted, the longer: {longest.minutes:g} min."
                )
        return dropped

    # ------------------------------------------------------------- parts

    def _part(self, part: Part, steps: list[StepView]) -> list[str]:
        last: list[str] = []
        for number, label in enumerate(self._rounds(part), start=1):
            runs = _runs(self.page, steps, part.together)
            pieces = [
                self._piece(part, run, number, label, first=index == 0) for index, run in enumerate(runs)
            ]
            if part.later:
                self._later(pieces)
                continue
            if self.entry.next_day:
                self.work.next_day += pieces
                continue
            last = self._enter(pieces, last)
        return last

    def _rounds(self, part: Part) -> list[str]:
        """The label of each time the part is done."""
        if part.each == "variety":
            names = planned_varieties(self.register.house, self.work.system)
            return [name.replace("_", " ") for name in names] or [""]
        if part.each == "soak_loads":
            try:
                loads = self.register.get("soak_loads", system=self.work.system, task="parts_soak").rounded
            except NotFound:
                return [""]
            return [""] if loads <= 1 else [f"load {number}" for number in range(1, int(loads) + 1)]
        return [""]

    def _piece(self, part: Part, steps: list[StepView], number: int, label: str, first: bool) -> Piece:
        extras = [jobs.day_facts().extras[name] for name in part.extra] if first and number == 1 else []
        extra = sum(one.minutes for one in extras)
        exact = sum(step.minutes for step in steps)
        timing = steps[0].timing
        assert timing is not None
        own = jobs.rules().by_itself.get(f"{self.page.document}/{timing.step}")
        return Piece(
            id=f"{self.page.document}/{steps[0].id}" + (f"#{number}" if number > 1 else ""),
            part=part,
            page=self.page,
            steps=tuple(steps),
            minutes=extra + (min(own, math.ceil(exact)) if own is not None else math.ceil(exact - 1e-9)),
            hands=2 if any(s.timing and s.timing.two_people for s in steps) else steps[0].hands,
            needs=_needs(steps),
            words=", ".join(one.words for one in extras),
            extra=extra,
            round=number,
            label=label,
        )

    def _enter(self, pieces: list[Piece], last: list[str]) -> list[str]:
        """Enter the pieces of one round in order, each after the one before; gives what ends the round."""
        begins: dict[str, list[str]] = {}
        for piece in pieces:
            own_after = self._own_after(piece, begins)
            for id_ in last if own_after is None else own_after:
                self.work.link(piece.id, id_)
            during = self._during(piece)
            if not during:
                for id_, greatest in self.waiting:
                    self.work.link(piece.id, id_, 0, greatest)
                self.waiting = []
            self.work.pieces.append(piece)
            ends = [piece.id, *self._after_it(piece)]
            last = [*last, *ends] if during else ends
            begins |= {step.id: ends for step in piece.steps}
        return last

    def _own_after(self, piece: Piece, begins: dict[str, list[str]]) -> list[str] | None:
        """What the first step says it waits for itself; None where it says nothing or nothing of this round."""
        named = [begins[name] for name in piece.steps[0].after if name in begins]
        return [id_ for ids in named for id_ in ids] if named else None

    def _during(self, piece: Piece) -> bool:
        """Whether the piece is done inside the wait before it; then it is linked into that wait."""
        timing = piece.steps[0].timing
        assert timing is not None
        share = jobs.rules().during.get(f"{self.page.document}/{timing.step}")
        if share is None or not self.waiting:
            return False
        wait = next(one for one in self.work.pieces if one.id == self.waiting[0][0])
        source = wait.id.rpartition("+")[0]
        links = self.work.links.setdefault(piece.id, [])
        links[:] = [link for link in links if link.activity != wait.id and link.activity != source]
        self.work.link(piece.id, source, math.ceil(share * wait.minutes), wait.minutes)
        return True

    def _after_it(self, piece: Piece) -> list[str]:
        """Enter what follows a piece by itself: its wait, what runs on without hands, and looks inside the wait."""
        step, document = piece.steps[-1], self.page.document
        assert step.timing is not None
        name = f"{document}/{step.timing.step}"
        entered: list[str] = []
        exact = math.ceil(sum(one.minutes for one in piece.steps) - 1e-9)
        if name in jobs.rules().by_itself and piece.minutes - piece.extra < exact:
            runs = replace(
                piece,
                id=f"{piece.id}+runs",
                minutes=exact - (piece.minutes - piece.extra),
                hands=0,
                kind="runs",
                words="",
                extra=0,
            )
            self._behind(runs, piece.id)
            entered.append(runs.id)
        if step.wait is None:
            return entered
        read = wait_of(document, step)
        if isinstance(read, Problem):
            self.work.problems.append(read)
            return entered
        least, greatest = read
        needs = tuple(need for need in piece.needs if need in jobs.day_facts().vessels)
        wait = replace(
            piece,
            id=f"{piece.id}+wait",
            steps=(step,),
            minutes=least,
            hands=0,
            needs=needs,
            kind="wait",
            words="",
            extra=0,
        )
        self._behind(wait, piece.id)
        self.waiting.append((wait.id, None if greatest is None else greatest - least))
        entered.append(wait.id)
        again = jobs.rules().again.get(name)
        if again is not None:
            entered += self._again(piece, step, least, again.every, again.late)
        return entered

    def _behind(self, piece: Piece, before: str) -> None:
        self.work.pieces.append(piece)
        self.work.link(piece.id, before, 0, 0)

    def _again(self, piece: Piece, step: StepView, least: int, every: int, late: int) -> list[str]:
        """The step done again inside its own wait, each time so long after the start of the time before."""
        before, minutes = piece.id, math.ceil(step.minutes)
        for number in range(1, math.ceil(least / every)):
            again = replace(
                piece,
                id=f"{piece.id}+again {number}",
                steps=(step,),
                minutes=minutes,
                kind="again",
                words="",
                extra=0,
                needs=tuple(need for need in piece.needs if need not in jobs.day_facts().vessels),
            )
            self.work.pieces.append(again)
            gap = max(0, every - minutes)
            self.work.link(again.id, before, gap, gap + late)
            before = again.id
        return [before] if before != piece.id else []

    def _later(self, pieces: list[Piece]) -> None:
        """A look hours later: it hangs on the wait before it and is no part of the day's work."""
        for id_, room in self.waiting[:1]:
            wait = next(one for one in self.work.pieces if one.id == id_)
            self.work.pieces.remove(wait)
            anchor = self.work.links.pop(id_)[0].activity
            greatest = None if room is None else wait.minutes + room
            self.work.later += [(piece, anchor, wait.minutes, greatest) for piece in pieces]
        self.waiting = []


def _runs(page: PageView, steps: Sequence[StepView], together: bool) -> list[list[StepView]]:
    """Steps cut into runs: at waits, where hands or things change, and where a run grows too long."""
    runs: list[list[StepView]] = []
    for step in steps:
        if not runs or _begins(page, runs[-1], step, together):
            runs.append([])
        runs[-1].append(step)
    return runs


def _begins(page: PageView, run: list[StepView], step: StepView, together: bool) -> bool:
    """Whether a step begins a new run."""
    last = run[-1]
    assert last.timing is not None
    assert step.timing is not None
    return (
        last.wait is not None
        or any(f"{page.document}/{one.timing.step}" in _alone() for one in (last, step) if one.timing)
        or last.hands != step.hands
        or last.timing.two_people != step.timing.two_people
        or bool(step.after)
        or (
            not together
            and (
                last.safe_to_leave is not None
                or _needs([last]) != _needs([step])
                or sum(one.minutes for one in run) + step.minutes > jobs.day_facts().longest_piece
            )
        )
    )


@cache
def _alone() -> frozenset[str]:
    """Steps that are a run of their own."""
    rules = jobs.rules()
    return frozenset((*rules.during, *rules.by_itself, *rules.again, *rules.timer))


def _needs(steps: Sequence[StepView]) -> tuple[str, ...]:
    """Places and shared tools the steps hold, each once, in their order."""
    shared = set(jobs.day_facts().shared_tools)
    found = [name for step in steps for name in (step.where, *(t for t in step.tools if t in shared)) if name]
    return tuple(dict.fromkeys(found))


def _order_parts(work: Work, ends: dict[str, list[str]]) -> None:
    """Put the first piece of each part after the parts it names; an empty part hands on what it came after itself."""
    parts = {part.id: part for page in work.job.pages for part in page.parts}

    def ends_of(name: str, seen: tuple[str, ...] = ()) -> list[str]:
        if ends.get(name) or name in seen or name not in parts:
            return ends.get(name, [])
        return [id_ for before in parts[name].after for id_ in ends_of(before, (*seen, name))]

    _first_pieces(work, lambda piece: [id_ for name in piece.part.after for id_ in ends_of(name)])


def _first_pieces(work: Work, before: Callable[[Piece], list[str]]) -> None:
    seen: set[str] = set()
    known = {piece.id for piece in work.pieces}
    for piece in work.pieces:
        if piece.kind == "work" and piece.part.id not in seen:
            seen.add(piece.part.id)
            for id_ in dict.fromkeys(before(piece)):
                if id_ in known and all(link.activity != id_ for link in work.links.get(piece.id, ())):
                    work.link(piece.id, id_)
