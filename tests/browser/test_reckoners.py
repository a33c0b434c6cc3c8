"""The page's script against the program: the same facts and the same typing give the same answer, to the last character."""

from __future__ import annotations

import copy
import random
import re
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from macros.amounts import Register
from macros.amounts.reckoners import collect
from macros.calculations.water import volumes
from macros.manual.pages.reckoner_markdown import reckoner_texts
from tests.facts import register_of, source_of
from tests.reckoners import RECKONERS

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
SCRIPT = ROOT / "macros" / "html" / "theme" / "assets" / "reckoners.js"
HOUSES = ("second", "fourth", "fifth")
EACH = 500
ODD = (
    "", " ", "\t7\n", "7,5", "1,234", "0,123", "12,", ",5", ".5", "5.", "-3", "\u22124", "1e1", "1e-7", "NaN", "abc", "7 cm",
    "06:30", "6.30", "6,30", "630", "6:5", "6:30 pm", "24:00", "2360", "0000", "٣", "0", "0.0", "00012.5", "1234567", "3.14159265", "x" * 40, "🌱" * 30,
    "<b>7</b>", "7\u00a0", "\ufeff7", "__proto__", "constructor",
)  # fmt: skip
"""What people and slips really type, and what a script may trip over."""


def reckoner_text(register: Register, system: str) -> str:
    """The finished reckoner page of a system."""
    wanted = f"reckon/reckoner-{system.lower()}.md"
    return next(one.text for one in reckoner_texts(register, []) if one.address == wanted)


def number(draw: random.Random, low: float, high: float, ends: tuple[float, ...]) -> str:
    """A reading: inside, a little outside, on a border or beside it, or odd."""
    way = draw.random()
    if way < 0.08:
        return draw.choice(ODD)
    if way < 0.25:
        return (
            f"{max(0.0, draw.choice(ends) + draw.choice((0, 0, -0.01, 0.01, 0.0001, -0.0001))):.4f}".rstrip(
                "0"
            ).rstrip(".")
        )
    value = draw.uniform(max(0.0, low - (high - low) * 0.1), high + (high - low) * 0.1)
    return f"{value:.{draw.choice((0, 1, 1, 2, 3, 4))}f}"


def clock(draw: random.Random) -> str:
    if draw.random() < 0.1:
        return draw.choice(ODD)
    hour, minute = draw.randrange(24), draw.choice((0, 15, 30, 59, draw.randrange(60)))
    return draw.choice((f"{hour:02d}:{minute:02d}", f"{hour}:{minute:02d}", f"{hour:02d}{minute:02d}"))


def order(draw: random.Random, data: dict[str, Any]) -> list[str]:
    """A crop, an amount and a day: from before the manual was built to beyond what is reckoned, or odd."""
    crops = data["order"]["crops"]
    crop = draw.choice([*crops, *crops, *crops, "", "toString"])
    most = 400.0 if crop in crops and crops[crop]["unit"] == "g" else 60.0
    day = date.fromisoformat(data["order"]["today"]) + timedelta(days=draw.randrange(-20, 430))
    odd = draw.choice((*ODD, "2031-02-29", "2031-6-1", "2032-02-29", "2031-06-31"))
    return [crop, number(draw, 0, most, (0.0, 1.0, most)), odd if draw.random() < 0.1 else day.isoformat()]


def typing(draw: random.Random, name: str, data: dict[str, Any]) -> list[str]:
    """The texts of one reckoner's fields."""
    count = draw.choice(("0", "0", "1", "2", "20", "21", "x", ""))
    if name == "missed_flood":
        return [clock(draw), clock(draw)]
    if name == "order":
        return order(draw, data)
    if name == "ph":
        rules = data["ph"]
        ends = (
            rules["least"],
            rules["low"],
            rules["target"],
            rules["high"],
            rules["most"],
            14.0,
        )
        return [
            number(draw, rules["least"], rules["most"], ends),
            count,
        ]
    if name in ("strip", "batch"):
        task = draw.choice([*data[name], *data[name], *data[name], "", "toString"])
        rule = data[name].get(task)
        if name == "batch":
            least, most = (rule["least"], rule["most"]) if rule else (0.0, 10.0)
            return [
                task,
                number(draw, least, most, (least, most, float(rule["printed_text"]) if rule else 1.0)),
            ]
        band = [rule[key] for key in ("low", "high", "allowed", "top") if key in rule] if rule else [5.0]
        return [task, number(draw, 0, rule["top"] if rule else 10.0, (0.0, *band)), count]
    tank = data["tank"]
    ends = tuple(float(tank[f"{mark}_text"]) for mark in ("pump_minimum", "refill", "fill", "rim"))
    level = number(draw, ends[0], ends[2], ends)
    if name == "level":
        return [level]
    rules = data["ec"]
    borders = tuple(rules[key] for key in ("least", "low", "target", "high", "most"))
    return [number(draw, rules["least"], rules["most"], borders), level]


def bare_page(browser: Browser, folder: Path, text: str) -> Page:
    """The facts and the script of a page alone, from disk."""
    facts = re.search(r'<script type="application/json" id="reckoner-facts">.*?</script>', text, re.DOTALL)
    assert facts is not None
    path = folder / "page.html"
    path.write_text(
        f'<!doctype html><meta charset="utf-8"><title>facts</title>{facts.group(0)}<script src="{SCRIPT.as_uri()}" defer></script>',
        encoding="utf-8",
    )
    page = browser.new_page()
    page.goto(path.as_uri())
    return page


@pytest.mark.parametrize("house", HOUSES)
def test_script_and_program_answer_alike(browser: Browser, tmp_path: Path, house: str) -> None:
    register = register_of(source_of(house))
    system = register.house.systems[-1]
    data = collect(register, system)
    page = bare_page(browser, tmp_path, reckoner_text(register, system.id))
    assert len(data["offered"]) == (5 if house == "second" else 7)
    for name in data["offered"]:
        draw = random.Random(f"{house} {name}")
        asked = [typing(draw, name, data) for _ in range(EACH)]
        answers = page.evaluate(
            """([name, asked]) => { const facts = JSON.parse(document.getElementById("reckoner-facts").textContent).data;
               return asked.map(fields => window.reckoners[name](facts, ...fields)); }""",
            [name, asked],
        )
        kinds = set()
        for fields, answer in zip(asked, answers, strict=True):
            expected = RECKONERS[name](data, *fields).as_json()
            assert answer == expected, (house, name, fields)
            kinds.add(answer["kind"])
        assert {"answer", "refused"} <= kinds, name
    page.close()


SHAPES = (
    volumes.Box(0.61, 0.43, 0.4),
    volumes.Cylinder(0.57, 0.4),
    volumes.HorizontalCylinder(0.4, 0.93),
    volumes.ConeFrustum(0.41, 0.63, 0.4),
    volumes.TaperedBox(0.5, 0.62, 0.37, 0.45, 0.4),
)


def made_facts(draw: random.Random, shape: volumes.Shape, data: dict[str, Any]) -> dict[str, Any]:
    """The facts with another tank and other measures: what no test house happens to have."""
    made = copy.deepcopy(data)
    full, dead = (volumes.volume_to_height(shape, height) for height in (0.3, 0.05))
    made["tank"] |= {"shape": {"kind": type(shape).__name__, **vars(shape)}, "full": full, "dead": dead}
    made["ph"]["down"] |= {"volume": full, "slope": draw.uniform(0.05, 0.6), "first": draw.uniform(3, 60)}
    for group in ("nutrients", "acids", "bases", "sanitizer"):
        tools = []
        for number in range(draw.randrange(1, 5)):
            mark = draw.choice((0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 2.5, 5.0, 10.0, 20.0))
            capacity = round(mark * draw.choice((7, 10, 25, 50, 60, 100)), 6)
            tools.append(
                {
                    "name": f"tool {number}",
                    "capacity": capacity,
                    "mark": mark,
                    "smallest_use": draw.choice((1, 3, 10)) * mark,
                    "own": "mL",  # marked in the unit the group is reckoned in
                    "per_own": 1.0,
                }
            )
        made["tools"][group] |= {"tools": tools, "limit": draw.choice((0.05, 0.1, 0.3))}
    return made


def test_script_and_program_agree_on_every_tank_and_any_measures(browser: Browser, tmp_path: Path) -> None:
    register = register_of(source_of("fourth"))
    data = collect(register, register.house.systems[0])
    page = bare_page(browser, tmp_path, reckoner_text(register, "K"))
    draw = random.Random("tanks and measures")
    asked = []
    for shape in SHAPES:
        for _ in range(25):
            made = made_facts(draw, shape, data)
            asked += [[name, made, *typing(draw, name, made)] for name in ("level", "ec", "ph", "batch")]
    answers = page.evaluate(
        "asked => asked.map(([name, facts, ...fields]) => window.reckoners[name](facts, ...fields))", asked
    )
    poured = 0
    for (name, made, *fields), answer in zip(asked, answers, strict=True):
        assert answer == RECKONERS[name](made, *fields).as_json(), (
            name,
            made["tank"]["shape"],
            made["tools"],
            fields,
        )
        poured += sum(
            "; tool" in str(line) or " x " in str(line) for line in (answer["lines"], answer["groups"])
        )
    assert poured >= 20
    page.close()


@pytest.mark.parametrize("site", ["fourth"], indirect=True)
def test_what_a_keypad_has_is_read(browser: Browser, site: Path) -> None:
    """A keypad of a phone has a comma or no point, and no colon; and the answer stands above the bar of emergencies."""
    page = browser.new_page(viewport={"width": 320, "height": 568})
    page.goto(next((site / "reckon").glob("reckoner-*.html")).as_uri())
    table = """([name, ...typed]) => window.reckoners[name](
        JSON.parse(document.getElementById("reckoner-facts").textContent).data, ...typed)"""
    for point, comma in (("6.5", "6,5"), ("5.25", "5,25")):
        assert page.evaluate(table, ["ph", comma, "0"]) == page.evaluate(table, ["ph", point, "0"])
    asked = page.evaluate(table, ["level", "1,234"])
    assert asked["kind"] == "refused"
    assert asked["title"] == '"1,234" can be read in two ways. Write 1.234, or 1234.'
    told = [
        page.evaluate(table, ["missed_flood", one, "12:45"])
        for one in ("06:30", "6.30", "6,30", "630", "0630")
    ]
    assert all(one == told[0] and one["kind"] != "refused" for one in told)
    page.locator("#in-ph-ph").fill("6,5")
    page.locator("#in-ph-doses").fill("0")
    page.locator("form[data-reckoner=ph] button").click()
    page.wait_for_timeout(300)
    bar = page.locator(".sop-help").bounding_box()
    header = page.locator(".md-header").bounding_box()
    first = page.locator("form[data-reckoner=ph] + [role=status] .reckon-title").bounding_box()
    assert bar is not None
    assert header is not None
    assert first is not None
    assert header["y"] + header["height"] <= first["y"]
    assert first["y"] + first["height"] <= bar["y"]
    page.close()


def test_a_typed_mark_stays_text(browser: Browser, tmp_path: Path) -> None:
    """What a person types is shown, never run: the answer is written as text."""
    register = register_of(source_of("fourth"))
    text = reckoner_text(register, "K")
    page = bare_page(browser, tmp_path, text)
    form = re.search(
        r'<div class="reckon"><form data-reckoner="level".*?</form>.*?</div></div>', text, re.DOTALL
    )
    assert form is not None
    path = tmp_path / "page.html"
    path.write_text(
        path.read_text(encoding="utf-8").replace("<script src", form.group(0) + "<script src"),
        encoding="utf-8",
    )
    page.reload()
    page.locator("#in-level-level").fill("<img src=x onerror=alert(1)>"[:24])
    page.locator("button").click()
    assert page.locator("[role=status] img").count() == 0
    assert page.locator("[role=status]").inner_text().startswith('NOT RECKONED "<img src=x onerror=a..."')
    page.close()
