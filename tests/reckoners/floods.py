"""A missed flood: from the last good flood and the time now, how long each crop still has."""

from __future__ import annotations

from typing import Any

from macros.amounts.reckoners import sentence
from tests.reckoners.answer import Answer, Data, trimmed
from tests.reckoners.reading import Unread, read_clock, refused

DAY = 1440
"""[min]"""


def reckon_missed_flood(data: Data, last: str, now: str) -> Answer:
    """Time left for each crop and size, the soonest first.

    Parameters
    ----------
    data : of one system
    last : start of the last good flood, as typed, 24 h clock
    now : the time now, less than 24 h later

    Returns
    -------
    Answer
        for each crop, young and full-grown, when half of its printed hours are gone and when all; values
        `left:<crop>:<size>` [min], below zero where the time has passed.
    """
    rules = data["missed_flood"]
    try:
        start = read_clock(last, sentence("missed_flood.last_what"))
        at = read_clock(now, sentence("missed_flood.now_what"))
    except Unread as mistake:
        return mistake.answer
    gone = (at - start) % DAY
    if gone == 0:
        return refused(sentence("missed_flood.same"))
    rows = sorted(
        ((round(hours * 60), place, crop, size, hours) for place, crop, size, hours in _rows(rules["crops"])),
        key=lambda row: (row[0], row[1]),
    )
    values: dict[str, float | None] = {}
    lines = [sentence("missed_flood.since", gone=_spoken(gone), last=_clock(start))]
    now_due: list[tuple[str, str]] = []
    later: list[tuple[str, str]] = []
    for minutes, _, crop, size, hours in rows:
        values[f"left:{crop}:{size}"] = float(minutes - gone)
        who = sentence(f"missed_flood.{size}", crop=crop)
        half = minutes // 2
        state = "gone" if gone >= minutes else "half" if gone >= half else "good"
        lines.append(
            sentence(
                f"missed_flood.{state}",
                who=who,
                hours=trimmed(hours, 0.5, "down"),
                by=_when(start + half, start, at),
                dry=_when(start + minutes, start, at),
                left=_spoken(max(0, minutes - gone)),
            )
        )
        (later if state == "good" else now_due).append((who, _when(start + half, start, at)))
    if now_due:
        who = "; ".join(name for name, _ in now_due)
        title = sentence("missed_flood.act_now", system=data["system"], who=who)
    else:
        title = sentence("missed_flood.act_by", system=data["system"], by=later[0][1], who=later[0][0])
    assumed = tuple(
        sentence(f"missed_flood.{name}") for name in ("assume_clock", "assume_light", "assume_half")
    )
    return Answer("stop" if now_due else "answer", title, tuple(lines), (), assumed, values)


def _rows(crops: Any) -> list[tuple[int, str, str, float]]:
    return [
        (place * 2 + side, crop["name"], size, crop[size])
        for place, crop in enumerate(crops)
        for side, size in enumerate(("young", "grown"))
    ]


def _when(minute: int, start: int, at: int) -> str:
    """The clock at a minute counted from midnight before the flood; what is still to come on the next day says so."""
    clock = _clock(minute % DAY)
    seen = at if at > start else at + DAY
    later = minute // DAY > seen // DAY
    return sentence("missed_flood.tomorrow", clock=clock) if later else clock


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _spoken(minutes: int) -> str:
    """`3 h 30 min`, `45 min`, `6 h`."""
    hours, rest = divmod(minutes, 60)
    pieces = [f"{hours} h"] if hours else []
    if rest or not hours:
        pieces.append(f"{rest} min")
    return " ".join(pieces)
