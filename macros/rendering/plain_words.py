"""Texts whose only words are plain calls, as `{{ amount("stock_for_batch", task="tray_spray") }}`.

Nearly all texts of procedures are such. They are written here without a template, which would be looked up, read and
run for each of them; the answer is the same. Any other text, and any text that cannot be written, is left to the
template, which tells what is wrong.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

_TEXT = r"""(?:'[^'\\{}\n]*'|"[^"\\{}\n]*")"""
_KEY = rf"[a-z_]+={_TEXT}"
_CALL = re.compile(rf"\{{\{{ ?([a-z_]+)\(({_TEXT}(?:, {_TEXT})*(?:, {_KEY})*|{_KEY}(?:, {_KEY})*|)\) ?\}}\}}")
_ARGUMENTS = re.compile(rf"(?:([a-z_]+)=)?({_TEXT})")


@dataclass(frozen=True)
class _Call:
    """One word of a text: the function asked, and what it is asked with."""

    name: str
    arguments: tuple[str, ...]
    keys: tuple[tuple[str, str], ...]


def written(
    text: str, names: Mapping[str, Any], finish: Callable[[Any], Any] | None, most: int
) -> str | None:
    """The text with its words filled in; None where it holds more than plain calls, or a call is not answered.

    `finish` is what every answer passes through before it is printed. A text that outgrows `most` characters is left
    there, that much too long.
    """
    pieces = _pieces(text)
    if pieces is None:
        return None
    found, length = [], 0
    try:
        for piece in pieces:
            found.append(piece if isinstance(piece, str) else _answer(piece, names, finish))
            length += len(found[-1])
            if length > most:
                break
    except Exception:
        return None
    return "".join(found)


def _answer(call: _Call, names: Mapping[str, Any], finish: Callable[[Any], Any] | None) -> str:
    answer = names[call.name](*call.arguments, **dict(call.keys))
    printed = answer if finish is None else finish(answer)
    if not isinstance(printed, str):
        raise TypeError("left to the template, which prints it or says why not")
    return printed


@lru_cache(maxsize=8192)
def _pieces(text: str) -> tuple[str | _Call, ...] | None:
    """The text parted into what stands there and its calls; None where it holds anything else."""
    pieces: list[str | _Call] = []
    end = 0
    for found in _CALL.finditer(text):
        pieces += [text[end : found.start()], _call(found.group(1), found.group(2))]
        end = found.end()
    pieces.append(text[end:])
    return tuple(pieces) if all(_is_plain(piece) for piece in pieces) else None


def _is_plain(piece: str | _Call) -> bool:
    if isinstance(piece, str):
        return "{" not in piece and "\r" not in piece
    return len(dict(piece.keys)) == len(piece.keys)  # a key given twice is a mistake


def _call(name: str, written_arguments: str) -> _Call:
    found = [(key, quoted[1:-1]) for key, quoted in _ARGUMENTS.findall(written_arguments)]
    arguments = tuple(value for key, value in found if not key)
    return _Call(name, arguments, tuple((key, value) for key, value in found if key))
