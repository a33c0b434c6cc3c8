"""What a self-check shows: questions that are worked out for one house, with their answers and what a wrong one means."""

from __future__ import annotations

from dataclasses import dataclass

from macros.published.training.questions import QuestionKind


@dataclass(frozen=True)
class Target:
    """What a question tests: a step of a page, or a caution where it stands before that step."""

    page_key: str
    document: str
    system: str
    step_id: str
    number: int
    caution: str = ""

    @property
    def name(self) -> str:
        """`SOP-08-A step 7`, or the caution with its place."""
        place = f"{self.page_key} step {self.number}"
        return f"{self.caution} at {place}" if self.caution else place


@dataclass(frozen=True)
class QuestionView:
    """One question. Texts are plain text, never HTML.

    `answer` is what a trainer reads, number and unit as printed. A number question also holds `value` and `within`
    [both in `unit`]: one mark of the measuring tool or the meter's resolution, 0 where nothing is measured; `tolerance`
    is that as text. `wrong` holds the wrong answers that matter, each with what was misunderstood; `wrong_values` their
    numbers. `items` are what an order question puts in order, the right order; `choices` what a choice offers, right
    answer included, in an order that does not tell. `amounts` are the keys of the amounts the question rests on.
    """

    id: str
    module: str
    tests: tuple[Target, ...]
    text: str
    kind: QuestionKind
    answer: str
    unit: str = ""
    tool: str = ""
    tolerance: str = ""
    wrong: tuple[tuple[str, str], ...] = ()
    value: float | None = None
    within: float = 0.0
    wrong_values: tuple[float, ...] = ()
    items: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    why: str = ""
    template: str = ""
    amounts: tuple[str, ...] = ()

    @property
    def page_key(self) -> str:
        """The page the answer stands on."""
        return self.tests[0].page_key

    @property
    def step_number(self) -> int:
        """The step of that page."""
        return self.tests[0].number

    @property
    def scope(self) -> str:
        """Which systems it is true of; empty for what belongs to the whole room."""
        systems = dict.fromkeys(target.system for target in self.tests if target.system)
        return f"{'System' if len(systems) == 1 else 'Systems'} {', '.join(systems)}" if systems else ""
