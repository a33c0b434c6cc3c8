"""The mistakes, one a case, each with the message an owner reads. Line numbers are those of the first house."""

from __future__ import annotations

from dataclasses import dataclass

HOUSE = "site_data/house.yml"
A_LENGTH = "Allowed is a length in m, cm, mm, ft or in."


@dataclass(frozen=True)
class Case:
    """What is changed in the good house, and every message that must follow."""

    name: str
    changes: tuple[tuple[str, str], ...]
    messages: tuple[str, ...]
    alone: bool = False
    """Changes the structure of the file or hides other parts, so it cannot stand beside other mistakes."""


def one(name: str, old: str, new: str, *messages: str, alone: bool = False) -> Case:
    return Case(name, ((old, new),), tuple(f"{HOUSE}:{message}" for message in messages), alone)


CASES = (
    one(
        "E01 number without unit",
        'inside_width: "0.40 m", inside_height: "0.40 m"',
        'inside_width: "0.40", inside_height: "0.40 m"',
        f'19: systems[K].reservoir.inside_width: "0.40" has no unit. {A_LENGTH} Write it with one, for example "0.80 m". '
        "Nothing was assumed. [E01]",
    ),
    one(
        "E01 wrong kind",
        'supply_tube_volume: "0.5 L"',
        'supply_tube_volume: "0.5 kg"',
        '22: systems[K].plumbing.supply_tube_volume: "0.5 kg" is a mass, not a volume. Allowed is a volume in L, mL, us_gal, '
        'imp_gal, fl_oz, m^3 or ft^3. Write it as for example "5.0 L". [E01]',
    ),
    one(
        "E01 decimal comma",
        'ec: "0.30 mS/cm"',
        'ec: "0,30 mS/cm"',
        '13: water_source.ec: "0,30 mS/cm" has a decimal comma. Numbers have a decimal point. Write "0.30 mS/cm". [E01]',
        alone=True,
    ),
    one(
        "E02 ambiguous ounce",
        'part_1: "1.5 mL/L"',
        'part_1: "0.2 oz/us_gal"',
        '39: nutrients.stages.leafy.rates.part_1: "0.2 oz/us_gal" says oz. Ounce of weight or fluid ounce? The two differ by '
        "about 4 % for water and more for a concentrate. Write fl_oz or oz_wt. [E02]",
    ),
    one(
        "E03 gallon in a metric house",
        'container: "1 L", containers_in_stock: 1, opened: 2031-01-10, expires: 2033-01-01, ppe: [goggles, gloves_chem]}\n'
        "nutrients:",
        'container: "1 gal", containers_in_stock: 1, opened: 2031-01-10, expires: 2033-01-01, ppe: [goggles, gloves_chem]}\n'
        "nutrients:",
        '31: chemicals[up].container: "1 gal" says gal in a metric house. A US gallon is 3.785 L, an imperial one 4.546 L: '
        "20 % apart. Write us_gal or imp_gal. [E03]",
    ),
    one(
        "E04 percent without basis",
        'strength: "10 % w/w", density: "1.0543 g/mL"',
        'strength: "10 %", density: "1.0543 g/mL"',
        '28: chemicals[down].strength: "10 %" does not say its basis. Allowed is a percentage with its basis: w/w (mass in '
        "mass), w/v (g in 100 mL) or v/v. Say w/w, w/v or v/v as the label does. As w/w at 1.0543 g/mL this is 105.43 g/L; as "
        "w/v 100 g/L. [E04]",
    ),
    one(
        "E05 w/w without density",
        'strength: "10 % w/w", density: "1.0543 g/mL"',
        'strength: "10 % w/w"',
        '28: chemicals[down].density: "10 % w/w" is w/w and needs density (g/mL). From the label or the safety data sheet. '
        'Write it, as density: "1.04 g/mL". [E05]',
        alone=True,
    ),
    one(
        "E05 strength in v/v",
        'strength: "10 % w/v"',
        'strength: "10 % v/v"',
        '30: chemicals[up].strength: "10 % v/v" is in v/v, which needs the density of the pure liquid. w/w with density, or '
        "w/v. Take w/w or w/v from the safety data sheet. [E05]",
        alone=True,
    ),
    one(
        "E05 peroxide density off the published curve",
        'active: "nitric acid", strength: "10 % w/w", density: "1.0543 g/mL"',
        'active: "hydrogen peroxide", strength: "10 % w/w", density: "1.11 g/mL"',
        '28: chemicals[down].density: "1.11 g/mL" does not go with 10 % w/w. The published density of peroxide of that '
        "strength is 1.035 g/mL at 20 degC; a label within 1 % of it is taken. One of the two is copied wrong: read the label "
        "again. [E05]",
        alone=True,
    ),
    one(
        "E10 fill mark at the rim",
        'fill_mark_height: "0.30 m"',
        'fill_mark_height: "0.38 m"',
        "19: systems[K].reservoir.fill_mark_height: fill_mark_height 0.38 m is under 30 mm from the rim, or above it. "
        "inside_height is 0.40 m; the fill mark stays 30 mm under it. Lower the fill mark. [E10]",
        alone=True,
    ),
    one(
        "E10 pump minimum over the refill mark",
        'pump_minimum_height: "0.05 m"',
        'pump_minimum_height: "0.25 m"',
        "20: systems[K].reservoir.pump_minimum_height: pump_minimum_height 0.25 m is at or over refill_mark_height. "
        "refill_mark_height is 0.20 m; the pump needs water at the lowest day. Raise the refill mark. [E10]",
        alone=True,
    ),
    one(
        "E10 wall too low for the flood",
        'wall_height: "0.09 m"',
        'wall_height: "0.06 m"',
        "23: systems[K].trays.wall_height: flood_depth 0.030 m + overflow_head_allowed 0.020 m leave less than 15 mm under "
        "wall_height 0.06 m. 15 mm at least stay dry. Flood less deep or fit a higher wall. [E10]",
        alone=True,
    ),
    one(
        "E10 size of the wrong shape",
        "shape: box, inside_length",
        "shape: cylinder, inside_length",
        "19: systems[K].reservoir.inside_diameter: a cylinder tank needs inside_diameter. It needs inside_diameter, "
        "inside_height. Measure it inside with a tape. [E10]",
        "19: systems[K].reservoir.inside_length: a cylinder tank has no inside_length. It has inside_diameter, inside_height. "
        "Remove it, or mend the shape. [E10]",
        "19: systems[K].reservoir.inside_width: a cylinder tank has no inside_width. It has inside_diameter, inside_height. "
        "Remove it, or mend the shape. [E10]",
        alone=True,
    ),
    one(
        "E10 slip of the unit",
        'inside_length: "0.80 m", inside_width: "0.40 m", wall',
        'inside_length: "80 m", inside_width: "0.40 m", wall',
        '23: systems[K].trays.inside_length: "80 m" cannot be the size of a tank, tray or plate. 5 mm to 20 m. Measure again '
        "and look at the unit. [E10]",
        alone=True,
    ),
    one(
        "E25 EC in ppm",
        'ec_target: "1.35 mS/cm"',
        'ec_target: "700 ppm"',
        '39: nutrients.stages.leafy.ec_target: the EC is given as "700 ppm". Which scale of the meter, 500 or 700, is not '
        "said. Give it in mS/cm. [E25]",
    ),
    one(
        "E26 lux for plants",
        'lights: {on: "06:00"',
        'lights: {canopy_ppfd: "12000 lx", on: "06:00"',
        '26: systems[K].lights.canopy_ppfd: "12000 lx" is in lux. Lux is light for eyes; plants need umol/m^2/s. Measure with '
        "a plant light meter and give umol/m^2/s. [E26]",
    ),
    one(
        "E27 hardness for alkalinity",
        'alkalinity_as_caco3: "80 mg/L"',
        'alkalinity_as_caco3: "8 dH"',
        '13: water_source.alkalinity_as_caco3: "8 dH" is a hardness. Hardness and alkalinity are not the same quantity; asked '
        "is mg/L of what the field says. Ask the laboratory for alkalinity as CaCO3, or use a drop kit for it. [E27]",
        alone=True,
    ),
    one(
        "E28 temperature of another scale",
        'temperature: "14 degC"',
        'temperature: "14 degF"',
        '13: water_source.temperature: "14 degF" is no temperature of tap water; did you mean degC? 1 to 40 degC (34 to 104 '
        "degF). Read the thermometer again. [E28]",
        alone=True,
    ),
    one(
        "E29 no label for the sanitizer",
        'margins: {reserve_volume: "6 L", topup_strength: 0.5}',
        'margins: {reserve_volume: "6 L", topup_strength: 0.5}\nsanitizing: {label_reference: ""}',
        "50: sanitizing.label_reference: sanitizing.label_reference is empty. A sanitizing sheet is not printed without the "
        "label it rests on. Photograph the label and say where the picture is. [E29]",
    ),
    one(
        "E30 bare time",
        'on_time_set: "8 min"',
        "on_time_set: 8",
        '25: systems[K].timer.on_time_set: "8" is a time with no unit. Bare times are refused: minutes and hours are 60 times '
        'apart. Write min or h, as "10 min". [E30]',
    ),
    one(
        "E31 unknown field",
        "refill_mark_height",
        "refil_mark_hight",
        "19: systems[K].reservoir.refill_mark_height: this is missing. It is needed. Write it here. [E01]",
        "20: systems[K].reservoir.refil_mark_hight: refil_mark_hight is not a known field. Did you mean "
        "systems[K].reservoir.refill_mark_height? [E31]",
        alone=True,
    ),
    one(
        "E31 unknown section",
        "policies: {",
        "polices: {",
        "48: polices: polices is not a known section. Did you mean policies? [E31]",
    ),
    one(
        "E32 a name twice",
        'name: "syringe 20 mL"',
        'name: "cylinder 100 mL"',
        "43: measuring_tools[cylinder 100 mL].name: measuring_tools: two entries named cylinder 100 mL (the first at "
        "site_data/house.yml:42). Each name stands for one thing. Rename one. [E32]",
    ),
    one(
        "E32 a key twice",
        "ph_low: 5.6,",
        "ph_low: 5.6, ph_low: 5.7,",
        "40: nutrients.stages.leafy.ph_low: ph_low stands here a second time (first at line 40). Each name is written once. "
        "Remove one of the two. [E32]",
    ),
    one(
        "E33 an intent instead of a number",
        'reserve_volume: "6 L"',
        'reserve_volume: "a splash"',
        '49: margins.reserve_volume: "a splash" is not a number with a unit. Allowed is a volume in L, mL, us_gal, imp_gal, '
        'fl_oz, m^3 or ft^3. Measure it and write for example "5.0 L". [E33]',
    ),
    one(
        "E23 one tool for liquids that must never meet",
        'smallest_use: "20 mL", for: [nutrients]}',
        'smallest_use: "20 mL", for: [nutrients, sanitizer]}',
        "42: measuring_tools[cylinder 100 mL].for: 'cylinder 100 mL' serves sanitizer and nutrients. What is left in a tool "
        "meets the next liquid; these must never meet. Own one for each. [E23]",
    ),
    one(
        "bands out of order",
        "ph_target: 6.0, ph_high: 6.5}",
        "ph_target: 6.6, ph_high: 6.5}",
        "40: nutrients.stages.leafy.ph_target: ph_low 5.6, ph_target 6.6, ph_high 6.5 of leafy are out of order or range. "
        "low < target < high, between 4 and 9. Mend the band.",
        alone=True,
    ),
    one(
        "a part nobody mixes in",
        "mixing_order: [part_1, part_2]",
        "mixing_order: [part_1]",
        "33: nutrients.mixing_order: the part part_2 has no place in mixing_order. Every part has one. Put it where it is "
        "mixed in.",
        alone=True,
    ),
    one(
        "opened after it expires",
        'density: "1.0543 g/mL",\n     container: "1 L", containers_in_stock: 1, opened: 2031-01-10',
        'density: "1.0543 g/mL",\n     container: "1 L", containers_in_stock: 1, opened: 2034-01-10',
        "29: chemicals[down].opened: opened 2034-01-10 is after expires 2033-01-01. Mend one of the dates.",
        alone=True,
    ),
    one(
        "not a date",
        "as_of: 2031-05-01",
        "as_of: 1.5.2031",
        '4: house.as_of: "1.5.2031" is not a date. Year, month, day: 2026-04-14. Write it so. [E01]',
        alone=True,
    ),
    one(
        "not a clock time",
        '"13:00"',
        '"25:00"',
        '25: systems[K].timer.floods_set[1]: "25:00" is not a clock time. Hours and minutes on the 24 h clock: 06:30. Write it '
        "so. [E01]",
    ),
    one(
        "neither yes nor no",
        "drain_valve: yes",
        "drain_valve: maybe",
        '20: systems[K].reservoir.drain_valve: "maybe" is neither yes nor no. yes, no, true or false. Choose one. [E01]',
    ),
    one(
        "an anchor",
        "nutrients:\n",
        "nutrients: &feed\n",
        "32: file: an anchor (&) or alias (*) is used. Each value is written where it counts. Write the value out.",
        alone=True,
    ),
    one(
        "W02 old water test",
        "tested: 2031-03-01",
        "tested: 2029-03-01",
        "14: warning: water_source.tested: the tap water was tested on 2029-03-01, over 12 months before 2031-05-01. Once a "
        "year. Have it tested again. [W02]",
    ),
    one(
        "W04 meter overdue",
        "last: 2031-04-28",
        "last: 2031-04-10",
        "46: warning: meters[pH meter].last: pH meter was due for calibration on 2031-04-17. Every 7 day. Calibrate it and "
        "write the date. [W04]",
    ),
    one(
        "W06 high alkalinity",
        'alkalinity_as_caco3: "80 mg/L"',
        'alkalinity_as_caco3: "180 mg/L"',
        "13: warning: water_source.alkalinity_as_caco3: the alkalinity is 180 mg/L. Over 150 mg/L the acid needed brings too "
        "much with it. Blend in rain or low-mineral water. [W06]",
    ),
    one(
        "W10 telephone number not filled in",
        'poison_line: "555-0101 (fictional)"',
        'poison_line: "fill in before printing"',
        '9: fill this in: house.emergency.poison_line: poison_line still reads "fill in before printing". Every sheet and '
        "the emergency pages say DRAFT until it is real. Write the number. [W10]",
    ),
    one(
        "W10 place not filled in",
        'spill_kit: "blue bin"',
        'spill_kit: "Fill in before printing"',
        '12: fill this in: house.places.spill_kit: spill_kit still reads "Fill in before printing". Every sheet and the '
        "emergency pages say DRAFT until it is real. Write what is true in this house. [W10]",
    ),
    one(
        "values that are assumed",
        "water_source: {ph: 7.4",
        "water_source: {basis: assumption, ph: 7.4",
        "13: measure this: water_source.basis: these values are assumed. Amounts rest on them. Measure them, or copy them "
        "from the label, and write basis: measured or basis: label.",
    ),
    one(
        "no version of the program",
        'name: "Test Loft"',
        'name: "Test Loft"\n  made_with: "1.0"',
        '4: house.made_with: "1.0" is no version of the program. As `trayside --version` says it: 1.0.0. Write it so. [E01]',
        alone=True,
    ),
    one(
        "field of a stage misspelt",
        'leafy: {rates: {part_1: "1.5 mL/L", part_2: "1.5 mL/L"}, ec_target',
        'leafy: {rates: {part_1: "1.5 mL/L", part_2: "1.5 mL/L"}, ph_aim: 6, ec_target',
        "39: nutrients.stages.leafy.ph_aim: ph_aim is not a known field. Did you mean nutrients.stages.leafy.ph_high? [E31]",
        alone=True,
    ),
)
