"""What records a record is made of: the way from a path in a file to the record type that stands there."""

from __future__ import annotations

from collections.abc import Mapping
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel


def record_at(model: type[BaseModel], path: tuple[str | int, ...]) -> type[BaseModel] | None:
    """The record type at a path below `model`: through fields, list positions and names of mappings; None elsewhere."""
    current: Any = model
    for step in path:
        current = _inner(current, step)
    current = plain_type(current)
    return current if is_record(current) else None


def field_names(model: type[BaseModel]) -> dict[str, str]:
    """Each field as a house file writes it -> its name in the record."""
    return {info.alias or name: name for name, info in model.model_fields.items()}


def _inner(annotation: Any, step: str | int) -> Any:
    """What stands at one step below: an item of a list, a value of a mapping, a field of a record."""
    annotation = plain_type(annotation)
    if is_record(annotation):
        name = field_names(annotation).get(str(step))
        return annotation.model_fields[name].annotation if name else None
    if get_origin(annotation) in (dict, Mapping):
        return get_args(annotation)[1]
    if get_origin(annotation) is tuple and isinstance(step, int):
        return get_args(annotation)[0]
    return None


def plain_type(annotation: Any) -> Any:
    """The type without its notes and without "or nothing"."""
    while True:
        if get_origin(annotation) is Annotated:
            annotation = get_args(annotation)[0]
        elif get_origin(annotation) in (Union, UnionType):
            annotation = next(part for part in get_args(annotation) if part is not type(None))
        else:
            return annotation


def is_record(annotation: Any) -> bool:
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)
