"""What every test run shares."""

from __future__ import annotations

from pathlib import Path

import pytest


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """The browser tests are read only when asked for by `-m browser`: their libraries are an extra of their own."""
    if collection_path.name == "browser" and config.getoption("markexpr") != "browser":
        return True
    return None
