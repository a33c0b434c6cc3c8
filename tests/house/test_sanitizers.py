"""What belongs to one kind of sanitizer is refused under another, at its line, with what this kind allows."""

from __future__ import annotations

from pathlib import Path

import pytest

from macros.amounts.sanitizer.rinsing import rinse_strip
from macros.ground.problems import errors_in
from macros.house import load_house
from tests.houses.sanitizers import KINDS, house_of
from tests.making import made_house

LOOP = 'loop_circulate: {chemical: bleach, target: "0.01 % w/v", ceiling: "0.02 % w/v"'
DIP = 'tool_dip: {chemical: bleach, target: "0.02 % w/v", ceiling: "0.03 % w/v", batch: "1.0 L", wet_time: "5 min", rinse: yes'
CASES = [
    (
        "strengths of the peroxide template",
        LOOP,
        LOOP.replace("0.01", "0.3").replace("0.02", "0.6"),
        [
            "73: sanitizing.tasks.loop_circulate.target: the target of loop_circulate is 0.3 % w/v (2857 ppm available chlorine): "
            "too strong for chlorine bleach. 500 ppm available chlorine (0.0525 % w/v) at most, or less where the label says less "
            "(a shock of an irrigation line: common practice, no source). Copy it from the label of this kind.",
            "73: sanitizing.tasks.loop_circulate.ceiling: the ceiling of loop_circulate is 0.6 % w/v (5715 ppm available "
            "chlorine): too strong for chlorine bleach. 500 ppm available chlorine (0.0525 % w/v) at most, or less where the label "
            "says less (a shock of an irrigation line: common practice, no source). Copy it from the label of this kind.",
        ],
    ),
    (
        "thin for its kind",
        LOOP,
        LOOP.replace("0.01", "0.001"),
        [
            "73: warning: sanitizing.tasks.loop_circulate.target: the target of loop_circulate is 0.001 % w/v (9 ppm available "
            "chlorine): thin for chlorine bleach. 50 ppm available chlorine (0.00525 % w/v) at least is usual (as on surfaces). "
            "Copy it from the label of this kind.",
        ],
    ),
    (
        "not rinsed",
        DIP,
        DIP.replace("rinse: yes", "rinse: no"),
        [
            "72: sanitizing.tasks.tool_dip.rinse: tool_dip is not rinsed off, and its ceiling is 0.03 % w/v (286 ppm available "
            "chlorine). 200 ppm available chlorine (0.021 % w/v) at most without a rinse (21 CFR 178.1010(c)(1), US FDA; from "
            "memory). Set rinse: yes, or a ceiling under that.",
        ],
    ),
    (
        "residue of the peroxide template",
        'residue_allowed: "0.5 mg/L"',
        'residue_allowed: "5 mg/L"',
        [
            "74: sanitizing.rinse.residue_allowed: 5 mg/L is too much free chlorine to stay behind. 0.5 mg/L at most: at 0.5 mg/L "
            "lettuce in solution lost a third of its weight (Irrigation Sources with Chlorine Drinking Water Standard Limits Cause "
            "Phytotoxicity on Lettuce, HortTechnology 33(1):125-130 (McGehee and Raudales), 2023). Write residue_allowed: "
            '"0.5 mg/L".',
        ],
    ),
    (
        "verified with nothing of the house",
        'verify_with: "low strip"',
        'verify_with: "banana"',
        [
            '74: sanitizing.rinse.verify_with: "banana" is no test strip of the house. A strip under test_strips or a thing under '
            "inventory. Strips that see this sanitizer: chlorine strip, low strip. Write its name as it stands there.",
        ],
    ),
    (
        "verified with a strip that cannot tell",
        'verify_with: "low strip"',
        'verify_with: "chlorine strip"',
        [
            "74: warning: sanitizing.rinse.verify_with: the first colour of chlorine strip over 0 is 10 mg/L: it cannot tell 0.5 "
            "mg/L of free chlorine. A strip or kit that shows 0.5 mg/L, as for drinking water. Buy one; until then only its 0 "
            "passes.",
        ],
    ),
    (
        "proved with a strip of another kind",
        'name: "low strip", measures: free_chlorine',
        'name: "low strip", measures: peroxide',
        [
            "74: sanitizing.rinse.verify_with: low strip reads peroxide, and what is rinsed off is free chlorine. Strips for free "
            "chlorine: chlorine strip. Name one of them.",
        ],
    ),
    (
        "a loop that is not rinsed, so that its page falls out",
        "level: pump_minimum_plus_flood, rinse: yes",
        "level: pump_minimum_plus_flood, rinse: no",
        [
            "73: warning: sanitizing.tasks.loop_circulate.rinse: loop_circulate is pumped through the loop and not rinsed out: there "
            "is no page for it. The page that sanitizes a loop rinses it, for what stays burns roots. Set rinse: yes, or leave the "
            "task out.",
        ],
    ),
    (
        "a neutralizer without a scale",
        'verify_with: "low strip"}',
        'verify_with: "low strip"}\n  neutralizer: {substance: ascorbic_acid, act_time: "5 min"}',
        [
            "75: sanitizing.neutralizer.substance: ascorbic acid is a powder, and the house has no scale. A powder is weighed in "
            'grams, never measured in mL. Write one under scales, with its capacity and its mark, as "0.1 g". [E24]',
        ],
    ),
]


def told(house: Path) -> list[str]:
    _, problems = load_house(house)
    return [str(one).removeprefix("site_data/house.yml:") for one in problems]


@pytest.mark.parametrize(
    ("old", "new", "messages"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_message(tmp_path: Path, old: str, new: str, messages: list[str]) -> None:
    assert told(made_house(tmp_path, (old, new), name="fifth")) == messages


def test_only_the_kind_is_changed(tmp_path: Path) -> None:
    """Each fact of the old kind is told, and nothing else; those of the new kind together are a good house."""
    quat = KINDS["quat"]
    change = (
        'name: "plain chlorine bleach", role: sanitizer, active: "sodium hypochlorite", strength: "6 % w/w", density: "1.09 g/mL"',
        quat.bottle,
    )
    found = told(made_house(tmp_path / "changed", change, name="fifth"))
    assert [one.split(":")[1].strip() for one in found if "warning" not in one] == [
        "sanitizing.tasks.loop_circulate.chemical",
        "test_strips[chlorine_low].measures",
        "sanitizing.rinse.residue_allowed",
    ]
    assert found[0].startswith(
        "73: sanitizing.tasks.loop_circulate.chemical: loop_circulate pumps quaternary ammonium through the loop. It foams in a "
        "pump, and its film stays on plastic that roots touch; no published limit says what they bear"
    )
    assert found[1].startswith(
        "77: test_strips[chlorine_low].measures: low strip reads free chlorine, and no strip of the house sees quaternary ammonium. "
        "Each kind of sanitizer has a strip of its own, else no batch of bleach can be proved. Buy strips for quaternary ammonium "
        "and write measures: quaternary_ammonium, with the name and the pads on their tube."
    )
    for kind in KINDS:
        assert told(house_of(tmp_path / kind, kind)) == [], kind


def test_a_neutralizer_of_another_kind(tmp_path: Path) -> None:
    (found,) = told(house_of(tmp_path, "peracetic", neutralizer="ascorbic_acid"))
    assert (
        "sanitizing.neutralizer.substance: ascorbic acid is published for no sanitizer of the house: peracetic acid. No "
        "neutralizer without the label's own words; the maker or the waste service takes it. Take neutralizer away, and let it go "
        "as its label says."
    ) in found


def test_a_strip_named_for_a_task(tmp_path: Path) -> None:
    strip = ('name: "low strip", measures: free_chlorine', 'name: "low strip", measures: peroxide')
    verify = ('verify_with: "low strip"', 'verify_with: "chlorine strip"')
    proof = (LOOP, LOOP + ", proved_with: chlorine_low")
    found = told(made_house(tmp_path, strip, verify, proof, name="fifth"))
    assert (
        "73: sanitizing.tasks.loop_circulate.proved_with: chlorine_low reads peroxide, and loop_circulate is chlorine bleach. Strips "
        "for free chlorine: chlorine. Name one of them."
    ) in found


ACID = 'name: "pH-down, nitric acid", role: acid, active: "nitric acid", strength: "10 % w/w", density: "1.0543 g/mL"'
BOTTLE = 'name: "plain chlorine bleach", role: sanitizer, active: "sodium hypochlorite", strength: "6 % w/w", density: "1.09 g/mL"'
CITRIC = 'name: "citric acid", role: acid, active: "citric acid", strength: "100 % w/w", density: "1.66 g/mL"'
DISSOLVE = (
    "is a powder, and pages pour in mL. A solution: at most 64 % w/w dissolves in water of 25 degC (77 degF). Dissolve it once, powder into "
    "water, and write what you then keep: 100 g of it pure made up to 1 L is 10 % w/v, which needs no density. [E05]"
)
SOLIDS = [
    (ACID, CITRIC, f'35: chemicals[down].strength: "100 % w/w" of citric acid {DISSOLVE}'),
    (
        ACID,
        CITRIC.replace("w/w", "w/v"),
        f'35: chemicals[down].strength: "100 % w/v" of citric acid {DISSOLVE}',
    ),
    (
        BOTTLE,
        'name: "pool chlorine", role: sanitizer, active: "calcium hypochlorite", strength: "68 % w/w", density: "1.0 g/mL"',
        '32: chemicals[bleach].strength: "68 % w/w" of calcium hypochlorite is a powder, and pages pour in mL. A solution: at most '
        "18 % w/w dissolves in water of 25 degC (77 degF). Take a liquid one: a sanitizer is not kept dissolved. [E05]",
    ),
]


@pytest.mark.parametrize(("old", "new", "message"), SOLIDS)
def test_a_powder_is_never_poured(tmp_path: Path, old: str, new: str, message: str) -> None:
    assert told(made_house(tmp_path, (old, new), name="fifth")) == [message]


def test_two_kinds_in_one_house_each_have_their_strip(tmp_path: Path) -> None:
    """The loop with peroxide, the tools with bleach: the last drops of each are read on a strip that sees it."""
    bleach = f'  - {{id: bleach, {BOTTLE}, container: "1 L", containers_in_stock: 2}}\n'
    pads = 'pads: ["0 mg/L", "0.5 mg/L", "1 mg/L", "10 mg/L"]'
    changes = (
        ("chemicals:\n", f"chemicals:\n{bleach}"),
        (
            "test_strips:\n",
            f'test_strips:\n  - {{id: free, name: "chlorine strip", measures: free_chlorine, {pads}}}\n',
        ),
        (
            'tool_dip: {chemical: perox, target: "3.0 % w/v", ceiling: "4.0 % w/v"',
            'tool_dip: {chemical: bleach, target: "0.02 % w/v", ceiling: "0.03 % w/v"',
        ),
        ('residue_allowed: "5 mg/L"', 'residue_allowed: "0.5 mg/L"'),
    )
    house, problems = load_house(made_house(tmp_path, *changes, name="fourth"))
    assert house is not None
    assert errors_in(problems) == []
    assert rinse_strip(house, "tool_dip") == "chlorine strip"
    assert rinse_strip(house, "loop_circulate") == "low strip"
