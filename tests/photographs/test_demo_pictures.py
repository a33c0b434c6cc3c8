"""The pictures of the demo house: what the script draws is what lies there, small, and each has its words."""

from __future__ import annotations

from pathlib import Path

from PIL import Image

from macros.house import load_house
from macros.house.files.schema_words import SOURCE
from tests.photographs.draw_demo import FOLDER, drawings
