"""Whether a path of facts, as `policies.spill_limit`, can stand in a house: asked of the records, not of one house."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from macros.ground.names import Unknown
from macros.ground.record_shape import is_record, plain_type


@dataclass(frozen=True)
class PathEnd:
    """Where a path leads: `unknown` is its first name that nothing has; a group holds several facts."""

    unknown: Unknown | None = None
    is_group: bool = False


def path_end(model: type, path: str, names: Callable[[str], Collection[str]] = lambda _: ()) -> PathEnd:
    """Follow a path from a record type.

    Parameters
    ----------
    model : the record type it begins at
    path : names of fields with dots between them
    names : the names a mapping at a path may have, which no record type declares
    """
    current: Any = plain_type(model)
    above = ""
    for name in path.split("."):
        known = tuple(current.model_fields) if is_record(current) else ()
        if get_origin(current) is dict:
            known = tuple(names(above))
        if name not in known:
            return PathEnd((name, f"fact below {above}" if above else "fact", known))
        inner = current.model_fields[name].annotation if is_record(current) else get_args(current)[1]
        current = plain_type(inner)
        above = f"{above}.{name}" if above else name
    items = get_args(current)[0] if get_origin(current) is tuple else current
    return PathEnd(is_group=is_record(plain_type(items)) or get_origin(current) is dict)
