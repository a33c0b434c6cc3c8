"""What is not worked out for a house: an unknown name is our own slip, a missing fact is told with its place."""

from __future__ import annotations

import copy
import json
import re
from dataclasses import replace
from typing import Any

import pytest

from macros.amounts import NotFound, Register, compute_amounts
from macros.amounts.engine.register import UnknownAmount, Withheld
from macros.amounts.engine.working import Working
from macros.amounts.not_given import _ASKED_BY, NOT_ASKED, not_given, not_given_json, not_given_lines
from macros.doors import cli
from macros.house.records.house import House
from macros.manual.procedures.template_functions import WordMistake, Words
from macros.published.amounts.amount_ids import known_amount_ids
from macros.training.self_checks.sum_language import ExpressionEvaluator
from tests.facts import register_of, source_of
from tests.making import HOUSES, made_register, made_site

SLIP = r'^"res_fil" is no amount id; did you mean res_fill\? A new amount gets its row in macros/published/amounts/checked_by.yml first\.$'


@pytest.fixture(scope="module")
def first() -> Register:
    return made_register(HOUSES / "first")


@pytest.mark.parametrize(
    "slip",
    [
        lambda register, tank: register.get("res_fil", system="K"),
        lambda register, tank: register.find("res_fil", {"system": "K"}),
        lambda register, tank: register.of_id("res_fil"),
        lambda register, tank: register.of_id("res_fil", system="K"),
        lambda register, tank: register.on_page("res_fil", "K"),
        lambda register, tank: register.attempt("res_fil", tank, "shape").__enter__(),
        lambda register, tank: register.add(replace(register.get("res_fill"), id="res_fil")),
        lambda register, tank: Working(register, "res_gross", "", "").amount("res_fil"),
        lambda register, tank: Working(register, "res_fil", "", "").count(1, "", ""),
    ],
)  # fmt: skip
def test_a_misspelt_id_is_raised_and_never_withheld(first: Register, slip: Any) -> None:
    with pytest.raises(UnknownAmount, match=SLIP):
        slip(first, first.house.systems[0].reservoir)
    assert not issubclass(UnknownAmount, Withheld | NotFound)


def test_a_slip_within_an_amount_passes_through_its_attempt(first: Register) -> None:
    tank = first.house.systems[0].reservoir
    with (
        pytest.raises(UnknownAmount),
        first.attempt("res_usable", tank, "shape", system="K"),
    ):
        Working(first, "res_usable", "", "", system="K").whole("res_fil", system="K")
    assert ("res_usable", (("system", "K"),)) not in first.withheld


def test_an_id_like_no_other_gets_no_suggestion(first: Register) -> None:
    with pytest.raises(UnknownAmount, match=r'^"zzzzzzzz" is no amount id\. A new amount'):
        first.get("zzzzzzzz")


@pytest.mark.parametrize("way", ["place", "key"])
def test_an_unknown_field_has_no_place(first: Register, way: str) -> None:
    tank = first.house.systems[0].reservoir
    with pytest.raises(AttributeError, match=r"^a Reservoir has no field fill_mark_heigt$"):
        getattr(tank, way)("fill_mark_heigt")
    with pytest.raises(AttributeError, match="fill_mark_heigt"):
        Working(first, "res_fill", "", "").fact(tank, "fill_mark_heigt", "m")


def test_each_missing_fact_is_told_once_with_where_it_would_stand(first: Register) -> None:
    lines = list(not_given_lines(first))
    text = (HOUSES / "first" / "site_data" / "house.yml").read_text(encoding="utf-8").splitlines()
    plumbing = next(number for number, line in enumerate(text, 1) if line.startswith("    plumbing:"))
    cause = (
        "systems[K].plumbing.drain_inside_diameter is not given "
        f"(it would stand at site_data/house.yml:{plumbing}):"
    )
    at = lines.index(cause)
    assert lines[at + 1 : at + 3] == [
        "  flood_drain_time[system=K]",
        "  stagger_gap[system=K], which rests on flood_drain_time[system=K]",
    ]
    assert lines.count(cause) == 1
    for told in (
        "nothing is planted on system K:",
        "the house gives no crop_plan:",
        "no system gives rack:",
        f"{NOT_ASKED}:",
    ):
        assert told in lines
    assert re.fullmatch(r"\d+ amounts are not worked out for this house\.", lines[-1])


def test_what_rests_on_an_amount_nobody_asked_for_stands_under_its_cause() -> None:
    lines = list(not_given_lines(made_register(HOUSES / "third")))
    at = lines.index("the house gives no crop_plan.sow_weekday:")
    assert lines[at + 1] == "  dome_off[variety=lettuce], which rests on sow_date[variety=lettuce]"
    assert "  sow_date" in lines[at:]


@pytest.mark.parametrize("house", ["first", "second", "third", "fourth", "fifth"])
def test_every_known_amount_is_given_or_listed(house: str) -> None:
    register = made_register(HOUSES / house)
    listed = {id_ for cause in not_given(register) for id_, _, _ in cause.amounts}
    assert set(register.ids()) | listed == known_amount_ids()
    keys = {(id_, of) for cause in not_given(register) for id_, of, _ in cause.amounts}
    assert set(register.withheld) <= keys
    assert not keys & {(amount.id, amount.of) for amount in register.all()}


def _without(record: Any, path: list[str]) -> Any:
    """The record, or each of several, without what stands at a path of fields."""
    if isinstance(record, tuple):
        return tuple(_without(one, path) for one in record)
    value = getattr(record, path[0])
    empty: Any = type(value)() if isinstance(value, tuple | dict) else None
    return record.model_copy(update={path[0]: _without(value, path[1:]) if path[1:] else empty})


def with_neutralizer(name: str) -> Register:
    """The amounts of a house that takes its sanitizer out with ascorbic acid, weighed on a scale of its own."""
    data = copy.deepcopy(source_of(name).data)
    data["sanitizing"]["neutralizer"] = {"substance": "ascorbic_acid", "act_time": "5 min"}
    data["scales"] = [{"name": "kitchen scale", "capacity": "2 kg", "mark": "1 g"}]
    return register_of(replace(source_of(name), data=data))


@pytest.mark.parametrize("path", _ASKED_BY)
def test_what_asks_for_an_amount_is_true(path: str) -> None:
    # Chlorine bleach is taken out by a powder; none of the test houses has one.
    neutralized = path == "sanitizing.neutralizer"
    before = with_neutralizer("fifth") if neutralized else made_register(HOUSES / "fourth")
    # The nursery has lights of its own: where it stands, the light of a rack is not the only one asked for.
    rooms = before.house.model_copy(update={"nursery": None}) if path == "systems.lights" else before.house
    house: House = _without(rooms, path.split("."))
    after = compute_amounts(house, before.built_for, before.day_place)
    ids = set(_ASKED_BY[path])
    assert ids <= set(before.ids()) | {id_ for id_, _ in before.withheld}
    assert not ids & (set(after.ids()) | {id_ for id_, _ in after.withheld})
    told = {id_: cause.text for cause in not_given(after) for id_, of, _ in cause.amounts if not of}
    assert {told[id_].rpartition(" ")[2] for id_ in ids} == {path.removeprefix("systems.")}


def test_the_command_lists_them_and_the_json_says_the_same(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    house = HOUSES / "fourth"
    register = made_site(house).register
    for more, expected in (
        ([], "\n".join(not_given_lines(register)) + "\n"),
        (["--json"], not_given_json(register)),
    ):
        monkeypatch.setattr("sys.argv", ["trayside", "amounts", "--withheld", *more, "--house", str(house)])
        cli.main()
        assert capsys.readouterr().out == expected
    rows = {row["fact"]: row for row in json.loads(not_given_json(register))}
    assert rows["lifting.reach"]["amounts"] == [{"id": "lift_limit", "of": {}, "rests_on": ""}]
    assert re.fullmatch(r"site_data/house\.yml:\d+", rows["lifting.reach"]["where"])


def test_a_question_with_a_slip_is_not_left_out_in_silence(first: Register) -> None:
    with pytest.raises(UnknownAmount, match="did you mean res_fill"):
        ExpressionEvaluator(Words(first, {"system": "K"}), {}).work_out('amount("res_fil")')
    with pytest.raises(UnknownAmount, match="did you mean res_fill"):
        ExpressionEvaluator(Words(first, {"system": "K"}), {}).work_out('fewest("res_fil")')


def test_words_for_a_lacking_amount_do_not_hide_a_slip(first: Register) -> None:
    words = Words(first, {"system": "K"})
    assert words.amount("dry_hours", "none here") == "none here"
    with pytest.raises(WordMistake, match=r'^"dry_hour" is no amount id; did you mean dry_hours\?$'):
        words.amount("dry_hour", "none here")
