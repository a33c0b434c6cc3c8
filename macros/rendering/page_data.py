"""Data that stands in a page, so that the page works from disk."""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup


def page_data(facts: Any) -> Markup:
    """JSON that may stand inside a script element: no mark of HTML in it, and no brace another template would read."""
    text = json.dumps(facts, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    for mark in "<>&\u2028\u2029":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    for mark in "{%#":  # two marks in a row stand inside texts only, never between the data's own braces
        text = text.replace("{" + mark, f"{{\\u{ord(mark):04x}")
    return Markup(text)
