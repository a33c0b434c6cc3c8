"""The reckoners in Python: what `reckoners.js` must answer to the last character, held against tables and sums by hand.

No page runs them. They take the facts that `macros.amounts.reckoners.inputs` puts into the page.
"""

from tests.reckoners.answer import Answer
from tests.reckoners.cleaning import reckon_batch, reckon_strip
from tests.reckoners.floods import reckon_missed_flood
from tests.reckoners.order import reckon_order
from tests.reckoners.ph import reckon_ph
from tests.reckoners.tank import reckon_ec, reckon_level

RECKONERS = {
    "level": reckon_level,
    "ec": reckon_ec,
    "ph": reckon_ph,
    "missed_flood": reckon_missed_flood,
    "strip": reckon_strip,
    "batch": reckon_batch,
    "order": reckon_order,
}
"""Each takes the facts of a system and the texts of its fields, in the order of the page."""

__all__ = [
    "RECKONERS",
    "Answer",
    "reckon_batch",
    "reckon_ec",
    "reckon_level",
    "reckon_missed_flood",
    "reckon_order",
    "reckon_ph",
    "reckon_strip",
]
