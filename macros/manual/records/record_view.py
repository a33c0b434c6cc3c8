"""A value to write down as it is printed, and what a phone needs to take it: its limits as numbers, its column of the log."""

from __future__ import annotations

from macros.amounts.engine.number_format import shown_unit
from macros.ground.problems import Problem
from macros.ground.units import Quantity
from macros.house import House
from macros.house.records.log import LOG_COLUMNS
from macros.manual.house_facts.chemicals_in_hand import chemicals_meant
from macros.manual.house_facts.fact_text import fact_of
from macros.manual.procedures.expand_steps import PlannedStep
from macros.manual.procedures.file_format import ProcedureData, StepRecord
from macros.manual.procedures.page_texts import PageTexts
from macros.manual.procedures.template_functions import Words
from macros.page_model.clock_times import Answer, typed_number
from macros.page_model.page import RecordView
from macros.page_model.reading import ReadingView


def record_view(
    texts: PageTexts, page: ProcedureData, planned: PlannedStep, words: Words, problems: list[Problem]
) -> RecordView | None:
    """The value a step writes; None where it writes none. Limits that are no numbers become problems."""
    record = planned.data.record
    if record is None:
        return None
    label, limits, outside = (texts.one(record, name, words) for name in ("quantity", "limits", "outside"))
    return RecordView(label, limits, outside, _reading(texts, page, planned, words, problems, record))


def _reading(
    texts: PageTexts,
    page: ProcedureData,
    planned: PlannedStep,
    words: Words,
    problems: list[Problem],
    record: StepRecord,
) -> ReadingView:
    # What is asked for here is printed beside the blank already: it is no further amount of the page.
    apart = Words(words.register, words.keys, words.item)
    unit = texts.unprinted(record, "unit", apart)
    least, most = (
        _number(texts.unprinted(record, end, apart), record, end, problems) for end in ("least", "most")
    )
    if most is None:
        most = _fact(words.register.house, record.most_fact, unit)
    system = words.keys.get("system", "")
    column = _column(record, unit, system, problems) if record.log else ""
    return ReadingView(
        system,
        bool(record.unit or record.least or record.most or record.most_fact or record.log),
        unit,
        least,
        most,
        column,
        _acid(planned, words.register.house) if record.log == "acid" else "",
        page.log_note if column else "",
    )


def _acid(planned: PlannedStep, house: House) -> str:
    """The id of the acid a step pours; empty where the house keeps several, for which one nobody said."""
    meant = chemicals_meant(house, "acid", planned.task, dosed=bool(planned.data.amount))
    return meant[0].id if len(meant) == 1 else ""


def _number(text: str, record: StepRecord, field: str, problems: list[Problem]) -> float | None:
    """A limit as a number, of the amount or fact that the text is, else as typed; None where the page sets none."""
    if not text:
        return None
    value = text.number if isinstance(text, Answer) else typed_number(text)
    if value is not None:
        return value
    remedy = "Write the number alone, or leave it out where the limit is none"
    problems.append(
        Problem(record.place(field), record.key(field), f'"{text}" is no number', "A plain number", remedy)
    )
    return None


def _fact(house: House, path: str, unit: str) -> float | None:
    """A fact of the house as a number in a unit of the page; None where the house does not give it."""
    value = fact_of(house, path) if path else None
    return value.to(unit) if isinstance(value, Quantity) else None


def _column(record: StepRecord, unit: str, system: str, problems: list[Problem]) -> str:
    """The column of the log for a field in this unit. The log is kept for each system."""
    for column, (field, in_unit) in LOG_COLUMNS.items():
        if system and field == record.log and shown_unit(in_unit) == unit:
            return column
    if system:
        units = [shown_unit(in_unit) for field, in_unit in LOG_COLUMNS.values() if field == record.log]
        what, allowed = (
            f'the log has no {record.log} in "{unit}"',
            f"Units: {', '.join(filter(None, units)) or 'none'}",
        )
        problems.append(
            Problem(record.place("log"), record.key("log"), what, allowed, "Write the unit under unit")
        )
    else:
        what, allowed = "the log is kept for each system", "A page, or a step repeated, for each system"
        problems.append(Problem(record.place("log"), record.key("log"), what, allowed, "Take log out"))
    return ""
