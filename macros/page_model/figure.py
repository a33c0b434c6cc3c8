"""What a drawing shows: planting map, level stick, table of doses, a filled measuring tool, the pads of a strip."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class MapVariety:
    """One variety of a planting map: its letter, how many, how far apart."""

    name: str
    letter: str
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
    """A table of doses: caption, column heads, rows of printed cells."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    kind: str = "table"


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


FigureView = MapView | StickView | TableView
