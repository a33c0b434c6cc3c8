"""The photographs of a house by what they show, each with its words; and every file of `photos/` that is not used, with the reason."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from macros.ground.problems import Place, Problem
from macros.house.records.photographs import PhotoWords, Shape
from macros.photographs.kept_copies import KeptCopies
from macros.photographs.webp import MOST_BYTES, Copies, NoPhotograph

FOLDER = "photos"
MOST_PHOTOGRAPHS = 1000
ENDINGS = (".jpg", ".jpeg", ".png", ".webp")
PARTS_OF_A_VARIETY = ("leaf", "flower", "cut")
_PLAIN = re.compile(r"[a-z0-9][a-z0-9_-]{0,59}")

Subject = tuple[str, ...]
"""What a photograph shows, as its path without the ending: `("sop-06", "circulate")`, `("varieties", "borage", "leaf")`."""


@dataclass(frozen=True)
class Photograph:
    """One photograph that may be shown: its file below `photos/`, its copies, the owner's words, and where it is published."""

    subject: Subject
    file: str
    code: str
    copies: Copies
    alt: str
    caption: str
    arrows: tuple[Shape, ...]
    circles: tuple[Shape, ...]

    @property
    def screen_address(self) -> str:
        """Address of the copy for the screen; it is another for another picture."""
        return f"{FOLDER}/{self.code[:16]}.webp"

    @property
    def paper_address(self) -> str:
        """Address of the grey copy for paper."""
        return f"{FOLDER}/{self.code[:16]}-paper.webp"


@dataclass(frozen=True)
class Photographs:
    """All photographs of a house that may be shown, by subject."""

    by_subject: Mapping[Subject, Photograph] = field(default_factory=dict)

    def of(self, *subject: str) -> Photograph | None:
        """The photograph of a step, thing, place, part of a variety or finding; None where there is none."""
        return self.by_subject.get(subject)

    @property
    def files(self) -> dict[str, bytes]:
        """What is published: address -> bytes."""
        found = {}
        for one in self.by_subject.values():
            found[one.screen_address] = one.copies.screen
            found[one.paper_address] = one.copies.paper
        return found


NO_PHOTOGRAPHS = Photographs()
"""Those of a house that has none."""


def photographs_of(said: Sequence[PhotoWords], house_folder: Path) -> tuple[Photographs, list[Problem]]:
    """Every photograph below `photos/` of the house, cleaned and scaled; what is wrong with the others.

    `said` are the words the house has for them. A photograph without words is not shown and asked for: what a picture says
    to somebody who cannot see it is never made up.
    """
    words = {one.file: one for one in said}
    problems = list(_twice(said))
    found: dict[Subject, Photograph] = {}
    names: dict[Subject, str] = {}
    kept = KeptCopies.of(house_folder)
    for path, name in _files(house_folder / FOLDER, problems):
        shown = f"{FOLDER}/{name}"
        refused = _refused_name(name) or _refused_file(path)
        subject = tuple(name.rpartition(".")[0].split("/"))
        if not refused and subject in names:
            refused = (
                f"{names[subject]} shows the same",
                "One photograph of a thing",
                "Keep the better of the two",
            )
        if refused:
            problems.append(_problem(shown, *refused))
            continue
        names[subject] = shown
        photograph, refused = _read(path, name, subject, words.get(name), kept)
        if refused:
            problems.append(_problem(shown, *refused))
        elif photograph is None:
            problems.append(_without_words(shown, name))
        else:
            found[subject] = photograph
    kept.close()
    problems += _words_without_file(said, {"/".join(s) for s in names})
    return Photographs(found), problems


def _files(folder: Path, problems: list[Problem]) -> Iterator[tuple[Path, str]]:
    """Every file below the folder in order of name, with its name there; links are no folders here."""
    if folder.is_symlink():
        what, allowed = "photos is a link", "A house is read from its own folder alone"
        problems.append(_problem(FOLDER, what, allowed, "Put the folder itself there"))
        return
    count = 0

    def unreadable(error: OSError) -> None:
        what = f"the folder cannot be read ({error.strerror})"
        problems.append(_problem(Path(error.filename).name, what, "", "Check its permissions"))

    for here, folders, files in os.walk(folder, onerror=unreadable if folder.exists() else None):
        folders.sort()
        for link in [one for one in folders if Path(here, one).is_symlink()]:
            folders.remove(link)
            files.append(link)
        for file in sorted(one for one in files if not one.startswith(".")):
            count += 1
            if count > MOST_PHOTOGRAPHS:
                what = f"over {MOST_PHOTOGRAPHS} photographs"
                problems.append(_problem(FOLDER, what, "A small room needs a tenth", "Take old ones away"))
                return
            path = Path(here, file)
            yield path, path.relative_to(folder).as_posix()


def _refused_name(name: str) -> tuple[str, str, str] | None:
    stem, dot, ending = name.rpartition(".")
    parts = stem.split("/")
    if f"{dot}{ending}" not in ENDINGS or not all(_PLAIN.fullmatch(part) for part in parts):
        return (
            "the name is no name of a photograph",
            f"Small letters, digits, - and _, and an ending of {', '.join(ENDINGS)}",
            "Rename it, as sop-06/circulate.jpg",
        )
    groups = ("things", "places", "findings")
    known = (len(parts) == 2 and (parts[0] in groups or re.fullmatch(r"sop-\d\d", parts[0]))) or (
        len(parts) == 3 and parts[0] == "varieties" and parts[2] in PARTS_OF_A_VARIETY
    )
    if known:
        return None
    return (
        "its folder says nothing of what it shows",
        "sop-06/STEP, things/THING, places/PLACE, findings/FINDING, or varieties/VARIETY/leaf, flower or cut",
        "Move it there; trayside pack photos lists the names",
    )


def _refused_file(path: Path) -> tuple[str, str, str] | None:
    if path.is_symlink() or not path.is_file():
        return "this is a link or no file", "A photograph lies here itself", "Copy the picture itself here"
    size = path.stat().st_size
    if size > MOST_BYTES:
        return (
            f"the file has {size / 1e6:.0f} MB",
            f"At most {MOST_BYTES // 1_000_000} MB",
            "Scale it down; 2000 pixels a side are plenty",
        )
    return None


def _read(
    path: Path, name: str, subject: Subject, words: PhotoWords | None, kept: KeptCopies
) -> tuple[Photograph | None, tuple[str, str, str] | None]:
    """The photograph, nothing where it has no words yet, or why it is not used."""
    try:
        code, copies = kept.copies(path, name)
    except NoPhotograph as refusal:
        return None, refusal.words
    except OSError as error:
        return None, (f"the file cannot be read ({error.strerror})", "", "Check its permissions")
    if words is None:
        return None, None
    return (
        Photograph(subject, name, code, copies, words.alt, words.caption or "", words.arrows, words.circles),
        None,
    )


def _without_words(shown: str, name: str) -> Problem:
    return Problem(
        Place(shown, 1),
        "photos",
        "this photograph has no words yet, so it is not shown",
        "Whoever cannot see it reads or hears what it shows",
        f'Add to photos: in a file of site_data: {{file: {name}, alt: "what is seen"}}',
        severity="fill this in",
    )


def _twice(words: Sequence[PhotoWords]) -> Iterator[Problem]:
    seen: set[str] = set()
    for one in words:
        if one.file in seen:
            what = f"{one.file} has two entries"
            yield Problem(
                one.place("file"),
                one.key("file"),
                what,
                "One entry a photograph",
                "Keep one of the two",
                "E32",
            )
        seen.add(one.file)


def _words_without_file(words: Sequence[PhotoWords], stems: set[str]) -> Iterator[Problem]:
    for one in words:
        if one.file.rpartition(".")[0] not in stems:
            what = f"there is no photograph {FOLDER}/{one.file} that can be used"
            yield Problem(
                one.place("file"),
                one.key("file"),
                what,
                "",
                "Put it there, mend its name, or remove the entry",
                severity="warning",
            )


def _problem(shown: str, what: str, allowed: str, remedy: str) -> Problem:
    name = shown if shown.isprintable() else ascii(shown)
    return Problem(Place(name, 1), FOLDER, what, allowed, remedy)
