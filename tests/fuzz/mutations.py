"""Damage to YAML and text as people, editors and spite make it: the same seed makes the same damage."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable, Iterator
from random import Random
from typing import Any

Way = tuple[str | int, ...]

HOSTILE_TEXTS = (
    "", " ", "~", "null", "0", "-0", "-1", "1e400", "-1e400", "nan", "inf", "-inf", "NaN L", "inf L", "1e5 L", "0x10", "1_000",
    "9" * 400, "9" * 5_000 + " L", "0." + "0" * 400 + "1", "-5 L", "0 L", "0.0000001 mL", "99999999999 m", "1,5 L", "1.5.5 L",
    "5 L 5", "5 furlong", "5 oz", "5 gal", "5 %", "100 % w/w", "0 % w/w", "1e2 % w/w", "250 ppm", "20 °C", "20 degC", "٣ L",
    "0001-01-01", "9999-12-31", "2031-02-30", "2031-13-01", "10000-01-01", "-2031-01-01", "1969-12-31", "2031-06-01T00:00",
    "00:00", "23:59", "24:00", "07:60", "every 0 days", "every 9999999 years", "every", "yes", "no", "true", "on", "[]", "{}",
    "K", "Z", "no_such_id", "K-9-L", "K-1-L", "__class__", "../../etc/passwd", "/etc/passwd", "C:\\house", "con", "a" * 41,
    "x" * 201, "y" * 2_001, "w" * 50_000, "ab " * 16_000, "-" * 50_000, "a-1" * 15_000,
    "{{ 7 * 7 }}", "{{ system }}", "{% for x in y %}", "{#", "{{", "}}", "${7*7}", "#{7}", "%s%s%n", "{0.__class__}",
    "<script>alert(1)</script>", "</style></script><img src=x onerror=alert(1)>", "javascript:alert(1)", "&lt;&#60;&", "]]>",
    "\u200b", "\ufeff", "e\u0301" * 40, "\u0645\u062d\u0645\u062f 5", "\U0001f331" * 30, "\ufffe", "\\ud800", "\\x00", "\u202e5 L",
    "!!python/object:os.system x", "&a 5", "*a", "<<", "'", '"', "`", "\\", "|", ">", "a: b", "- a", "# x", "\t", "a\nb", "---",
)  # fmt: skip
"""One for each kind of surprise: numbers, dates, units, ids, lengths, templates, markup, letters, YAML's own marks."""

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
FACTORS = (10, 0.1, 1000, 0.001, 1e6, 1e-6, 1e12, -1, 0, 2, 0.5)
UNITS = (
    "m", "cm", "mm", "ft", "in", "L", "mL", "us_gal", "imp_gal", "fl_oz", "kg", "g", "lb", "oz_wt", "s", "min", "h", "day", "week",
    "year", "degC", "degF", "L/h", "L/min", "m^3/h", "W", "kW", "V", "A", "mS/cm", "uS/cm", "mg/L", "g/L", "g/mL", "mL/L", "mL/m^2",
    "umol/m^2/s", "% w/w", "% w/v", "% v/v", "%", "ppm", "EUR", "EUR/kWh", "",
)  # fmt: skip


def damaged_bytes(random: Random, text: str) -> bytes:
    """The text with one kind of damage to its bytes or lines."""
    return random.choice(_BYTE_DAMAGE)(random, text)


def damaged_data(random: Random, data: Any) -> Any:
    """A copy of the data with one to three changes to its structure or values; text again as JSON, which is YAML."""
    data = copy.deepcopy(data)
    for _ in range(random.choice((1, 1, 1, 2, 3))):
        change = random.choice(_DATA_DAMAGE)
        ways = list(ways_into(data))
        if ways:
            change(random, data, random.choice(ways))
    return data


def as_yaml(data: Any) -> str:
    """Plain data as text, one entry a line."""
    return json.dumps(data, ensure_ascii=False, indent=1)


def ways_into(data: Any, way: Way = ()) -> Iterator[Way]:
    """The way to every entry, branches and leaves."""
    if isinstance(data, dict | list):
        for step, item in data.items() if isinstance(data, dict) else enumerate(data):
            yield (*way, step)
            yield from ways_into(item, (*way, step))


def at(data: Any, way: Way) -> Any:
    """What stands at a way."""
    for step in way:
        data = data[step]
    return data


# ------------------------------------------------------------------ bytes


def _flip(random: Random, text: str) -> bytes:
    raw = bytearray(text.encode())
    for _ in range(random.choice((1, 1, 3, 20))):
        raw[random.randrange(len(raw))] ^= 1 << random.randrange(8)
    return bytes(raw)


def _cut(random: Random, text: str) -> bytes:
    raw = text.encode()
    begin = random.randrange(len(raw))
    return raw[:begin] + raw[begin + random.choice((1, 2, 10, 200, len(raw))) :]


def _insert(random: Random, text: str) -> bytes:
    raw, begin = text.encode(), random.randrange(len(text))
    pieces = (b"\x00", b"\xff\xfe", b"\xc3", b"\t", b"\x1b[31m", b"\r", b"\x85", b"\xe2\x80\xae", b"\xed\xa0\x80", b"{{", b"}", b"]",
              b"[", b": ", b"\n- ", b"\n---\n", b"\n...\n", b"*a", b"&a ", b"!!int ", b"? ", b"%YAML 1.1\n", b"'", b'"', b"#", b"\xf0\x9f\x8c\xb1")  # fmt: skip
    return raw[:begin] + random.choice(pieces) + raw[begin:]


def _line(random: Random, text: str) -> bytes:
    lines = text.split("\n")
    number, other = random.randrange(len(lines)), random.randrange(len(lines))
    what = random.randrange(6)
    if what == 0:
        del lines[number]
    elif what == 1:
        lines.insert(other, lines[number])
    elif what == 2:
        lines[number], lines[other] = lines[other], lines[number]
    elif what == 3:
        lines[number] = random.choice(("  ", "    ", "\t", " ")) + lines[number]
    elif what == 4:
        lines[number] = lines[number].lstrip()
    else:
        lines[number] = lines[number].replace(random.choice('":,{}[]'), random.choice(("", ";", '"', ":")), 1)
    return "\n".join(lines).encode()


def _whole(random: Random, text: str) -> bytes:
    forms: tuple[Callable[[], bytes], ...] = (
        lambda: b"\xef\xbb\xbf" + text.encode(),
        lambda: text.encode("utf-16"),
        lambda: text.encode("utf-8").replace(b"\n", b"\r\n"),
        lambda: text.encode("utf-8").replace(b"\n", b"\r"),
        lambda: text.replace("  ", "\t").encode(),
        lambda: b"",
        lambda: b"\n\n\n",
        lambda: b"null",
        lambda: b"[" * 5_000,
        lambda: b"{a: " * 5_000,
        lambda: b"a: &a [1]\nb: [" + b"*a, " * 500 + b"*a]",
        lambda: (text + "\n") .encode() * 2,
        lambda: bytes(random.randrange(256) for _ in range(400)),
        lambda: text.encode() + b"\n" + b"x" * 1_000_001,
        lambda: text.encode() + b"\nextra: [" + b"1," * 60_000 + b"1]",
        lambda: text.encode() + b"\nextra: " + b"9" * 100_000,
        lambda: ("- " * 40 + text).encode(),
    )  # fmt: skip
    return random.choice(forms)()


_BYTE_DAMAGE = (_flip, _flip, _cut, _cut, _insert, _insert, _line, _line, _line, _line, _whole, _whole)


# ------------------------------------------------------------------ structure and values


def _remove(random: Random, data: Any, way: Way) -> None:
    del at(data, way[:-1])[way[-1]]


def _rename(random: Random, data: Any, way: Way) -> None:
    holder, step = at(data, way[:-1]), way[-1]
    if isinstance(holder, dict):
        name = random.choice(
            (
                f"{step}s",
                str(step)[:-1],
                str(step).upper(),
                "",
                "on",
                "id",
                "__class__",
                "5",
                "model_config",
                "_path",
            )
        )
        holder[name] = holder.pop(step)  # fmt: skip
    else:
        holder.append(holder[step])


def _retype(random: Random, data: Any, way: Way) -> None:
    old = at(data, way)
    deep: Any = "x"
    for _ in range(random.choice((3, 25, 60))):
        deep = [deep] if random.random() < 0.5 else {"a": deep}
    new: tuple[Any, ...] = (
        None,
        [],
        {},
        [old],
        {"a": old},
        [[old]],
        [None],
        {"id": old},
        {"": old},
        str(old)[:80],
        [old, old],
        deep,
    )
    at(data, way[:-1])[way[-1]] = random.choice(new)


def _hostile(random: Random, data: Any, way: Way) -> None:
    at(data, way[:-1])[way[-1]] = random.choice(HOSTILE_TEXTS)


def _scale(random: Random, data: Any, way: Way) -> None:
    """A figure some powers of ten off, or of the other sign."""
    way = _figure_near(random, data, way)
    old = at(data, way)
    if isinstance(old, str):
        factor = random.choice(FACTORS)
        new = NUMBER.sub(
            lambda found: f"{float(found.group()) * factor:.10f}".rstrip("0").rstrip("."), old, 1
        )
        at(data, way[:-1])[way[-1]] = new


def _unit(random: Random, data: Any, way: Way) -> None:
    way = _figure_near(random, data, way)
    old = at(data, way)
    if isinstance(old, str):
        at(data, way[:-1])[way[-1]] = f"{old.split(' ')[0]} {random.choice(UNITS)}".strip()


def _borrow(random: Random, data: Any, way: Way) -> None:
    """What stands elsewhere, of the same kind where it can be: ids of other things, twice the same id, cycles."""
    old = at(data, way)
    others = [at(data, other) for other in ways_into(data) if other[-1] == way[-1] and at(data, other) != old]
    if not others or random.random() < 0.3:
        others = [at(data, other) for other in ways_into(data) if type(at(data, other)) is type(old)]
    at(data, way[:-1])[way[-1]] = copy.deepcopy(random.choice(others))


def _double(random: Random, data: Any, way: Way) -> None:
    """A list grows by a copy of one of its items, or its items change places."""
    lists = [other for other in ways_into(data) if isinstance(at(data, other), list) and at(data, other)]
    if lists:
        items = at(data, random.choice(lists))
        if random.random() < 0.5:
            items.append(copy.deepcopy(random.choice(items)))
        else:
            random.shuffle(items)


def _empty_or_drop(random: Random, data: Any, way: Way) -> None:
    """A whole branch: dropped, emptied, or grown to a thousand."""
    holder, step = (data, way[0]) if isinstance(data, dict) else (at(data, way[:-1]), way[-1])
    old = holder[step]
    kind = random.randrange(3)
    if kind == 0:
        del holder[step]
    elif kind == 1:
        holder[step] = {} if isinstance(old, dict) else [] if isinstance(old, list) else ""
    elif isinstance(old, list) and old:
        holder[step] = [copy.deepcopy(old[n % len(old)]) for n in range(random.choice((10, 100)))]
    elif isinstance(old, dict):
        holder[step] = {**old, **{f"{name}_{n}": value for n in range(3) for name, value in old.items()}}


def _figure_near(random: Random, data: Any, way: Way) -> Way:
    """Another way, to a text with a figure in it, where the first leads to none."""
    old = at(data, way)
    if isinstance(old, str) and NUMBER.search(old):
        return way
    figures = [w for w in ways_into(data) if isinstance(at(data, w), str) and NUMBER.search(at(data, w))]
    return random.choice(figures) if figures else way


_DATA_DAMAGE = (
    _remove,
    _rename,
    _retype,
    _hostile,
    _hostile,
    _scale,
    _scale,
    _scale,
    _unit,
    _borrow,
    _borrow,
    _double,
    _empty_or_drop,
)
