"""Reckoners: a reading typed at the bench becomes the answer of the printed tables, or a refusal in words.

`collect` takes the plain facts of a system from the register; the page's script `reckoners.js` answers from them.
`tests/reckoners/` holds the same functions in Python, and a browser test compares both to the last character.
"""

from macros.amounts.reckoners.inputs import NEEDS, collect, offered, reckoners_json
from macros.amounts.reckoners.words import sentence, span

__all__ = ["NEEDS", "collect", "offered", "reckoners_json", "sentence", "span"]
