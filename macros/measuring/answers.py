"""An answer as typed, held against the type of its fact: what it becomes, or why it cannot be, in plain words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from macros.ground.records import US
from macros.ground.units import Money, Quantity, Strength, convert, kinds
from macros.ground.yaml_source import Path_, read_yaml_text, unseen_character
from macros.house.files.starter_explanations import explanations, starter_facts, switched_on
from macros.house.files.write_fact import Value
from macros.measuring.facts import Addition, Fact, facts_of
from macros.published import published_rows
from macros.published.amounts.plausible import Plausible

_UNREADABLE = "?"
"""What no field takes but a text: its refusal says what is allowed."""


@dataclass(frozen=True)
class Answer:
    """What is written in the file, and what it means where that reads otherwise; or what is wrong with it."""

    value: Value = ""
    means: str = ""
    wrong: str = ""


def read_answer(fact: Fact, typed: str, us: bool) -> Answer:
    """An answer as the file will hold it.

    Parameters
    ----------
    typed : without the quotes that keep a word such as "u" from being a command; a list has commas between its values
    us : the house writes US units
    """
    text = " ".join(typed.split())
    if unseen_character(text, "", 1, "") is not None:
        return Answer(wrong="The answer holds a character nobody sees. Type it anew, do not paste it.")
    value: Value = text
    if fact.is_list:
        value = tuple(one.strip() for one in text.strip("[]").split(",") if one.strip())
    try:
        read = adapter(fact.annotation).validate_python(value, context={US: us})
    except ValidationError as error:
        return Answer(wrong=_told(error))
    means = _meaning(value, read)
    return Answer(value, means.replace("us_gal", "gal") if us else means)


def allowed_words(fact: Fact, us: bool) -> str:
    """What may be typed, with the plausible range of the figure where there is one."""
    bound = _bounds().get(re.sub(r"\[[^\]]*\]", "[]", _pattern(fact.path)))
    said = _allowed(fact.annotation, us, fact.is_list)
    if bound is None:
        return said
    return f"{said} Plausible: {range_words(bound, shown_unit(fact, us))}."


def range_words(bound: Plausible, unit: str) -> str:
    """The bounds of a figure in another unit of its kind, rounded inwards so that both ends pass."""
    low, high, shown = float(bound.low), float(bound.high), bound.unit
    plain = {"gal": "us_gal", "gal/h": "us_gal/h", "gal/min": "us_gal/min", "gal/day": "us_gal/day"}.get(
        unit, unit
    )
    if bound.unit and plain != bound.unit and _one_kind(plain, bound.unit):
        low, high, shown = convert(low, bound.unit, plain), convert(high, bound.unit, plain), unit
    return f"{_inwards(low, 1)} to {_inwards(high, -1)} {shown}".strip()


def shown_unit(fact: Fact, us: bool) -> str:
    """The unit a fact is asked in: that of its own value, none where that is a bare number; else the starter's."""
    value = _unit_of(fact.value)
    if not str(fact.value)[:1].isdigit():
        value = value or _starter_units(us).get((fact.record.__name__, fact.field), "")
        value = value or _unit_of(_example(fact, us))
    return value.replace("us_gal", "gal") if us else value


def _example(fact: Fact, us: bool) -> str:
    """The value that the words of a length show: a size the starter's tank does not have is asked in that unit."""
    shown = re.search(
        r'^Allowed is a length .*for example "([^"]+)"', _allowed(fact.annotation, us, fact.is_list)
    )
    return shown.group(1) if shown else ""


def explanation(fact: Fact, us: bool) -> str:
    """What the starter says of the fact; empty where it says nothing."""
    return explanations(us).get((fact.record.__name__, fact.field), "")


def addition_explained(addition: Addition, us: bool) -> str:
    """What the starter says of a part that may be given; empty where it says nothing."""
    name = str(addition.path[-1])
    found = (text for (_, field), text in explanations(us).items() if field == name)
    return next(found, "")


@cache
def adapter(annotation: Any) -> TypeAdapter[Any]:
    """What reads one field."""
    return TypeAdapter(annotation)


@cache
def _allowed(annotation: Any, us: bool, is_list: bool) -> str:
    try:
        adapter(annotation).validate_python((_UNREADABLE,) if is_list else _UNREADABLE, context={US: us})
    except ValidationError as error:
        detail = error.errors(include_url=False)[0]
        if detail["type"] == "our_mistake":
            context = _of_a_number(annotation, us) or detail["ctx"]
            words = f"{context['allowed']}. {context['remedy']}."
        else:
            words = f"Allowed: {_expected(detail)}."
        return f"{words}{' Several, with commas between.' if is_list else ''}"
    return "A text; several, with commas between." if is_list else "A text."


def _of_a_number(annotation: Any, us: bool) -> Any:
    """The refusal of a number that is none of the field's, where plain numbers are read but have bounds."""
    try:
        adapter(annotation).validate_python("99", context={US: us})
    except ValidationError as error:
        detail = error.errors(include_url=False)[0]
        is_number = "without a unit" not in str(detail.get("ctx")) and "no unit" not in str(detail.get("ctx"))
        return detail["ctx"] if detail["type"] == "our_mistake" and is_number else None
    return None


def _expected(detail: Any) -> str:
    return str(detail.get("ctx", {}).get("expected", "")).replace("'", "")


def _told(error: ValidationError) -> str:
    detail = error.errors(include_url=False)[0]
    if detail["type"] == "our_mistake":
        said = (detail["ctx"][part] for part in ("what", "allowed", "remedy"))
        return " ".join(f"{one[:1].upper()}{one[1:]}{'' if one[-1] in '.?!' else '.'}" for one in said if one)
    if detail["type"] == "literal_error":
        return f'"{detail["input"]}" is not one of the words for this. Allowed: {_expected(detail)}.'
    return f'"{detail["input"]}" does not fit here.'


def _meaning(value: Value, read: Any) -> str:
    """What an answer is to the program, where it reads otherwise than typed."""
    if isinstance(read, tuple):
        return ", ".join(
            filter(None, (_meaning(str(one.written), one) for one in read if isinstance(one, Quantity)))
        )
    means = ""
    if isinstance(read, Quantity):
        means = f"{read.value:.6g} {read.unit}"
    elif isinstance(read, Strength):
        means = _strength(read)
    elif isinstance(read, float) and "%" in str(value):
        means = f"{read:g}"
    if isinstance(read, Money) or means == "" or _same(str(value), means):
        return ""
    return means


def _strength(read: Strength) -> str:
    if read.in_ppm:
        return f"{read.percent * 10_000:g} mg/L of what the label counts, for chlorine bleach the available chlorine"
    return f"{read.percent:.6g} % {read.basis}"


def _same(typed: str, means: str) -> bool:
    def plain(text: str) -> str:
        return re.sub(r"(\d+\.\d*?)0+(?=\s|$)", r"\1", text).replace(". ", " ").replace(" ", "")

    return plain(typed) == plain(means)


def _pattern(path: Path_) -> str:
    text = ""
    for step in path:
        text += "[]" if isinstance(step, int) else (f".{step}" if text else str(step))
    return text


@cache
def _bounds() -> Mapping[str, Plausible]:
    return {bound.field: bound for bound in published_rows(Plausible, "plausible").values()}


def _one_kind(one: str, other: str) -> bool:
    return any(one in units and other in units for _, units in kinds().values())


def _inwards(value: float, direction: int) -> str:
    """Three figures, a low end rounded up and a high end down."""
    text = f"{value:.3g}"
    if (float(text) - value) * direction < -1e-9 * abs(value):
        step = 10.0 ** (len(f"{abs(value):.0f}") - 3) if abs(value) >= 100 else abs(value) * 0.01
        text = f"{value + direction * step:.3g}"
    return text


def _unit_of(value: Value | None) -> str:
    first = value[0] if isinstance(value, tuple) and value else value
    match = re.fullmatch(r"[\d./ -]*\d ?([A-Za-z%].*)", first) if isinstance(first, str) else None
    return match.group(1) if match else ""


@cache
def _starter_units(us: bool) -> Mapping[tuple[str, str], str]:
    """Record and field -> the unit the starter writes it in."""
    found: dict[tuple[str, str], str] = {}
    for fact in starter_given(us, switched_off=True).values():
        unit = _unit_of(fact.value)
        if unit:
            found.setdefault((fact.record.__name__, fact.field), unit)
    return found


@cache
def starter_given(us: bool, switched_off: bool = False) -> Mapping[str, Fact]:
    """The facts of a new house by name; with those that are switched off, where asked."""
    found: dict[str, Fact] = {}
    for name, text in starter_facts(us).items():
        source, _ = read_yaml_text(switched_on(text) if switched_off else text, name)
        if source is not None and isinstance(source.data, dict):
            for fact in facts_of(source):
                if isinstance(fact, Fact) and fact.value is not None:
                    found[fact.name] = fact
    return found


__all__ = ["Answer", "allowed_words", "explanation", "read_answer", "shown_unit", "starter_given"]
