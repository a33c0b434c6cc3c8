"""What tests of finished pages share."""

from __future__ import annotations

import pytest

from macros.rendering.site import Site
from tests.making import HOUSES, made_site


@pytest.fixture(scope="session")
def all_kinds() -> Site:
    """The manual of the house that has every kind of thing. Tests only look at it."""
    return made_site(HOUSES / "fourth")
