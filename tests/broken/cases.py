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


def controlled(name: str, section: str, *messages: str, people: str = "") -> Case:
    """A mistake in a section on wall copies or reviews, where CARD-1 was issued once; the section begins in line 52."""
    old = "topup_strength: 0.5}"
    issue = "{page: CARD-1, revision: 2, effective: 2031-01-05, approved_by: owner, why: new stock, values_code: 0000 0000}"
    return one(name, old, f"{old}\nissued:\n  - {issue}\n{section}{people}", *messages, alone=True)


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
        "mass), w/v (g in 100 mL) or v/v; or ppm. Say w/w, w/v or v/v as the label does. As w/w at 1.0543 g/mL this is 105.43 g/L; as "
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
        "28: chemicals[down].active: hydrogen peroxide is no acid. Known for role acid: phosphoric acid, nitric acid, sulfuric "
        "acid, citric acid, acetic acid, vinegar, hydrochloric acid, sulfamic acid, acid descaler. Read the label again: mend "
        "active or role.",
        '28: chemicals[down].density: "1.11 g/mL" does not go with 10 % w/w. The published density of peroxide of that '
        "strength is 1.035 g/mL at 20 degC (68 degF); a label within 1 % of it is taken. One of the two is copied wrong: read the label "
        "again. [E05]",
        alone=True,
    ),
    one(
        "E10 fill mark at the rim",
        'fill_mark_height: "0.30 m"',
        'fill_mark_height: "0.38 m"',
        "19: systems[K].reservoir.fill_mark_height: fill_mark_height 0.38 m is under 0.03 m from the rim, or above it. "
        "inside_height is 0.40 m; the fill mark stays 0.03 m under it. Lower the fill mark to 0.37 m. [E10]",
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
        "23: systems[K].trays.wall_height: flood_depth 0.030 m + overflow_head_allowed 0.020 m leave less than 0.015 m under "
        "wall_height 0.06 m. 0.015 m at least stay dry. Flood 0.025 m deep, or fit a wall of 0.065 m. [E10]",
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
        '23: systems[K].trays.inside_length: "80 m" cannot be the size of a tank, tray or plate. 0.005 m to 20 m. Measure again '
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
        "E01 shelf without a tank",
        "systems:\n",
        "systems:\n  - {id: H, name: shelf, fill_stage: leafy, trays: {count: 1, inside_length: 1 m, inside_width: 1 m, "
        "wall_height: 9 cm, flood_depth: 3 cm}}\n",
        "16: systems[H].reservoir: this is missing. Every page and dose here is for a tank whose pump floods trays; a shelf "
        "watered by hand or by drip, or a rack without a tank, is no such system. Measure its tank; without one take the system "
        "out and write a page of its own under procedures/. [E01]",
        alone=True,
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
        'name: "acid syringe 20 mL"',
        'name: "cylinder 100 mL"',
        "42: measuring_tools[cylinder 100 mL].name: measuring_tools: two entries named cylinder 100 mL (the first at "
        "site_data/house.yml:41). Each name stands for one thing. Rename one. [E32]",
    ),
    one(
        "E32 a key twice",
        "ph_low: 5.6,",
        "ph_low: 5.6, ph_low: 5.7,",
        "39: nutrients.stages.leafy.ph_low: ph_low stands here a second time (first at line 39). Each name is written once. "
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
        "41: measuring_tools[cylinder 100 mL].for: 'cylinder 100 mL' serves sanitizer and nutrients. What is left in a tool "
        "meets the next liquid; these must never meet. Own one for each. [E23]",
    ),
    one(
        "E23 one tool for sanitizer and water",
        'smallest_use: "20 mL", for: [nutrients]}',
        'smallest_use: "20 mL", for: [sanitizer, water]}',
        "41: measuring_tools[cylinder 100 mL].for: 'cylinder 100 mL' serves sanitizer and water. What is left in a tool meets "
        "the next liquid; these must never meet. Own one for each. [E23]",
        alone=True,
    ),
    one(
        "E23 one tool for acid and base",
        'smallest_use: "2 mL", for: [acids]}',
        'smallest_use: "2 mL", for: [acids_bases]}',
        "42: measuring_tools[acid syringe 20 mL].for: 'acid syringe 20 mL' serves acids_bases, and the house has both: down "
        "and up. What is left in a tool meets the next liquid; these must never meet. Own two tools, one for: [acids], one "
        "for: [bases]. [E23]",
        alone=True,
    ),
    one(
        "bands out of order",
        "ph_target: 6.0, ph_high: 6.5}",
        "ph_target: 6.6, ph_high: 6.5}",
        "39: nutrients.stages.leafy.ph_target: ph_low 5.6, ph_target 6.6, ph_high 6.5 of leafy are out of order or range. "
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
    controlled(
        "no wall copy",
        "wall_copies:\n  - {item: CARD-1, where: at the door, count: 0, printed: 2}",
        "53: wall_copies[0].count: 0 copies of CARD-1 at one place. 1 to 20 copies hang at a place. Count them, or remove the "
        "entry where none hangs.",
    ),
    controlled(
        "wall copies without end",
        "wall_copies:\n  - {item: CARD-1, where: at the door, count: 21, printed: 2}",
        "53: wall_copies[0].count: 21 copies of CARD-1 at one place. 1 to 20 copies hang at a place. Count them, or remove the "
        "entry where none hangs.",
    ),
    controlled(
        "wall copies that are no count",
        "wall_copies:\n  - {item: CARD-1, where: at the door, count: -1, printed: 2}",
        '53: wall_copies[0].count: "-1" is not a count. A whole number, 0 or more, without a unit. Count and write it. [E01]',
    ),
    controlled(
        "a wall copy nowhere",
        'wall_copies:\n  - {item: CARD-1, where: " ", count: 1, printed: 2}',
        "53: wall_copies[0].where: no place is written. Where the copy hangs, so that who swaps it finds it. Write it, as: at "
        "the sink, left of the tap.",
    ),
    controlled(
        "a revision never issued hangs",
        "wall_copies:\n  - {item: CARD-1, where: at the door, count: 1, printed: 3}",
        "53: wall_copies[0].printed: revision 3 of CARD-1 was never issued. Issued are 2. Read the revision printed on the "
        "sheet that hangs there; take a sheet without one down.",
    ),
    controlled(
        "E32 one place twice",
        "wall_copies:\n  - {item: CARD-1, where: at the door, count: 1, printed: 2}\n"
        "  - {item: CARD-1, where: at the door, count: 2, printed: 2}",
        "54: wall_copies[1].where: CARD-1 stands here twice: at the door. One entry for an item and a place. Write both copies "
        "under one count, or name the places apart. [E32]",
    ),
    controlled(
        "reviewed by a role that may not",
        "reviews:\n  - {page: CARD-1, when: 2031-02-01, by: helper, outcome: no change}",
        '53: reviews[0].by: "helper" may not review CARD-1. A review is by a role of level 4 under people: owner. Write the '
        "role that reviewed it.",
        people="\npeople:\n  - {role: owner, may: [all]}\n  - {role: helper, may: [daily], sign_off_level: 1}",
    ),
    controlled(
        "reviewed before it was issued",
        "reviews:\n  - {page: CARD-1, when: 2031-01-04, by: owner, outcome: no change}",
        "53: reviews[0].when: CARD-1 was reviewed on 2031-01-04, before its first issue on 2031-01-05. What is reviewed is an "
        "issued page. Mend the date.",
    ),
    controlled(
        "E32 reviewed twice on a day",
        "reviews:\n  - {page: CARD-1, when: 2031-02-01, by: owner, outcome: no change}\n"
        "  - {page: CARD-1, when: 2031-02-01, by: owner, outcome: change}",
        "54: reviews[1].when: CARD-1 is reviewed twice on 2031-02-01. One review a day for an item. Remove one. [E32]",
    ),
    controlled(
        "an outcome that is none",
        "reviews:\n  - {page: CARD-1, when: 2031-02-01, by: owner, outcome: fine}",
        '53: reviews[0].outcome: "fine" is not one of the words for this. Allowed: no change or change. Choose one.',
    ),
    controlled(
        "one revision twice",
        "  - {page: CARD-1, revision: 2, effective: 2031-02-05, approved_by: owner, why: x, values_code: 0000 0000}",
        "52: issued[1].revision: CARD-1 is issued here as revision 2 of 2031-02-05, after revision 2 of 2031-01-05. The entries "
        "of a page stand in order, each with a higher revision and no earlier day; a correction (noted) keeps the revision. "
        "Put the entries in order; trayside issue writes them so.",
    ),
    controlled(
        "a revision before the one before it",
        "  - {page: CARD-1, revision: 3, effective: 2031-01-04, approved_by: owner, why: x, values_code: 0000 0000}",
        "52: issued[1].effective: CARD-1 is issued here as revision 3 of 2031-01-04, after revision 2 of 2031-01-05. The entries "
        "of a page stand in order, each with a higher revision and no earlier day; a correction (noted) keeps the revision. "
        "Put the entries in order; trayside issue writes them so.",
    ),
    controlled(
        "a correction of nothing",
        "  - {page: CARD-2, revision: 1, effective: 2031-01-04, approved_by: owner, why: x, values_code: 0000 0000, "
        "noted: 2031-01-05}",
        "52: issued[1].noted: a correction of CARD-2, which was not issued before. A correction keeps the revision of the entry "
        "above it. Remove noted, or put back the entry that was lost.",
    ),
    controlled(
        "revision nought",
        "  - {page: CARD-2, revision: 0, effective: 2031-01-04, approved_by: owner, why: x, values_code: 0000 0000}",
        "52: issued[1].revision: revision 0 of CARD-2. Revisions count from 1; 0 stands on a page that was never issued. Let "
        "trayside issue write the entry.",
    ),
    one(
        "a policy on drafts that is none",
        "policies: {reservoir_change_every",
        "policies: {unapproved: forbid, reservoir_change_every",
        '48: policies.unapproved: "forbid" is not one of the words for this. Allowed: draft or refuse. Choose one.',
        alone=True,
    ),
)
