"""One house a kind of sanitizer: the fifth (metric) or second (US) with another bottle, its strips and its label's strengths."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from tests.making import HOUSES


@dataclass(frozen=True)
class Kind:
    """A bottle and what its label and strips say. `percent` of a task: target and ceiling [% w/v]."""

    bottle: str
    measures: str
    pads: tuple[str, ...]
    low_pads: tuple[str, ...]
    surfaces: tuple[str, str]
    loop: tuple[str, str] | None
    residue: str
    drain: str


KINDS = {
    "peroxide": Kind(
        'name: "hydrogen peroxide", role: sanitizer, active: "hydrogen peroxide", strength: "10 % w/w", density: "1.035 g/mL"',
        "peroxide", ("0", "100", "200", "400", "600", "800", "1000"), ("0", "2", "5", "10", "25"),
        ("1.0", "1.5"), ("0.3", "0.6"), "5", 'dilute_peroxide_below: "0.3 % w/v"',
    ),
    "hypochlorite": Kind(
        'name: "plain chlorine bleach", role: sanitizer, active: "sodium hypochlorite", strength: "6 % w/w", density: "1.09 g/mL"',
        "free_chlorine", ("0", "10", "25", "50", "100", "200"), ("0", "0.5", "1", "3", "10"),
        ("0.02", "0.03"), ("0.01", "0.02"), "0.5", 'dilute_chlorine_below: "0.005 % w/v"',
    ),
    "peracetic": Kind(
        'name: "peracetic sanitizer", role: sanitizer, active: "peracetic acid, hydrogen peroxide", strength: "5 % w/w", '
        'density: "1.12 g/mL"',
        "peracetic_acid", ("0", "50", "100", "150", "200", "250"), ("0", "1", "3", "5", "10"),
        ("0.015", "0.02"), ("0.01", "0.02"), "5", 'dilute_peracetic_acid_below: "0.001 % w/v"',
    ),
    "quat": Kind(
        'name: "quat sanitizer", role: sanitizer, active: "quaternary ammonium", strength: "10 % w/w", density: "0.99 g/mL"',
        "quaternary_ammonium", ("0", "100", "150", "200", "300", "400"), ("0", "0.1", "1", "5"),
        ("0.02", "0.03"), None, "0.1", 'dilute_quaternary_ammonium_below: "0.001 % w/v"',
    ),
}  # fmt: skip


DIP = (
    '    tool_dip: {chemical: bleach, target: "0.02 % w/v", ceiling: "0.03 % w/v", batch: "32 fl_oz", wet_time: "5 min", '
    'batch_life: "1 h", rinse: yes}'
)


def house_of(folder: Path, kind: str, *, us: bool = False, neutralizer: str = "") -> Path:
    """The house of a kind, written into `folder`."""
    own = KINDS[kind]
    lines = []
    text = (HOUSES / ("second" if us else "fifth") / "site_data" / "house.yml").read_text(encoding="utf-8")
    for line in text.splitlines():
        if 'active: "sodium hypochlorite"' in line:
            line = f"  - {{id: bleach, {own.bottle},"
        elif "chemical: bleach" in line:
            loop = "loop_circulate" in line
            strengths = own.loop if loop else own.surfaces
            if strengths is None:
                continue
            line = _with_strengths(line, strengths)
        elif "residue_allowed:" in line:
            line = line.replace('residue_allowed: "0.5 mg/L"', f'residue_allowed: "{own.residue} mg/L"')
            if neutralizer:
                line += f'\n  neutralizer: {{substance: {neutralizer}, act_time: "5 min"}}'
        elif "measures: free_chlorine" in line:
            pads = own.low_pads if "low strip" in line else own.pads
            shown = ", ".join(f'"{pad} mg/L"' for pad in pads)
            line = f"{line.split('measures:')[0]}measures: {own.measures}, pads: [{shown}]}}"
        line = re.sub(
            r"opened: \S+ expires: \S+, discard_below_fraction: 0.8,", "", line
        )  # a bottle not opened yet
        line = line.replace('name: "chlorine strip"', 'name: "batch strip"')
        if us and "tray_spray: {chemical: bleach" in line:
            lines.append(_with_strengths(DIP, own.surfaces))
        line = line.replace('dilute_chlorine_below: "0.005 % w/v"', own.drain)
        lines.append(line)
    if neutralizer:
        lines.append('scales: [{name: "powder scale", capacity: "200 g", mark: "0.1 g"}]')
    data = folder / "house" / "site_data"
    data.mkdir(parents=True)
    (data / "house.yml").write_text("\n".join(lines) + "\n", encoding="utf-8")
    return data.parent


def _with_strengths(line: str, strengths: tuple[str, str]) -> str:
    before, _, rest = line.partition("target: ")
    _, _, rest = rest.partition("ceiling: ")
    _, _, after = rest.partition(", ")
    return f'{before}target: "{strengths[0]} % w/v", ceiling: "{strengths[1]} % w/v", {after}'
