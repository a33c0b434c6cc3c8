"""Reckoners: a reading typed at the bench becomes the answer of the printed tables, or a refusal in words.

`collect` takes the plain facts of a system from the register; `reckon_*` are pure functions on them. The page's
script `reckoners.js` holds the same functions and gives the same answers to the last character.
"""

from macros.amounts.reckoning.answer import Answer
from macros.amounts.reckoning.cleaning import reckon_batch, reckon_strip
from macros.amounts.reckoning.collect import NEEDS, collect, offered, reckoners_json
from macros.amounts.reckoning.floods import reckon_missed_flood
from macros.amounts.reckoning.ph import reckon_ph
from macros.amounts.reckoning.tank import reckon_ec, reckon_level

RECKONERS = {
    "level": reckon_level,
    "ec": reckon_ec,
    "ph": reckon_ph,
    "missed_flood": reckon_missed_flood,
    "strip": reckon_strip,
    "batch": reckon_batch,
}
"""Each takes the facts of a system and the texts of its fields, in the order of the page."""

__all__ = [
    "NEEDS",
    "RECKONERS",
    "Answer",
    "collect",
    "offered",
    "reckon_batch",
    "reckon_ec",
    "reckon_level",
    "reckon_missed_flood",
    "reckon_ph",
    "reckon_strip",
    "reckoners_json",
]
