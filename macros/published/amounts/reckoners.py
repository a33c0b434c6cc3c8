"""What the reckoners say: every sentence by its topic and name, for the program and the script of a page."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from typing import Annotated, Any, cast

from pydantic import create_model

from macros.ground.names import gaps
from macros.ground.records import Record
from macros.published import published

_SENTENCES = {
    "reading": "empty two_ways below_zero too_long no_number no_count no_choice range count clock "
    "clock_half_day no_clock day no_day",
    "level": "what over_rim over_mark over_mark_do under_pump under_pump_do full nearly_full add holds above_refill "
    "flood_fits flood_short plain part_row full_row no_row assume_home assume_row assume_leak",
    "dose": "item none",
    "ec": "what under_water over_table stop_do level_out in_band if_asked_raise if_asked_lower raise pour "
    "read_again dilute dilute_room swap swap_why swap_first no_lower assume_volume assume_pen",
    "ph": "what doses_what no_such out_of_reach out_do in_band stop stop_do dose tool too_little count "
    "how none_left no_acid no_base assume_full assume_half assume_up assume_pen",
    "missed_flood": "last_what now_what same act_now act_by gone half good since tomorrow young grown assume_clock "
    "assume_light assume_half",
    "strip": "task_what reading_what failed_what off_strip passed weak strong twice band never ask rinsed rinse_again "
    "rinse_twice assume_dilution assume_fresh assume_drops",
    "batch": "task_what wanted_what out why_vessel why_jar why_tub why_loop no_tool over loose undiluted shelf make "
    "rounded pour_water pour_stock make_up made assume_stock assume_page",
    "order": "crop_what wanted_what day_what amount nothing past far too_many planned late late_next sow no_room plants plugs sheets "
    "window off_weekday places few_places trays_free trays_full trays_unknown given assume_yield assume_plan",
    "page": "title intro no_script no_flood choose residue link marks count_doses count_failed clock "
    "pads sizes units in_sets",
    "names": "level ec ph missed_flood strip batch order",
    "titles": "level ec ph missed_flood strip batch order",
}  # fmt: skip
"""The sentences of each topic, in the order of the file; `level.add` is asked for by that name."""
_GAPS = """
    allowed amount batch by ceiling chemical clock closes crop day days dilution dome_off doses draw dry each earliest ec_high ec_low first full full_level
    free given gone high hours how last least left level life low made mended most name next now number off opens part ph_high ph_low plants plugs present
    refill responsible rim room row seeds share sheets shelf short size slope sow step stock strength strip swap system
    target task today tool tools top trays typed unit usable used vessel volume_unit water weekday what who whole why
"""
"""All that is filled in."""
Sentence = Annotated[str, gaps(*_GAPS.split())]


def _record(name: str, fields: Iterable[str], type_of: Callable[[str], Any]) -> type[Record]:
    defined: Any = {field: (type_of(field), ...) for field in fields}
    return cast(type[Record], create_model(name, __base__=Record, **defined))


ReckonerWords = _record(
    "ReckonerWords", _SENTENCES, lambda topic: _record(topic, _SENTENCES[topic].split(), lambda _: Sentence)
)
"""`reckoners.yml`, made of the names above."""


@cache
def reckoner_words() -> dict[str, dict[str, str]]:
    """Topic -> name -> sentence, a copy for the page's script."""
    return published(ReckonerWords, "reckoners").model_dump()
