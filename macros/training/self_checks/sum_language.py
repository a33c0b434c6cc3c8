"""The sums behind a question: a small language of amounts and facts, so that a question holds no number of its own.

A sum is written as `amount("res_refill") - amount("draw_simultaneous")`. It may hold what `parsed_sum` lets through, and
call the functions of `ExpressionEvaluator`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import CodeType
from typing import Any

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.register import UnknownAmount
from macros.calculations.room.air import humidity_at_surface
from macros.day_plan.times import from_midnight
from macros.ground.units import Quantity, convert
from macros.house.records.crops import Variety
from macros.manual.house_facts.fact_text import fact_of
from macros.manual.procedures.template_functions import WordMistake, Words
from macros.published.training.questions import parsed_sum
from macros.training.self_checks.figures import CLOCK, Figure, NoFigure, figure_of, in_unit, plain

_TABLE_UNITS = {"fl oz": "fl_oz", "gal": "us_gal"}
"""Columns of a table hold the unit as printed."""


@cache
def _compiled(text: str) -> CodeType:
    return compile(parsed_sum(text), "sum", "eval")


class ExpressionEvaluator:
    """Works sums out for one house and one item; what an amount is looked up by comes from `words`."""

    def __init__(self, words: Words, given: Mapping[str, Any]) -> None:
        self.words, self.given = words, given
        self.house = words.register.house
        self._functions = {name: getattr(self, name) for name in BY_NAME}

    def work_out(self, text: str) -> Any:
        """The value of a sum: a figure, a plain number, a text, yes or no, or several texts.

        Raises
        ------
        NoFigure
            this house has no such amount or fact.
        UnknownAmount
            no house has such an amount.
        """
        code, names = _compiled(text), {**self._functions, **self.given}
        absent = [name for name in code.co_names if name not in names]
        if absent:
            raise NoFigure(f"{absent[0]} is not given")
        try:
            # Python itself works the sum out: `parsed_sum` has let nothing through that reaches beyond these names.
            return eval(code, {"__builtins__": {}}, names)
        except WordMistake as missing:
            if isinstance(missing.__cause__, UnknownAmount):
                raise missing.__cause__ from None  # a slip in the published file, never a question the house does without
            raise NoFigure(str(missing)) from missing

    # ------------------------------------------------------------- amounts

    def amount(self, id_: str, **of: str) -> Figure:
        """An amount as printed."""
        return figure_of(self.words.find(id_, **of))

    def low(self, id_: str, **of: str) -> Figure:
        """Lower end of a band."""
        return self._end("low", id_, of)

    def high(self, id_: str, **of: str) -> Figure:
        """Upper end of a band."""
        return self._end("high", id_, of)

    def _end(self, end: str, id_: str, of: dict[str, str]) -> Figure:
        band = self.words.find(id_, **of)
        if band.kind != "band":
            raise NoFigure(f"{band.key} is no band")
        return Figure(float(band.rounded[end]), "" if band.unit == "1" else band.unit)

    def cell(self, id_: str, row: int, column: int, **of: str) -> Figure | str:
        """A cell of a table amount; rows and columns count from 0, from the end where negative."""
        table = self.words.find(id_, **of)
        rows, heads = table.rounded["rows"], table.rounded["columns"]
        if not -len(rows) <= row < len(rows) or not -len(heads) <= column < len(heads):
            raise NoFigure(f"{table.key} has no such cell")
        found = rows[row][column]
        if found is None:
            raise NoFigure(f"{table.key} has nothing there")
        unit = heads[column]["unit"]
        return found if isinstance(found, str) else Figure(float(found), _TABLE_UNITS.get(unit, unit))

    def row_of_least(self, id_: str, column: int, **of: str) -> int:
        """The row with the least number in a column, the first of several."""
        rows = self.words.find(id_, **of).rounded["rows"]
        return min(range(len(rows)), key=lambda index: float(rows[index][column]))

    def tool_of(self, id_: str, **of: str) -> str:
        """The house's tools for an amount and how far each is filled."""
        return self.words.find(id_, **of).tool

    def fewest(self, id_: str) -> Figure:
        """The least of several amounts of one id, of this system."""
        keys = {name: value for name, value in self.words.keys.items() if name == "system"}
        found = self.words.register.of_id(id_, **keys)
        if not found:
            raise NoFigure(f"no {id_} in this house")
        least = min(found, key=lambda amount: float(amount.value))
        self.words.used.append(least)
        return figure_of(least)

    # ------------------------------------------------------------- facts

    def fact(self, path: str, unit: str = "") -> Figure | str:
        """A fact of the house, in the unit given or its own."""
        return self._fact(self.house, path, unit)

    def system_fact(self, path: str, unit: str = "") -> Figure | str:
        """A fact of the system at hand."""
        return self._fact(self.house.system(self.words.keys["system"]), path, unit)

    def task_fact(self, task: str, field: str, unit: str = "") -> Figure | str:
        """A fact of a sanitizing task."""
        tasks = self.house.sanitizing.tasks if self.house.sanitizing else {}
        if task not in tasks:
            raise NoFigure(f"no task {task}")
        return self._fact(tasks[task], field, unit)

    def variety_fact(self, field: str, unit: str = "") -> Figure | str:
        """A fact of the variety at hand."""
        return self._fact(found, field, unit) if (found := self._variety()) else ""

    def _variety(self) -> Variety | None:
        name = self.words.keys.get("variety")
        return next((variety for variety in self.house.varieties if variety.id == name), None)

    def _fact(self, record: Any, path: str, unit: str) -> Figure | str:
        value = fact_of(record, path)
        if value is None:
            raise NoFigure(f"the house does not give {path}")
        if isinstance(value, Quantity):
            if unit:
                return Figure(convert(value.value, value.unit, unit), unit)
            shown = printing.house_unit(value.unit, self.house.us)
            return Figure(float(f"{convert(value.value, value.unit, shown):.9g}"), shown)
        return Figure(float(value), "") if isinstance(value, int | float) else str(value)

    def calibrated_every(self) -> Figure:
        """Days a calibration of the meter at hand is good for."""
        item = self.words.item or {}
        for meter in self.house.meters:
            if meter.name == item["meter"]["name"]:
                return Figure(convert(meter.calibrate_every.value, meter.calibrate_every.unit, "day"), "days")
        raise NoFigure("no such meter")

    def at(self, text: str) -> Figure:
        """A time of day, as 10:00."""
        return Figure(from_midnight(text), CLOCK)

    def first_flood(self) -> Figure:
        """The first flood of the day that the timer of this system starts."""
        timer = self.house.system(self.words.keys["system"]).timer
        if timer is None or not timer.floods_set:
            raise NoFigure("no floods are set")
        first = min(timer.floods_set)
        return Figure(first.hour * 60 + first.minute, CLOCK)

    def pad_under(self, task: str) -> Figure:
        """The highest value printed on the task's strip that is under its pass band."""
        tasks = self.house.sanitizing.tasks if self.house.sanitizing else {}
        low = self.low("strip_band", task=task)
        strips = [s for s in self.house.test_strips if s.id == tasks[task].proved_with] or list(
            self.house.test_strips
        )
        pads = [convert(p.value, p.unit, "mg/L") for strip in strips for p in strip.pads]
        under = [pad for pad in pads if 0 < pad < low.value]
        if not under:
            raise NoFigure("no pad under the band")
        return Figure(max(under), "mg/L")

    def damp_at_wall(self, time: str) -> Figure:
        """Relative humidity of the room's air at its coldest surface [%]."""
        room = self.house.room
        facts = [fact_of(room, name) for name in (f"air_temperature_{time}", f"relative_humidity_{time}", "coldest_surface_temperature")]  # fmt: skip
        if any(fact is None for fact in facts):
            raise NoFigure("the room's wall or air is not known")
        air, humidity, wall = facts
        share = humidity_at_surface(convert(air.value, air.unit, "degC"), float(humidity), convert(wall.value, wall.unit, "degC"))  # fmt: skip
        return Figure(100 * share, "%", 1.0)

    def parts(self) -> tuple[str, ...]:
        """The feed parts of this system in the order they are poured."""
        rates = self.house.nutrients.stages[self.house.system(self.words.keys["system"]).fill_stage].rates
        return tuple(part.name for part in self.house.nutrients.parts_in_order() if part.id in rates)

    def containers(self, over: str) -> tuple[str, ...]:
        """Names of what is carried full: over or under what one person lifts alone."""
        limit = self.fact("lifting.one_person_limit", "kg")
        assert isinstance(limit, Figure)
        found = [(amount, in_unit(figure_of(amount), "kg").value > limit.value) for amount in self.words.register.of_id("lift_bucket")]  # fmt: skip
        self.words.used.extend(amount for amount, _ in found)
        return tuple(
            f"{amount.label}, {amount.printed}" for amount, is_over in found if is_over is (over == "over")
        )

    def holes(self) -> Figure:
        """Holes of one tray's cup plates, planted or covered."""
        variety = self._variety()
        system = self.house.system(variety.system) if variety else None
        if system is None or system.cup_plate is None or system.trays.cup_plates_per_flood_tray is None:
            raise NoFigure("no cup plates")
        plates = system.trays.cup_plates_per_flood_tray
        return Figure(plates * system.cup_plate.rows * system.cup_plate.columns, "plants", 1.0)

    def on_list(self, part: str) -> bool:
        """Whether the house's list of what may be eaten names this part of the variety at hand."""
        variety, listed = self._variety(), self.house.edible_list
        if variety is None or listed is None:
            return False
        return any(entry.botanical == variety.botanical and part in entry.parts for entry in listed.entries)

    # ------------------------------------------------------------- numbers and texts

    def percent(self, number: Figure | float) -> Figure:
        """A number as a share [%]."""
        return Figure(plain(number), "%", 1.0)

    def days(self, number: float) -> Figure:
        """So many days."""
        return Figure(number, "days", 1.0)

    def minutes(self, number: float) -> Figure:
        """So many minutes."""
        return Figure(number, "min")

    def some(self, texts: tuple[str, ...]) -> bool:
        """Whether there is any."""
        return bool(texts)

    def first(self, texts: tuple[str, ...]) -> str:
        """The first of several."""
        return texts[0]


BY_NAME = tuple(name for name in vars(ExpressionEvaluator) if not name.startswith("_") and name != "work_out")
"""The functions a sum may call: every method of `ExpressionEvaluator`."""
