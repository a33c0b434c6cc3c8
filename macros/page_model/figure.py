"""What a drawing shows: planting map, level stick, table of doses, a filled measuring tool, the pads of a strip."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

LINE_OF_HALF_A_SHEET = 36
"""Characters of 12 pt, tried by print."""


@dataclass(frozen=True)
class MapVariety:
    """One variety of a planting map: its mark and its number in the whole house, from 0; how many, how far apart."""

    name: str
    letters: str
    number: int
    count: int
    apart: str


@dataclass(frozen=True)
class MapView:
    """The holes of one tray. `holes` holds (row, column, number of the variety, or -1 for a covered hole)."""

    title: str
    rows: int
    columns: int
    plates: tuple[str, ...]
    length_text: str
    varieties: tuple[MapVariety, ...]
    holes: tuple[tuple[int, int, int], ...]
    kind: str = "map"


@dataclass(frozen=True)
class StickMark:
    """One mark of a level stick: its height as a share of the tank's, level and volume as printed."""

    label: str
    share: float
    level: str
    volume: str
    note: str
    pump_minimum: bool = False


@dataclass(frozen=True)
class StickView:
    """The tank's levels on a stick; `scale` holds (share of the height, text) of the ticks with a number."""

    title: str
    unit: str
    volume_unit: str
    scale: tuple[tuple[float, str, str], ...]
    marks: tuple[StickMark, ...]
    fill_share: float
    low_share: float
    kind: str = "stick"


@dataclass(frozen=True)
class TableView:
    """A table of doses: caption, column heads, rows of printed cells; `name`: what a step that is done by it calls it."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    name: str = ""
    kind: str = "table"

    @property
    def narrow(self) -> bool:
        """Whether two such tables stand beside each other on a sheet: the longest cells of a row are one short line."""
        widest = (max(map(len, cells)) for cells in zip(self.columns, *self.rows, strict=True))
        return sum(widest) <= LINE_OF_HALF_A_SHEET


@dataclass(frozen=True)
class MeasureView:
    """One filling of a measuring tool: its scale from 0 to `capacity` with a mark every `mark`, filled to `volume`.

    `volume_text` is the filling as printed; `times` how often it is filled so; `shape`: syringe, cylinder or jug.
    """

    tool: str
    shape: str
    unit: str
    capacity: float
    mark: float
    volume: float
    volume_text: str
    times: int = 1


@dataclass(frozen=True)
class PadsView:
    """The pads of a test strip in the order of their values; `pads` holds (value as printed, whether a reading there passes)."""

    strip: str
    unit: str
    pads: tuple[tuple[str, bool], ...]


@dataclass(frozen=True)
class DayView:
    """The day of one system on a clock: lamps lit from `on` to `off` (None: no lamps), its floods; minutes from midnight.

    `each` is how long one flood runs, as printed; empty where none is set.
    """

    title: str
    on: int | None
    off: int | None
    floods: tuple[int, ...]
    each: str
    kind: str = "day"


@dataclass(frozen=True)
class TrayView:
    """A tray cut across: heights of rim and overflow over its floor, as a share of the rim's and as printed."""

    title: str
    overflow_share: float
    overflow: str
    rim: str
    kind: str = "tray"


@dataclass(frozen=True)
class HoleView:
    """A plate cut through two of its holes, one planted and one covered; what is printed beside it."""

    title: str
    apart: str
    water: str
    kind: str = "hole"


@dataclass(frozen=True)
class LampView:
    """A lamp over a tray: how high it hangs over the floor of the tray, and the share of it that stays free under the lamp.

    As printed: `hung`; `gap`, the least from lamp to leaf; `leaf`, the most a leaf stands over the floor.
    """

    title: str
    gap_share: float
    hung: str
    gap: str
    leaf: str
    kind: str = "lamp"


@dataclass(frozen=True)
class ShelfView:
    """Where stocks stand: trays side by side, each (what it is for, the stocks in it), and feed on a shelf of its own."""

    title: str
    trays: tuple[tuple[str, tuple[str, ...]], ...]
    feed: tuple[str, ...]
    kind: str = "shelf"


@dataclass(frozen=True)
class Bar:
    """A stretch of days in a row of a plan, `last` included, both counted from its first day; `count` stands in it.

    `kind`: use, over (more than owned), plugs, grows, harvest, cleanout.
    """

    first: int
    last: int
    kind: str
    count: str = ""


@dataclass(frozen=True)
class BarsView:
    """A plan as bars: the Monday it begins on, its days, and rows of a name and bars; alike rows follow one another."""

    title: str
    start: date
    days: int
    rows: tuple[tuple[str, tuple[Bar, ...]], ...]


FigureView = MapView | StickView | TableView | DayView | TrayView | HoleView | LampView | ShelfView
