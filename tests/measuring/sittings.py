"""A sitting at a house with the answers at hand, and the questions it put."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path

from macros.house.files.new_house import start_house
from macros.measuring.agenda import Asked
from macros.measuring.dialogue import Dialogue
from macros.measuring.house_files import HouseFiles
from macros.measuring.rests_on import RestsOn, rests_on
from macros.measuring.talk import Talk
from macros.site.site import Site
from tests.making import made_site


def new_house(folder: Path, us: bool = False) -> Path:
    """A new house as `trayside new` writes it."""
    return start_house(folder / "house", us)


@cache
def starter_site(us: bool) -> Site:
    """The manual of a new house, worked out once in a run."""
    with tempfile.TemporaryDirectory() as folder:
        return made_site(new_house(Path(folder), us))


@cache
def starter_rests(us: bool) -> RestsOn:
    """What the pages of a new house rest on."""
    site = starter_site(us)
    return rests_on(site.built, site.register)


MOST_QUESTIONS = 600
"""More than any house has: a question that is put for ever ends the test."""


class Sitting:
    """A dialogue whose questions are answered by a list or by a function; what was said is kept."""

    def __init__(
        self,
        house: Path,
        answers: Sequence[str] | Callable[[str], str],
        asked: Asked | None = None,
        us: bool = False,
    ) -> None:
        self.said: list[str] = []
        self._count = 0
        self._answers = iter(answers) if not callable(answers) else None
        self._answer = answers if callable(answers) else None
        talk = Talk(self._ask, self.said.append)
        self.dialogue = Dialogue(HouseFiles(house), starter_rests(us), talk, asked or Asked())
        self.dialogue.run()

    @property
    def told(self) -> str:
        """All that was said and asked, line by line."""
        return "\n".join(self.said)

    def _ask(self, question: str) -> str:
        self.said.append(question)
        self._count += 1
        assert self._count < MOST_QUESTIONS, self.told[-2000:]
        if self._answer is not None:
            return self._answer(question)
        assert self._answers is not None
        return next(self._answers, "q")
