"""A rehearsal as a table for the terminal, one line a step, and as JSON for other programs."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from macros.amounts.engine.amount import plain
from macros.rehearsal.model.equipment import Equipment
from macros.rehearsal.model.state import State, water_word
from macros.rehearsal.pages import Rehearsal
from macros.rehearsal.run import Run

_HEAD = (
    "step",
    "clock",
    "level",
    "tank",
    "trays",
    "water",
    "pump",
    "air",
    "timer",
    "drain",
    "lid",
    "crop",
    "what",
)


def table_lines(found: Rehearsal) -> Iterator[str]:
    """The first run step by step; a further start only where it is refused something."""
    for number, one in enumerate(found.runs):
        if number == 0 or one.findings:
            yield f"{found.page} on system {found.system}, from: {_words(one.start, found.of)}"
            rows = [_HEAD, _row("", "as it begins", one.start, found.of)]
            rows += [_row(str(m.step.number), m.step.sentence, m.after, found.of) for m in one.moments]
            widths = [max(len(row[column]) for row in rows) for column in range(len(_HEAD) - 1)]
            for row in rows:
                cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=False)]
                yield "  ".join([*cells, row[-1]]).rstrip()
            yield from (
                f"  refused at step {f.step.number}: {f.what}. {f.allowed}. [{f.rule}]" for f in one.findings
            )
            yield f"  let in {one.end.let_in.litres:.1f} L, gone down the drain {one.end.drained.litres:.1f} L"


def _words(state: State, of: Equipment) -> str:
    return ", ".join(
        f"{word} {state.word(word, of)}" for word in ("pump", "valve", "tank", "water", "trays", "crop")
    )


def _row(number: str, what: str, state: State, of: Equipment) -> tuple[str, ...]:
    words = state.words
    level = f"{of.level(state.tank.litres) * 100:.1f} cm"
    return (
        number, f"{state.clock:.0f} min", level, f"{state.tank.litres:.1f} L", f"{state.trays.litres:.1f} L", water_word(state.tank, of),
        *(words[one] for one in ("pump", "air", "timer", "valve", "lid", "crop")), what,
    )  # fmt: skip


def table_json(found: Rehearsal) -> str:
    """Every run with every moment; litres, minutes and words as the table has them."""
    runs = [_run(one, found.of) for one in found.runs]
    return (
        json.dumps({"page": found.page, "system": found.system, "runs": runs}, indent=1, ensure_ascii=False)
        + "\n"
    )


def _run(one: Run, of: Equipment) -> dict[str, Any]:
    moments = [
        {"step": m.step.id, "page": m.step.page, "number": m.step.number, **_state(m.after, of)}
        for m in one.moments
    ]
    refused = [{"rule": f.rule, "page": f.step.page, "step": f.step.id, "what": f.what} for f in one.findings]
    return {"start": _state(one.start, of), "moments": moments, "refused": refused}


def _state(state: State, of: Equipment) -> dict[str, Any]:
    words = {word: state.word(word, of) for word in (*state.words, "tank", "water", "trays")}
    return {
        "clock_min": plain(state.clock),
        "level_m": plain(of.level(state.tank.litres)),
        "tank_L": plain(state.tank.litres),
        "trays_L": plain(state.trays.litres),
        "held_up_L": plain(state.held_up.litres),
        "let_in_L": plain(state.let_in.litres),
        "drained_L": plain(state.drained.litres),
        "in_tank": {name: plain(amount) for name, amount in state.tank.held.items()},
        "measures": dict(state.measures),
        "gear": sorted(state.gear),
        **words,
    }
