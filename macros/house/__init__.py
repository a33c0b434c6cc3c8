"""The house as typed records: loading, checking."""

from macros.house.house import House
from macros.house.loading import load_house

__all__ = ["House", "load_house"]
