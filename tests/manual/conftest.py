"""The finished manuals of three made-up houses, worked out once."""

from __future__ import annotations

import pytest

from macros.rendering.site import Site
from tests.making import HOUSES, made_site


@pytest.fixture(scope="session")
def sites() -> dict[str, Site]:
    """second: US units and no varieties; fourth: all kinds of thing; fifth: one rack, hypochlorite."""
    return {name: made_site(HOUSES / name) for name in ("second", "fourth", "fifth")}
