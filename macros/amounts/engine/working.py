"""Notes down, while an amount is computed, every fact, amount and source it used."""

from __future__ import annotations

from datetime import date
from typing import Any

from macros.amounts.engine import number_format as printing
from macros.amounts.engine.amount import (
    Amount,
    Direction,
    Input,
    Kind,
    Made,
    Pour,
    Rounded,
    Rounding,
    of_tuple,
)
from macros.amounts.engine.register import NotFound, Register, Withheld
from macros.amounts.engine.us_units import us_line
from macros.calculations.rounding import round_to
from macros.ground.records import Record
from macros.ground.units import Money, Quantity, Strength, convert

_IN_SI = "in metric units, for which its constants are: "
"""Before a formula that a US house reads as it is published."""


class Working:
    """One amount in the making. `fact` and `amount` read values and remember them; `enter` enters the amount."""

    def __init__(self, register: Register, id_: str, label: str, topic: str, **of: str) -> None:
        self.register = register
        self.id, self.label, self.topic, self.of = id_, label, topic, of
        self._inputs: dict[str, Input] = {}
        self._sources: list[str] = []
        self._assumed: list[str] = []
        self._lines: list[str] = []
        self._in_si: set[str] = set()
        self._rests_on: list[str] = []

    # ---------------------------------------------------------------- reading

    def fact(self, record: Record | None, field: str, unit: str = "") -> float:
        """A quantity of the house in the unit asked for, or a bare number.

        Raises
        ------
        Withheld
            the house does not give it.
        """
        value = self.raw(record, field)
        number: float = value.to(unit) if isinstance(value, Quantity) else float(value)
        return number

    def fact_or(self, record: Record | None, field: str, unit: str, default: float, assumed: str) -> float:
        """As `fact`; where the house does not give it, the default, and that it is assumed."""
        if record is not None and getattr(record, field) is not None:
            return self.fact(record, field, unit)
        self.assume(assumed)
        return default

    def strength(self, record: Record, field: str) -> Strength:
        """A strength with its basis."""
        value: Strength = self.raw(record, field)
        return value

    def day(self, record: Record | None, field: str) -> date:
        """A date of the house."""
        value: date = self.raw(record, field)
        return value

    def raw(self, record: Record | None, field: str) -> Any:
        """Any field as its record holds it: a name, a list, a flag."""
        if record is None:
            raise Withheld(f"the house does not give {field}", field)
        head, _, entry = field.partition(".")
        value = getattr(record, head)
        value = value.get(entry) if entry else value
        if value is None:
            missing = record.key(field)
            raise Withheld(f"the house does not give {missing}", missing, str(record.place(field)))
        key = (id(record), field)
        if key not in self.register.facts:
            item = Input(record.key(field), *_as_input(value), str(record.place(field)))
            self.register.facts[key] = record, item
        _, item = self.register.facts[key]
        self._note(item.name, item)
        return value

    def day_of_use(self) -> date:
        """The day the amounts are for; it counts as an input."""
        register = self.register
        self._note("day of use", Input("day of use", register.day.isoformat(), "", str(register.day_place)))
        return register.day

    def amount(self, id_: str, **of: str) -> Any:
        """Another amount's exact value in its computing unit; its inputs count as ours."""
        return self.whole(id_, **of).exact

    def rounded(self, id_: str, **of: str) -> Any:
        """Another amount's printed value, in its printed unit."""
        return self.whole(id_, **of).rounded

    def whole(self, id_: str, **of: str) -> Amount:
        """Another amount as a record; its inputs, sources and assumptions count as ours."""
        try:
            found = self.register.get(id_, **of)
        except NotFound as missing:
            raise Withheld(str(missing), rests_on=(id_, of_tuple(of))) from missing
        for item in found.inputs:
            self._note(item.name, item)
        self._sources.extend(found.sources)
        self._assumed.extend(found.assumed)
        self._rests_on.append(found.key)
        return found

    # ---------------------------------------------------------------- saying

    def source(self, text: str) -> None:
        """Name an outside source the amount rests on."""
        self._sources.append(text)

    def assume(self, text: str) -> None:
        """State an assumption the sheet must print."""
        self._assumed.append(text)

    def litres_again(self) -> str:
        """What a US house writes after gallons that are multiplied with something a litre; nothing in a metric one."""
        return f" x {printing.brief(convert(1.0, 'us_gal', 'L'))} L/gal" if self.register.house.us else ""

    def add_line(self, text: str, *, si: bool = False) -> None:
        """One line of the working, with the numbers in it; `si` is a formula whose constants are for metres or degC alone."""
        self._lines.append(text)
        if si:
            self._in_si.add(text)

    # ---------------------------------------------------------------- entering

    def enter(
        self,
        kind: Kind,
        exact: Any,
        unit: str,
        *,
        printed: str = "",
        figures: tuple[str, ...] = (),
        rounding: Rounding,
        value: Any = None,
        shown_unit: str | None = None,
        rounded: Any = None,
        tool: str = "",
        at: str = "",
        pours: tuple[Pour, ...] = (),
        tools: tuple[str, ...] = (),
        made: Made | None = None,
        bounds: tuple[float | None, float | None] | None = None,
    ) -> Amount:
        """Enter the amount with everything noted so far. What is printed in its exact form needs no `value`, `shown_unit`
        or `rounded` of its own.

        It is printed as `figures` with the unit, where they are given. `at` is the mark of the tool it is read at.
        """
        value = exact if value is None else value
        shown_unit = unit if shown_unit is None else shown_unit
        amount = Amount(
            id=self.id,
            of=of_tuple(self.of),
            kind=kind,
            label=self.label,
            value=value,
            unit=shown_unit,
            printed=printed or printing.with_unit(" to ".join(figures), shown_unit),
            exact=exact,
            exact_unit=unit,
            rounded=value if rounded is None else rounded,
            tool=f"{tool} at {at}" if at else tool,
            pours=pours,
            made=made,
            bounds=bounds,
            rounding=rounding,
            working="\n".join(self._told(self._lines, shown_unit)),
            inputs=tuple(self._inputs[name] for name in sorted(self._inputs)),
            sources=tuple(dict.fromkeys(self._sources)),
            assumed=tuple(dict.fromkeys(self._told(self._assumed, shown_unit))),
            topic=self.topic,
            rests_on=tuple(dict.fromkeys(self._rests_on)),
            figures=figures,
            tools=tools or tuple(dict.fromkeys(pour.tool for pour in pours)) or ((tool,) if tool else ()),
        )
        return self.register.add(amount)

    def number(
        self,
        exact: float,
        unit: str,
        direction: Rounded,
        rule: str,
        *,
        step: float | None = None,
        tool: str = "",
        at: str = "",
        bounds: tuple[float | None, float | None] | None = None,
        as_read: bool = False,
        print_unit: str = "",
        made: Made | None = None,
    ) -> Amount:
        """Enter a plain number, printed in the house's unit and rounded in the direction the rule explains.

        `step` is in the house's unit; without it the unit's own printing step is used. `bounds` are in `unit`.
        `as_read` keeps the zeros a meter or scale shows; elsewhere 136.0 L is written 136 L. `print_unit` stands in
        for the house's own unit where a smaller one is handier.
        """
        us = self.register.house.us
        if print_unit:
            value, house_unit = convert(exact, unit, print_unit), print_unit
        else:
            value, house_unit = printing.in_house_unit(exact, unit, us)
        step = step if step is not None else printing.step_for(house_unit)
        rounded = round_to(value, step, direction)
        text = printing.number_text(rounded, step)
        if not as_read:
            text = printing.trimmed(text)
        house_bounds = None
        if bounds is not None:
            low, high = (None if b is None else printing.in_house_unit(b, unit, us)[0] for b in bounds)
            house_bounds = (low, high)
        return self.enter(
            "number",
            exact,
            unit,
            value=value,
            shown_unit=house_unit,
            figures=(text,),
            rounded=rounded,
            rounding=Rounding(direction, step, rule),
            tool=tool,
            at=at,
            bounds=house_bounds,
            made=made,
        )

    def count(self, exact: int, unit: str, rule: str, direction: Direction = "up") -> Amount:
        """Enter a whole count of things."""
        rounding = Rounding(direction, 1, rule)
        return self.enter("count", exact, unit, figures=(str(exact),), rounding=rounding)

    def date(self, exact: date, rule: str, direction: Direction = "earlier") -> Amount:
        """Enter a date."""
        day = exact.isoformat()
        return self.enter("date", day, "", printed=day, rounding=Rounding(direction, None, rule))

    def flag(self, exact: bool, yes: str, no: str) -> Amount:
        """Enter a yes-or-no answer, printed as the sentence that fits."""
        printed = yes if exact else no
        return self.enter("flag", exact, "", printed=printed, rounding=Rounding("none", None, ""))

    def band(
        self,
        low: float,
        target: float | None,
        high: float,
        unit: str,
        step: float,
        rule: str,
        tool: str = "",
        printed: str = "",
    ) -> Amount:
        """Enter a band of acceptance: printed as low to high with at least the step's decimals, its target kept beside.

        `printed` stands in for that where a band is more than its ends.
        """
        us = self.register.house.us
        numbers = [None if x is None else printing.in_house_unit(x, unit, us)[0] for x in (low, target, high)]
        house_unit = printing.house_unit(unit, us)
        value = dict(zip(("low", "target", "high"), numbers, strict=True))
        ends = dict.fromkeys(printing.text_as_set(x, step) for x in (numbers[0], numbers[2]) if x is not None)
        return self.enter(
            "band",
            {"low": low, "target": target, "high": high},
            unit,
            value=value,
            shown_unit=house_unit,
            printed=printed,
            figures=tuple(ends),
            rounding=Rounding("none", step, rule),
            tool=tool,
        )

    def table(
        self, columns: list[tuple[str, str]], rows: list[list[Any]], rule: str, step: float | None
    ) -> Amount:
        """Enter a table: columns of (name, unit), rows of printed numbers."""
        value = {"columns": [{"name": name, "unit": unit} for name, unit in columns], "rows": rows}
        printed = f"table of {len(rows)} rows"
        return self.enter("table", value, "", printed=printed, rounding=Rounding("nearest", step, rule))

    # ---------------------------------------------------------------- inside

    def _told(self, lines: list[str], shown_unit: str) -> list[str]:
        """Lines of the working in the house's units; a dose in the unit of the tool it is poured with."""
        house = self.register.house
        if not house.us:
            return lines
        metric = any(tool.capacity.unit in ("mL", "L") for tool in house.measuring_tools)
        millilitres = shown_unit.startswith("mL") or (metric and shown_unit not in ("fl_oz", "us_gal"))
        grams = shown_unit == "g"
        return [
            f"{_IN_SI}{line}" if line in self._in_si else us_line(line, millilitres, grams=grams)
            for line in lines
        ]

    def _note(self, name: str, item: Input) -> None:
        self._inputs.setdefault(name, item)


def _as_input(value: Any) -> tuple[float | str, str]:
    """How a fact is listed: the number and unit as the house wrote them."""
    if isinstance(value, Quantity):
        return value.value, value.unit
    if isinstance(value, Strength):
        return value.percent, f"% {value.basis}"
    if isinstance(value, Money):
        return value.value, value.currency + (f"/{value.per}" if value.per else "")
    if isinstance(value, bool):
        return "yes" if value else "no", ""
    if isinstance(value, int | float):
        return value, ""
    if isinstance(value, tuple | list):
        return ", ".join(str(getattr(item, "written", item)) for item in value), ""
    return str(value), ""
