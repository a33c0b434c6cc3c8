"""The facts of one house as typed records, the rules between them, reading and writing its folder.

What you may touch here: a fact, a refusal, a warning. What a field can say of itself belongs to its type, what
needs two facts to `rules/`.
"""

from macros.house.files.load_house import load_house
from macros.house.records.house import House

__all__ = ["House", "load_house"]
