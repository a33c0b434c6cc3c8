"""What a page, sheet or card shows: records that are already worked out for one house and one system.

The templates get nothing but these. A text in here is plain text (never HTML, never Markdown, except
`body_markdown`), so the templates escape it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from macros.ground.problems import Place
from macros.page_model.figure import FigureView, MeasureView, PadsView
from macros.page_model.photo import PhotoView
from macros.page_model.reading import ReadingView
from macros.page_model.room_view import RoomView
from macros.published.safety.cautions import Caution
from macros.published.safety.signal_words import worst_first


@dataclass(frozen=True)
class AmountView:
    """One printed amount: `value` and unit as printed, the tool and its marks, where its working stands, whose it is.

    `fillings` are the tools filled one after the other where it is measured by volume. `number` and `unit` are the two
    halves of `printed`, for a sheet that prints the unit once over several; empty where it is no number with a unit.
    `means`: what the number is at this step, where it could be taken for another: at most, or all in the tank.
    """

    amount_id: str
    label: str
    printed: str
    tool: str
    anchor: str
    system: str = ""
    fillings: tuple[MeasureView, ...] = ()
    number: str = ""
    unit: str = ""
    means: str = ""


@dataclass(frozen=True)
class PlacedCaution:
    """A caution before a step of this house; made once, and printed as it is wherever the step stands.

    Parameters
    ----------
    entry : the catalogue's entry; its short texts have no slots
    word : the signal word, raised where an escalation is met
    hazard, consequence, avoidance : its texts with their slots filled
    label_line : what the label of the substance handled says; empty where no code applies
    not_known : facts that were not known and counted as met
    why : which facts put it there
    ppe : ids of what to wear, in list order
    weight : [%] strength or [kg] mass it speaks of; of one caution on a page the summary shows the greatest
    """

    entry: Caution = field(hash=False)
    word: str
    hazard: str
    consequence: str
    avoidance: str
    label_line: str = ""
    not_known: tuple[str, ...] = ()
    why: tuple[str, ...] = ()
    ppe: tuple[str, ...] = ()
    weight: float = 0.0

    @property
    def id(self) -> str:
        """Its id in the catalogue."""
        return self.entry.id

    @property
    def not_known_lines(self) -> tuple[str, ...]:
        """What its box asks to be measured."""
        return tuple(f"{fact}: not known, measure this" for fact in self.not_known)

    @property
    def wording(self) -> tuple[str, ...]:
        """What the reader can tell apart: two of the same wording are one caution."""
        return self.id, self.word, self.hazard, self.consequence, self.avoidance

    @property
    def rank(self) -> tuple[int, int, float]:
        """Sort key: the worst word first, then by place in the catalogue, then the strongest or heaviest."""
        return worst_first(self.word), self.entry.place_in_file, -self.weight


@dataclass(frozen=True)
class WaitView:
    """A timed wait: least and greatest as text and in minutes (None: no plain time), what then, and what when it was missed."""

    least: str
    greatest: str
    then: str
    missed: str = ""
    least_minutes: float | None = None
    greatest_minutes: float | None = None


@dataclass(frozen=True)
class RecordView:
    """A value to write down: its name with unit, the limits printed beside the blank, what to do outside of them."""

    label: str
    limits: str
    outside: str = ""
    reading: ReadingView | None = None


@dataclass(frozen=True)
class SafeToLeaveView:
    """How long the work may stand here and in which state; `go_on_at` is the number of the next step, None after the last."""

    up_to: str
    state: str
    go_on_at: int | None


@dataclass(frozen=True)
class StepTiming:
    """What a day's plan must know of a step and no page prints; it stays out of the values code.

    Parameters
    ----------
    step : its id as written, before repeats
    place : where its wait, or the step, is written
    keys : what it is repeated for
    two_people : a lift or an act that needs two, whatever the number of `hands` says
    open_stock : acid, base or sanitizer as bought stands open
    measures : the measuring tools it fills; nobody else has them meanwhile
    """

    step: str
    place: Place
    keys: tuple[tuple[str, str], ...] = ()
    two_people: bool = False
    open_stock: bool = False
    measures: tuple[str, ...] = ()


@dataclass(frozen=True)
class StepView:
    """One numbered step, the cautions directly before it; `stocks`: what it handles as bought, `looks`: the drawing behind it.

    `new_place`: where it is done, if that is another place than the step before; `where`: in any case. `pads`: of the
    strip that is read. `condition`: of `do`, where the step may not be needed. `looks_up`: names of the page's tables.
    """

    id: str
    number: int
    phase: str
    do: str
    short: str
    amounts: tuple[AmountView, ...]
    tools: tuple[str, ...]
    cautions: tuple[PlacedCaution, ...]
    expect: str = ""
    reason: str = ""
    where: str = ""
    new_place: str = ""
    wait: WaitView | None = None
    record: RecordView | None = None
    critical: bool = False
    hold: bool = False
    easily_missed: bool = False
    hands: int = 1
    minutes: float = 0.0
    doer: str = ""
    stocks: tuple[str, ...] = ()
    one_of: tuple[str, ...] = ()
    until: str = ""
    safe_to_leave: SafeToLeaveView | None = None
    after: tuple[str, ...] = ()
    timing: StepTiming | None = None
    looks: RoomView | None = None
    photos: tuple[PhotoView, ...] = ()
    pads: PadsView | None = None
    condition: str = ""
    looks_up: tuple[str, ...] = ()


@dataclass(frozen=True)
class SupplyView:
    """One thing to have at hand: its name and how much or which."""

    group: str
    name: str
    detail: str = ""


@dataclass(frozen=True)
class DeviationView:
    """If something goes wrong: the sign, the act, who decides, what to record; `of`: the steps whose value it is about."""

    sign: str
    act: str
    who_decides: str
    record: str
    kind: str = "other"
    of: tuple[str, ...] = ()


@dataclass(frozen=True)
class RevisionView:
    """One line of the revision history: number, day, why, who, what changed and whether people are briefed anew.

    `changes` holds (place, old text, new text), the weightiest first; `more` counts those that are not shown. `kept`
    leads to the page as it was; `note` says what else there is to know, as that no copy was kept.
    """

    number: str
    date: str
    what: str
    by: str
    retrain: str = ""
    changes: tuple[tuple[str, str, str], ...] = ()
    more: int = 0
    kept: LinkView | None = None
    note: str = ""


@dataclass(frozen=True)
class ControlView:
    """The control block; `draft_reasons` empty means the page is in force."""

    document: str
    revision: str
    effective: str
    approved_by: str
    values_code: str
    draft_reasons: tuple[str, ...] = ()


@dataclass(frozen=True)
class LinkView:
    """A link inside the manual: text and the address relative to the site's root."""

    text: str
    address: str


@dataclass(frozen=True)
class PageContent:
    """What one procedure says for one system (or for the room, then `system` is empty), whichever revision it is.

    `own` is a page that only this house has. No text: `worked_from`, the keys of the amounts it prints; `formulas`, how they are worked out, which count for its code.
    """

    key: str
    document: str
    title: str
    section: str
    system: str
    system_name: str
    house_name: str
    scope_line: str
    purpose: str
    not_for: str
    when: str
    who: str
    first_lines: tuple[str, ...]
    cautions: tuple[PlacedCaution, ...]
    ppe: tuple[SupplyView, ...]
    first_aid: tuple[tuple[str, str], ...]
    flush_point: str
    supplies: tuple[SupplyView, ...]
    amounts: tuple[AmountView, ...]
    before: tuple[str, ...]
    steps: tuple[StepView, ...]
    done_when: tuple[str, ...]
    clean_up: tuple[str, ...]
    if_wrong: tuple[DeviationView, ...]
    records: tuple[RecordView, ...]
    references: tuple[str, ...]
    see_also: tuple[LinkView, ...]
    body_markdown: str
    page_address: str
    sheet_address: str
    public_address: str
    emergency_line: str
    figures: tuple[FigureView, ...] = ()
    one_page: bool = False
    job: str = ""
    level: int = 0
    units: tuple[str, ...] = ()
    cleaning: tuple[tuple[str, str], ...] = ()
    emergency: str = ""
    urgent: tuple[tuple[str, str], ...] = ()
    drops: tuple[tuple[str, str], ...] = ()
    form_address: str = ""
    checklist: str = ""
    reckoners: tuple[LinkView, ...] = ()
    searched_as: tuple[str, ...] = ()
    looks_at_start: RoomView | None = None
    own: bool = False
    worked_from: tuple[str, ...] = ()
    formulas: Mapping[str, str] = field(default_factory=dict, hash=False)


@dataclass(frozen=True, kw_only=True)
class PageView(PageContent):
    """A page as it is published: what it says, under its control block and with its history."""

    control: ControlView
    history: tuple[RevisionView, ...] = ()
