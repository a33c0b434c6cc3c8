"""Four kinds of sanitizer, four tasks, two systems of units: doses, strips, words and waste by hand from label and handbook."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from macros.amounts import Register
from macros.ground.units import convert
from macros.manual.cautions.cautions_of_page import page_cautions
from macros.manual.cautions.step_facts import StepFacts
from macros.manual.house_facts.chemicals_in_hand import made_handling, stock_handling
from macros.published.safety.bands import codes_of
from tests.houses.sanitizers import house_of
from tests.making import made_register

STOCK = {"peroxide": 103.5, "hypochlorite": 65.4, "peracetic": 56.0, "quat": 99.0}
"""[g/L] % w/w x 10 x density of each bottle, by hand."""
WANTED = {  # [mg/L] of the active, by hand from the % w/v of the task: on surfaces, in the loop
    "peroxide": (10_000, 3_000), "hypochlorite": (200, 100), "peracetic": (150, 100), "quat": (200, None),
}  # fmt: skip
DRAIN = {"peroxide": 3_000, "hypochlorite": 50, "peracetic": 10, "quat": 10}
"""[mg/L] Limit of the drain, by hand from the % w/v of the house."""
READ = {"peroxide": 1.0, "hypochlorite": 70.906 / 74.442, "peracetic": 1.0, "quat": 1.0}
"""What the strip reads of 1 mg of the active: chlorine as Cl2, molar masses."""
SAYS = {"peroxide": "", "hypochlorite": "ppm available chlorine", "peracetic": "ppm", "quat": "ppm"}
CAUTIONS = {
    "peroxide": ("CHEM-PEROXIDE-CONC", "CHEM-PEROXIDE-DILUTE"),
    "hypochlorite": ("CHEM-CHLORINE-SOLUTION", "CHEM-CHLORINE-DILUTE"),
    "peracetic": ("CHEM-PERACETIC-CONC", "CHEM-PERACETIC-DILUTE"),
    "quat": ("CHEM-QUAT-CONC", "CHEM-QUAT-DILUTE"),
}
AQUATIC = {"peroxide": False, "hypochlorite": False, "peracetic": True, "quat": True}
"""Very toxic to water life as bought (H410): peracetic acid and quats from 5 %, bleach from 10 % only (bands.yml)."""
TASKS = ("tray_spray", "parts_soak", "tool_dip", "loop_circulate")


@cache
def register(kind: str, us: bool) -> Register:
    with TemporaryDirectory() as folder:
        return made_register(house_of(Path(folder), kind, us=us))


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
@pytest.mark.parametrize("kind", STOCK)
def test_doses_strips_and_waste(kind: str, us: bool) -> None:
    of = register(kind, us)
    system = of.house.systems[0].id
    for task in TASKS:
        wanted = WANTED[kind][task == "loop_circulate"]
        keys = {"system": system, "task": task}
        if wanted is None:
            assert not of.of_id("stock_for_batch", **keys)  # a quat is not pumped round
            continue
        (volume,) = (
            a
            for id_ in ("batch_spray", "batch_soak", "batch_tool_dip", "loop_volume")
            for a in of.of_id(id_, **keys)
        )
        litres = convert(volume.rounded, volume.unit, "L")
        stock = of.get("stock_for_batch", **keys)
        poured = convert(stock.rounded, stock.unit, "mL")
        by_hand = litres * wanted / STOCK[kind]  # mL: L x mg/L / (g/L)
        assert stock.exact == pytest.approx(by_hand, rel=0.01), (kind, task)
        assert by_hand * 0.999 <= poured <= by_hand * 1.12, (kind, task)
        made = poured * STOCK[kind] / litres  # mg/L
        said = of.get("strength_made", **keys).printed
        assert "% w/v" in said
        assert (f" {SAYS[kind]})" in said) == bool(SAYS[kind])
        if SAYS[kind]:
            printed = float(said.split("(")[1].split()[-len(SAYS[kind].split()) - 1])
            assert made * READ[kind] - 1 <= printed <= made * READ[kind] + 1
        band = of.get("strip_band", **keys)
        dilution = of.get("strip_dilution", **keys).exact
        assert band.tool == "batch strip"
        assert 0.9 * wanted * READ[kind] <= band.exact["low"] * dilution <= 1.25 * wanted * READ[kind]
        water = of.get("quench_water", **keys)
        assert convert(water.rounded, water.unit, "L") >= litres * (made / DRAIN[kind] - 1) * 0.99


@pytest.mark.parametrize("kind", STOCK)
def test_words_of_bottle_and_batch(kind: str) -> None:
    of = register(kind, False)
    chemical = of.house.chemical("bleach")
    bought, made = stock_handling(chemical), made_handling(of, chemical, "parts_soak", "K")
    for item, expected in zip((bought, made), CAUTIONS[kind], strict=True):
        assert item is not None
        page = page_cautions([StepFacts("a", "pour", handlings=(item,))])
        assert [one.id for one in page.summary if one.id.startswith("CHEM-")] == [expected]
        assert {"goggles", "gloves_chem"} <= set(page.ppe)
    assert ("H410" in codes_of(bought)) == AQUATIC[kind]  # type: ignore[arg-type]


# Handbooks: what so much of a bottle in so much water gives, from memory of extension sheets and labels.
HANDBOOK = [
    ("hypochlorite", "1 tablespoon of 5.25 % bleach in 1 gal: about 200 ppm", 14.79, 52.5, 3.785, 200),
    ("hypochlorite", "bleach of 5.25 % 1 in 10: 5250 ppm (CDC 2008)", 100, 52.5, 1.0, 5250),
    ("peracetic", "1 fl oz of 5.6 % peracetic acid in 5 gal: about 98 ppm", 29.57, 56 * 1.12, 18.93, 98),
    ("quat", "1 fl oz of a 10 % quat in 4 gal: about 200 ppm", 29.57, 99.0, 15.14, 200),
]


@pytest.mark.parametrize("row", HANDBOOK, ids=lambda row: row[1])
def test_the_factors_give_what_handbooks_say(row: tuple[str, str, float, float, float, float]) -> None:
    kind, _, millilitres, stock, water, ppm = row
    assert millilitres * stock / water * READ[kind] == pytest.approx(ppm, rel=0.06)


def test_a_neutralizer_is_weighed(tmp_path: Path) -> None:
    """Thiosulfate crystals, 3.50 g for each g of chlorine (1 mol to 1 mol); the strip reads 0 before the drain."""
    of = made_register(house_of(tmp_path, "hypochlorite", neutralizer="sodium_thiosulfate_pentahydrate"))
    for id_, task, batch in (
        ("neutralizer_dose", "parts_soak", "batch_soak"),
        ("neutralizer_loop", "loop_circulate", "loop_volume"),
    ):
        dose, made = of.get(id_, system="K", task=task), of.get("strength_made", system="K", task=task).exact
        litres = of.get(batch, system="K").rounded
        assert dose.exact == pytest.approx(litres * made * 10 * READ["hypochlorite"] * 3.50, rel=0.01)
        assert dose.exact <= dose.rounded <= dose.exact + 0.1
        assert dose.tool == "powder scale"
        assert dose.unit == "g"
        assert not of.of_id("quench_water", system="K", task=task)
    assert of.get("quench_water", system="K", task="tool_dip").rounded > 0
    # the litres that went beside the two batches are not let in any more
    thinned = register("hypochlorite", False)
    spared = sum(
        thinned.get("quench_water", system="K", task=task).rounded
        for task in ("parts_soak", "loop_circulate")
    )
    waste = [one.get("disposal_volume", system="K").exact for one in (thinned, of)]
    assert waste[0] - waste[1] == pytest.approx(spared)


def test_hours_of_tap_beside_a_batch_are_told(tmp_path: Path) -> None:
    house = house_of(tmp_path, "hypochlorite")
    file = house / "site_data" / "house.yml"
    file.write_text(
        file.read_text().replace(
            'dilute_chlorine_below: "0.005 % w/v"', 'dilute_chlorine_below: "0.00005 % w/v"'
        )
    )
    told = [str(one) for one in made_register(house).problems if "dilute_chlorine_below" in str(one)]
    assert any(
        "of water beside it, " in one
        and " h of the open tap. Over 60 min nobody stands by (our own figure). Write sanitizing.neutralizer "
        "(sodium thiosulfate or sodium thiosulfate pentahydrate or ascorbic acid or sodium ascorbate), or ask the sewer works "
        "what the drain may take."
        in one
        for one in told
    ), told
