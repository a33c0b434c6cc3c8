"""The linter and the type checker are part of the tests."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    "arguments",
    [("ruff", "check", "."), ("ruff", "format", "--check", "."), ("mypy",)],
    ids=lambda arguments: " ".join(arguments),
)
def test_tool_finds_nothing(arguments: tuple[str, ...]) -> None:
    run = subprocess.run(
        [sys.executable, "-m", *arguments], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr
