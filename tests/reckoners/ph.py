"""A pH read becomes the next dose of pH-down or pH-up, or a stop: never more than the printed doses."""

from __future__ import annotations

from typing import Any

from macros.amounts.reckoners import sentence, span
from tests.reckoners.answer import Answer, Data, measured
from tests.reckoners.reading import Unread, read_count, read_number, refused


def reckon_ph(data: Data, ph: str, doses: str) -> Answer:
    """The next dose for a pH read in the full tank.

    Parameters
    ----------
    data : of one system
    ph : as typed; a unit under the band to a unit over it, up to the tap water's own and the table's last row
    doses : how many went in within 24 h, pH-down and pH-up together, as typed

    Returns
    -------
    Answer
        pH-down by the printed table; pH-up the printed first dose; a stop after two doses, or out of reach. Values `down` or `up`, in the tools' unit; None: too little.
    """
    rules = data["ph"]
    said: dict[str, Any] = {
        "system": data["system"],
        "responsible": data["responsible"],
        "ph_low": rules["low_text"],
        "ph_high": rules["high_text"],
        "most": rules["most_doses"],
    }
    try:
        read, typed = read_number(ph, sentence("ph.what"), span(rules["least_text"], rules["most_text"], ""))
        given = read_count(doses, sentence("ph.doses_what"))
    except Unread as mistake:
        return mistake.answer
    said |= {"typed": typed, "doses": given}
    said |= {"low": rules["least_text"], "high": rules["most_text"]}
    if read > 14:
        return refused(sentence("ph.no_such", **said))
    if not rules["least"] <= read <= rules["most"]:
        return Answer("stop", sentence("ph.out_of_reach", **said), (sentence("ph.out_do", **said),))
    if rules["low"] <= read <= rules["high"]:
        return Answer("answer", sentence("ph.in_band", **said), (), (), (_pen(rules),))
    if given >= rules["most_doses"]:
        return Answer("stop", sentence("ph.stop", **said), (sentence("ph.stop_do", **said),))
    if read > rules["high"]:
        return _down(data, read, said)
    return _up(data, said)


def _down(data: Data, read: float, said: dict[str, Any]) -> Answer:
    rules = data["ph"]["down"]
    if rules is None:
        return Answer("stop", sentence("ph.no_acid", **said))
    dose = min(rules["volume"] * rules["slope"] * (read - data["ph"]["target"]) / 2, rules["first"])
    assumed = [_full(data), sentence("ph.assume_half", slope=rules["slope_text"], first=rules["first_text"])]
    return _dose(data, "down", dose, said, assumed)


def _up(data: Data, said: dict[str, Any]) -> Answer:
    rules = data["ph"]["up"]
    if rules is None:
        return Answer("stop", sentence("ph.no_base", **said))
    return _dose(data, "up", rules["first"], said, [_full(data), sentence("ph.assume_up")])


def _dose(data: Data, way: str, millilitres: float, said: dict[str, Any], assumed: list[str]) -> Answer:
    rules = data["ph"]
    assumed.append(_pen(rules))
    found = measured(data, "bases" if way == "up" else "acids", millilitres, "down")
    if found is None:
        return Answer("answer", sentence("ph.too_little", **said), (), (), tuple(assumed), {way: None})
    number = said["doses"] + 1
    words = {**said, "amount": found.amount, "chemical": rules[way]["chemical"], "number": number}
    lines = [
        sentence("ph.tool", tools=found.tools),
        sentence("ph.how", **words),
        sentence("ph.count", **words),
    ]
    if number >= rules["most_doses"]:
        lines.append(sentence("ph.none_left", **words))
    return Answer(
        "answer", sentence("ph.dose", **words), tuple(lines), (), tuple(assumed), {way: found.total}
    )


def _full(data: Data) -> str:
    tank = data["tank"]
    return sentence("ph.assume_full", full_level=tank["fill_text"], unit=tank["level_shown"])


def _pen(rules: Any) -> str:
    return sentence("ph.assume_pen", off=rules["pen_text"])
