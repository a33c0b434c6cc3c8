"""The sign-off levels of the house, 0 to 4, in words."""

from __future__ import annotations

LEVELS = ("0 visitor", "1 watches and rinses", "2 works under eyes", "3 works alone", "4 trains others")
