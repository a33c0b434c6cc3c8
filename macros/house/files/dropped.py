"""Facts that older houses write and nothing reads any more: told, and passed over, so that an upgrade breaks no folder."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from macros.ground.problems import Problem
from macros.ground.yaml_source import Path_, Source, human_path

DROPPED = frozenset({
    "cup", "crop_plan.moved_to_soil.bag_price", "edible_list.entries.sources", "germination.check_times",
    "germination.domes", "germination.sheet.plug_volume", "lifting.bench_height_lift_only",
    "margins.sowing_spare_fraction", "nursery.feed_strength", "nursery.sheets_per_tray", "policies.sign_off_levels",
    "sanitizing.prove_strength_with", "systems.plumbing.overflow_to", "systems.racks", "systems.reservoir.lid",
    "systems.shelves", "varieties.cuts", "varieties.harvest_life",
})  # fmt: skip
"""By their names from the section on, list positions left out."""


def without_dropped(source: Source) -> list[Problem]:
    """Take the dropped facts out of the data read; a warning for each."""
    found = list(_dropped(source.data, (), ""))
    for holder, path in found:
        del holder[path[-1]]
    return [
        Problem(
            source.place(path),
            human_path(source, path),
            "nothing reads this fact any more",
            "No amount and no page rests on it",
            "Take it away, or keep it as a comment",
            severity="warning",
        )
        for _, path in found
    ]


def _dropped(data: Any, path: Path_, names: str) -> Iterator[tuple[dict[Any, Any], Path_]]:
    if isinstance(data, list):
        for index, item in enumerate(data):
            yield from _dropped(item, (*path, index), names)
    elif isinstance(data, dict):
        for key, value in data.items():
            below = f"{names}.{key}".removeprefix(".")
            if below in DROPPED:
                yield data, (*path, key)
            else:
                yield from _dropped(value, (*path, key), below)
