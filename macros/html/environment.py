"""The template environment of pages and sheets: strict about names, escaping everything."""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from functools import cache, lru_cache
from pathlib import Path

from jinja2 import BytecodeCache, Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup, escape

TEMPLATES = Path(__file__).parent / "templates"

_UNITS = (
    r"mL|L|fl oz|gal|cm|mm|m²|m|in|ft|min|h|days?|weeks?|s|°C|°F|mS/cm|mg/L|g/L|mL/L|L/min|gal/min|kg|lb|g|%|"
    r"g/mL|meq/L|eq/L|mmol/L|kPa|W|kWh|V|A|kg|parts?|plugs?|rinses?"
)
_DIGIT = re.compile(r"\d")
# Each begins with the space itself and then looks back: what begins with a plain letter is found many times as fast.
_NUMBER_UNIT = re.compile(rf" (?<=\d )(?=(?:{_UNITS})(?![\w/]))")
_RANGE = re.compile(r" to (?<=\d to )(?=\d)")
_SUM = re.compile(r" (?<=\d )\+ (?=\d)")
_TIMES = re.compile(r" (?<=\d )x (?=\d)")
_BEFORE_NUMBER = "|".join(
    rf"(?<=\b{word} )" for word in ("step", "part", "revision", "page", "pH", "EC", "level")
)
_NUMBERED = re.compile(rf" (?=\d)(?:{_BEFORE_NUMBER})", re.IGNORECASE)

LONGEST_WHOLE = 20
"""Characters: a longer name may end a line at a hyphen, or it would run out of a small label."""

_HYPHENED = re.compile(r"(?<![\w&#;-])(?=[\w-]*\d)\w+(?:-\w+)+")

# Characters Markdown would read as marks; inside our HTML blocks it does not look, but in headings it does.
_MARKDOWN = re.compile("([\\\\`*_{}\\[\\]()#+.!|<>~\"'-])")


# A run of letters written from right to left (Unicode: Hebrew to Arabic, their presentation forms, the scripts above).
_RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff"
_RIGHT_TO_LEFT = re.compile(f"[{_RIGHT}](?:[{_RIGHT} \u00a0\u200e\u200f-]*[{_RIGHT}])?")


def spaced(text: object) -> str:
    """The text with no-break spaces where a line must not end: between number and unit, in ranges."""
    plain = str(text).replace("\n", " ")
    if not _DIGIT.search(plain):  # most texts: nothing below but the name of a unit can be in them
        return plain.replace("fl oz", "fl\u00a0oz")
    plain = _NUMBER_UNIT.sub("\u00a0", plain)
    plain = plain.replace("fl oz", "fl\u00a0oz")
    plain = _RANGE.sub("\u00a0to\u00a0", plain)
    plain = _TIMES.sub("\u00a0x\u00a0", plain)
    plain = _SUM.sub("\u00a0+ ", plain)  # a long sum ends its line after a sign, never inside a number
    return _NUMBERED.sub("\u00a0", plain)


@lru_cache(maxsize=8192)
def joined(text: object) -> Markup:
    """The text `spaced` and escaped; a run from right to left stands apart, so that it moves no number beside it."""
    html = _entities(spaced(text))
    return Markup(html if html.isascii() else _RIGHT_TO_LEFT.sub(r"<bdi>\g<0></bdi>", html))


_DIALLED = re.compile(r"\+?\(?\d[\d\s()./-]*\d")


def dialled(phone: str) -> str:
    """What a telephone dials of a number as it is written: digits and a plus before them. Empty where no number, or
    more than one, stands there: a wrong number is worse than one to be typed.
    """
    found = [re.sub(r"[^\d+]", "", one.replace("(0)", "")) for one in _DIALLED.findall(phone)]
    numbers = [one for one in found if len(one.removeprefix("+")) >= 3]
    return numbers[0] if len(numbers) == 1 else ""


def with_telephones(text: object, phones: Sequence[str]) -> Markup:
    """The text `joined`; each of the `phones` that stands in it can be tapped and is dialled. The longest is looked for first.

    A figure with a unit is none of them: between the two stands a no-break space.
    """
    html = joined(text)
    dial, pattern = _to_dial(tuple(phones))
    if pattern is None or not any(number in html for number in dial):
        return html
    return Markup(pattern.sub(lambda found: _telephone(found[0], dial[found[0]]), str(html)))


@lru_cache(maxsize=8)
def _to_dial(phones: tuple[str, ...]) -> tuple[dict[str, str], re.Pattern[str] | None]:
    """What is dialled for each number as it stands in a page, and what finds them; a page asks for hundreds of texts."""
    dial = {str(joined(phone)): dialled(phone) for phone in phones if dialled(phone)}
    found = "|".join(rf"(?<![\w.\u00a0-]){re.escape(phone)}(?![\w\u00a0-]|\.\d)" for phone in dial)
    return dial, re.compile(found) if dial else None


def _telephone(html: str, number: str) -> str:
    return f'<a class="sop-tel" href="tel:{number}">{html}</a>'


def in_attribute(text: object) -> Markup:
    """The text `spaced` and escaped for the value of an attribute, where an element would be read out as letters."""
    return Markup(_entities(spaced(text)))


def unparted(html: Markup) -> Markup:
    """Escaped text with its days and numbers of things (2026-03-25, SOP-11-A) kept from ending a line at their hyphens."""
    return Markup(_HYPHENED.sub(_whole, str(html))) if "-" in html else html


def _whole(found: re.Match[str]) -> str:
    text = found.group(0)
    return f'<span class="whole">{text}</span>' if len(text) <= LONGEST_WHOLE else text


def _entities(plain: str) -> str:
    """Escaped for HTML and for the templates of other tools: braces as well, so that `{{` stays text."""
    return str(escape(plain)).replace("{", "&#123;").replace("}", "&#125;").replace("\n", " ")


def css_string(text: object) -> Markup:
    """The text as the inside of a quoted CSS string within a <style> element."""
    apart = _RIGHT_TO_LEFT.sub("\u2068\\g<0>\u2069", str(text))  # first strong isolate, and its end
    return Markup("".join(c if c.isalnum() or c in " .,:;·-/()" else f"\\{ord(c):06x}" for c in apart))


def markdown_text(text: object) -> Markup:
    """The text for a Markdown heading or link: every mark of Markdown and HTML made plain."""
    return Markup(
        _MARKDOWN.sub(lambda m: f"&#{ord(m.group(1))};", str(text).replace("&", "&amp;").replace("\n", " "))
    )


class _CompiledTemplates(FileSystemBytecodeCache):
    """A store that a full disk only makes useless: what cannot be kept is compiled again."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep one compiled template, if there is room."""
        with suppress(OSError):
            super().dump_bytecode(bucket)


@cache
def compiled_templates(kind: str = "templates") -> BytecodeCache | None:
    """Templates of one kind compiled once for each version of their text, in a folder only this user can write.

    Half of a small build is compiling templates that have not changed. The store is keyed on the text, so a
    changed template is compiled anew. None where no such folder can be had.

    What lies there is run. On POSIX systems Jinja takes a folder of its own in the temporary one, and refuses it
    unless it is no link, belongs to this user and nobody else may enter (mode 700); on Windows it takes the user's own
    temporary folder. Where no temporary folder can be written Python offers the current one instead, which may be a
    house of somebody else with code laid out for us: then nothing is kept.
    """
    try:
        if Path(tempfile.gettempdir()).resolve() == Path.cwd():
            return None
        return _CompiledTemplates(pattern=f"__{kind}_%s.cache")
    except (OSError, RuntimeError):
        return None


@cache
def template_environment() -> Environment:
    """One environment for the process. An undefined name is an error; all values are escaped."""
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        bytecode_cache=compiled_templates(),
    )
    environment.filters["nb"] = joined
    environment.filters["tel"] = with_telephones
    environment.filters["in_attribute"] = in_attribute
    environment.filters["unparted"] = unparted
    environment.filters["css"] = css_string
    environment.filters["md"] = markdown_text
    return environment


def render(template: str, **values: object) -> str:
    """The template file filled with the values."""
    return template_environment().get_template(template).render(**values)


def fragment(template: str, **values: object) -> Markup:
    """The template file filled with the values, finished HTML to be set into another template."""
    return Markup(render(template, **values))


def script_data(data: object) -> Markup:
    """JSON that may stand inside a script element: no mark of HTML in it, and no brace another template would read."""
    text = json.dumps(data, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    for mark in "<>&\u2028\u2029":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    for mark in "{%#":  # two marks in a row stand inside texts only, never between the data's own braces
        text = text.replace("{" + mark, f"{{\\u{ord(mark):04x}")
    return Markup(text)
