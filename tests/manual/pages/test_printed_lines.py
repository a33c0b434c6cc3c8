"""What the values code covers: every field a page, checklist or card prints, and none that it does not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest

from macros.manual.pages.printed_lines import printed_lines
from macros.published.safety.cautions import Caution
from macros.site.site import Site

NOT_PRINTED = {
    "PageView": {
        # which copy it is, and where things lie
        "control", "history", "page_address", "sheet_address", "public_address", "form_address", "section", "worked_from", "formulas",
        # how it is laid out, and what is said by another field
        "one_page", "job", "level", "checklist", "reckoners", "records",
        "own",  # a page stays whose it is
        "amounts",  # the steps print them; of the table only the names are lines of its own
    },
    "AmountView": {"anchor", "label", "number", "unit"},  # number and unit are told together, as printed
    # what a phone compares and where it keeps it: label and limits as printed are lines of the record
    "ReadingView": {"system", "is_number", "unit", "least", "most", "column", "stock", "note"},
    "WaitView": {"least_minutes", "greatest_minutes"},  # what the printed times say as numbers
    "PlacedCaution": {"why", "weight"},  # the page of cautions prints the reasons; the weight picks for the summary
    "Caution": {
        "hazard", "consequence", "avoidance",  # printed with their slots filled
        "severity", "likelihood", "why", "source", "obtained", "note",  # what its word and its wording rest on
    },
    "StepView": {
        "number",  # follows from the order
        "where", "hands", "minutes", "after", "timing", "easily_missed",  # for the plan of a day, and for the checklist
        "condition", "looks_up",  # what `do` says already, and the tables of the page that stand with the step on a phone
    },
    "SafeToLeaveView": {"go_on_at"},  # follows from the order
    "DeviationView": {"kind"},
    "LinkView": {"address"},
    "MapView": {"kind"},
    "MapVariety": {"number"},  # the shape drawn about the letters, and these are a line
    "StickView": {"kind", "fill_share", "low_share"},  # drawn from the levels that are printed
    "StickMark": {"share", "pump_minimum"},
    "TableView": {"kind", "name"},
    "ChecklistView": {"control", "address", "public_address", "worked_to", "pages"},
    "ChecklistItem": set(),
    "ChecklistRest": {"revision"},
    "CardView": {"control", "address", "public_address", "sources", "built_for", "kind"},
    "Facts": {"kind", "columns"},
    "CardTable": {"kind", "across", "first_wide", "blank"},
    "Sentences": {"kind"},
    "Frames": {"kind"},
}  # fmt: skip
"""Fields that move no line, by record."""

CHANGED_AS = {str: "changed text", int: 977, float: 977.5}


def changed(value: Any) -> Any:
    """Another value of the same kind."""
    if isinstance(value, bool):
        return not value
    return next(other for kind, other in CHANGED_AS.items() if isinstance(value, kind))


def field_names(record: Any) -> list[str]:
    """Of a record of the page, or of the catalogue's entry that a placed caution prints from."""
    return [*Caution.model_fields] if isinstance(record, Caution) else [one.name for one in fields(record)]


def other_with(record: Any, values: dict[str, Any]) -> Any:
    """The record with these values."""
    return record.model_copy(update=values) if isinstance(record, Caution) else replace(record, **values)


def variants(record: Any) -> Iterator[tuple[str, str, Any]]:
    """(record, field, the whole with that field changed) for every plain field below a view, one of each field."""
    seen: set[tuple[str, str]] = set()

    def walk(value: Any, rebuild: Any) -> Iterator[tuple[str, str, Any]]:
        if isinstance(value, Caution) or (is_dataclass(value) and not isinstance(value, type)):
            name = type(value).__name__
            for one in field_names(value):
                inside = getattr(value, one)

                def put(new: Any, value: Any = value, field: str = one, rebuild: Any = rebuild) -> Any:
                    return rebuild(other_with(value, {field: new}))

                if isinstance(inside, str | int | float):
                    if (name, one) not in seen:
                        seen.add((name, one))
                        yield name, one, put(changed(inside))
                elif one not in NOT_PRINTED.get(name, ()):
                    yield from walk(inside, put)
        elif isinstance(value, tuple):
            for at, item in enumerate(value):

                def put_at(new: Any, value: Any = value, at: int = at, rebuild: Any = rebuild) -> Any:
                    return rebuild((*value[:at], new, *value[at + 1 :]))

                yield from walk(item, put_at)

    yield from walk(record, lambda whole: whole)


@pytest.mark.parametrize("house", ["fourth", "second"])
def test_every_printed_field_moves_a_line_and_no_other_does(sites: Mapping[str, Site], house: str) -> None:
    met: set[tuple[str, str]] = set()
    for item in sites[house].controlled_documents:
        before = printed_lines(item.view)
        for name, field, other in variants(item.view):
            met.add((name, field))
            printed = field not in NOT_PRINTED.get(name, set())
            moved = printed_lines(other) != before
            assert moved == printed, f"{item.key}: {name}.{field} is {'not ' if printed else ''}a line"
    assert {name for name, _ in met} >= {
        "PageView",
        "StepView",
        "PlacedCaution",
        "Caution",
        "ChecklistItem",
        "CardView",
    }


def test_the_name_of_an_amount_is_a_line_of_its_table(sites: Mapping[str, Site]) -> None:
    view = next(one for one in sites["fourth"].views if len(one.amounts) > 1)
    first = replace(view.amounts[0], label="changed text")
    changed_view = replace(view, amounts=(first, *view.amounts[1:]))
    found = [(old.text, new.text) for old, new in zip(printed_lines(view), printed_lines(changed_view), strict=True) if old != new]  # fmt: skip
    assert found == [(view.amounts[0].label, "changed text")]
