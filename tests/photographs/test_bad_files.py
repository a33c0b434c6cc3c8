"""Files of `photos/` that are refused, and what is left of those that are used: judged on the bytes that reach the site."""

from __future__ import annotations

import io
import os
import random
from collections.abc import Sequence
from pathlib import Path

import pytest
from PIL import Image

from macros.ground.problems import Problem
from macros.house import load_house
from macros.house.records.photographs import PhotoWords
from macros.photographs import Photographs, photographs_of
from macros.photographs.clean import cleaned
from macros.photographs.webp import MOST_BYTES, plain_webp
from tests.making import made_house
from tests.photographs.pictures import (
    SECRET,
    bomb,
    moving,
    picture,
    png_with_text,
    saved,
    webp_with_camera_data,
    with_camera_data,
)

SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'

REFUSED = {
    "cut off": (saved(picture())[:500], "the picture is damaged or cut off"),
    "cut off PNG": (saved(picture(), "PNG")[:200], "the picture is damaged or cut off"),
    "cut off WebP": (saved(picture(), "WEBP")[:60], "the picture is damaged or cut off"),
    "empty": (b"", "this is no picture, or its beginning is damaged"),
    "text": (b"no picture at all", "this is no picture, or its beginning is damaged"),
    "head alone": (b"\xff\xd8\xff", "this is no picture, or its beginning is damaged"),
    "pixels without end": (bomb(), "the picture has far more pixels than a photograph"),
    "a long strip": (bomb(12_000, 10), "the picture is 12000 x 10 pixels"),
    "many pixels": (bomb(9_000, 9_000), "the picture is 9000 x 9000 pixels"),
    "script in SVG": (SVG, "this is a page or a drawing in text, not a photograph"),
    "page": (b"<!DOCTYPE html><script>alert(1)</script>", "this is a page or a drawing in text"),
    "XML": (b'<?xml version="1.0"?>' + SVG, "this is a page or a drawing in text"),
    "GIF": (saved(picture(), "GIF"), "this is a GIF"),
    "moving GIF": (moving("GIF"), "this is a GIF"),
    "moving WebP": (moving("WEBP"), "the picture moves"),
    "moving PNG": (moving("PNG"), "the picture moves"),
    "HEIC": (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "this is a HEIC picture"),
    "TIFF": (saved(picture(), "TIFF"), "this is no picture"),
    "BMP": (saved(picture(), "BMP"), "this is no picture"),
    "PDF": (saved(picture(), "PDF"), "this is no picture"),
    "PostScript": (b"%!PS-Adobe-3.0 EPSF-3.0\n", "this is no picture"),
    "program": (b"\x7fELF\x02\x01\x01" + bytes(64), "this is no picture"),
}
"""What lies in a file -> how the refusal begins."""

NAMES = {
    "sop-06/circulate.svg": "the name is no name of a photograph",
    "sop-06/Circulate.jpg": "the name is no name of a photograph",
    "sop-06/circ ulate.jpg": "the name is no name of a photograph",
    "sop-06/circulate<b>.jpg": "the name is no name of a photograph",
    "sop-06/\u202egpj.jpg": "the name is no name of a photograph",
    "sop-06/circulate.jpg.exe": "the name is no name of a photograph",
    "circulate.jpg": "its folder says nothing of what it shows",
    "varieties/borage/root.jpg": "its folder says nothing of what it shows",
    "people/owner.jpg": "its folder says nothing of what it shows",
    "sop-06/a/b.jpg": "its folder says nothing of what it shows",
}
"""Name of a file -> how the refusal begins."""


def looked_at(
    tmp_path: Path, files: dict[str, bytes], said: Sequence[PhotoWords] | None = None
) -> tuple[Photographs, list[Problem]]:
    """The photographs of a house folder with these files, each given words where none are said."""
    for name, data in files.items():
        path = tmp_path / "photos" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return photographs_of([words(name) for name in files] if said is None else said, tmp_path)


def words(name: str) -> PhotoWords:
    return PhotoWords(file=name, alt="what is seen")


def told(problems: list[Problem]) -> list[str]:
    return [one.what for one in problems if one.severity == "error"]


@pytest.mark.parametrize("kind", REFUSED)
def test_a_file_that_is_no_still_photograph_is_refused_by_name(tmp_path: Path, kind: str) -> None:
    data, words = REFUSED[kind]
    found, problems = looked_at(tmp_path, {"sop-06/circulate.jpg": data})
    assert not found.files
    errors = [one for one in problems if one.severity == "error"]
    assert [(str(one.place), one.what.startswith(words)) for one in errors] == [
        ("photos/sop-06/circulate.jpg:1", True)
    ], errors
    assert errors[0].remedy


@pytest.mark.parametrize("name", NAMES)
def test_a_name_that_says_nothing_is_refused_with_those_that_do(tmp_path: Path, name: str) -> None:
    found, problems = looked_at(tmp_path, {name: saved(picture())}, [])
    assert not found.files
    assert told(problems) == [NAMES[name]]
    assert all(str(one.place).isprintable() for one in problems)


def test_a_link_is_refused_wherever_it_leads(tmp_path: Path) -> None:
    outside = tmp_path / "outside.jpg"
    outside.write_bytes(saved(picture()))
    photos = tmp_path / "photos"
    (photos / "sop-06").mkdir(parents=True)
    (photos / "sop-06" / "circulate.jpg").symlink_to(outside)
    (photos / "sop-06" / "drain.jpg").symlink_to("nowhere.jpg")
    (photos / "things").symlink_to(tmp_path)
    found, problems = looked_at(tmp_path, {})
    assert not found.files
    assert (
        sorted(told(problems)) == ["the name is no name of a photograph"] + ["this is a link or no file"] * 2
    )
    assert "outside.jpg" not in str(problems)


def test_a_pipe_and_a_huge_file_are_never_opened(tmp_path: Path) -> None:
    photos = tmp_path / "photos" / "sop-06"
    photos.mkdir(parents=True)
    os.mkfifo(photos / "pipe.jpg")
    with (photos / "huge.jpg").open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    found, problems = looked_at(tmp_path, {})
    assert not found.files
    assert told(problems) == ["the file has 40 MB", "this is a link or no file"]


@pytest.mark.parametrize(
    "data",
    [with_camera_data(), png_with_text(), webp_with_camera_data()],
    ids=["JPEG", "PNG", "WebP"],
)
def test_nothing_but_pixels_reaches_the_site(tmp_path: Path, data: bytes) -> None:
    found, problems = looked_at(tmp_path, {"sop-06/circulate.jpg": data})
    assert not told(problems)
    assert len(found.files) == 2
    for copy in found.files.values():
        assert plain_webp(copy) == (400, 300)
        assert not [word for word in (SECRET, b"EXIF", b"XMP", b"ICCP", b"Maker") if word in copy]
        assert not Image.open(io.BytesIO(copy)).getexif()


# Turn of the camera (EXIF 2.32, tag 274) -> where the upper left quarter of the picture is seen when it is shown upright.
TURNS = {1: "left upper", 3: "right lower", 6: "right upper", 8: "left lower"}


@pytest.mark.parametrize("turned", TURNS)
def test_a_photograph_is_shown_as_it_was_shot(tmp_path: Path, turned: int) -> None:
    found, _ = looked_at(tmp_path, {"sop-06/circulate.jpg": with_camera_data(turned)})
    one = found.of("sop-06", "circulate")
    assert one is not None
    image = Image.open(io.BytesIO(one.copies.screen)).convert("L")
    assert image.size == ((400, 300) if turned in (1, 3) else (300, 400))
    x, y = (0.25 if "left" in TURNS[turned] else 0.75), (0.25 if "upper" in TURNS[turned] else 0.75)
    assert image.getpixel((int(x * image.width), int(y * image.height))) < 40
    assert image.getpixel((int((1 - x) * image.width), int((1 - y) * image.height))) > 215


@pytest.mark.parametrize("mode", ["L", "1", "P", "CMYK", "RGBA"])
def test_other_kinds_of_colour_are_shown(tmp_path: Path, mode: str) -> None:
    image = picture().convert(mode)
    data = saved(image, "JPEG" if mode == "CMYK" else "PNG")
    found, problems = looked_at(tmp_path, {"sop-06/circulate.png": data})
    assert not told(problems)
    assert len(found.files) == 2


def test_a_large_photograph_is_scaled_to_screen_and_paper(tmp_path: Path) -> None:
    found, _ = looked_at(tmp_path, {"sop-06/circulate.jpg": saved(picture(4000, 3000))})
    one = found.of("sop-06", "circulate")
    assert one is not None
    assert plain_webp(one.copies.screen) == (800, 600)
    # 630 pixels at 200 dots an inch are 80 mm: 630 / 200 x 25.4; 630 x 3/4 = 472.5 (by hand).
    assert plain_webp(one.copies.paper) == (630, 473)
    paper = Image.open(io.BytesIO(one.copies.paper)).convert("RGB")
    red, green, blue = paper.getpixel((600, 10))
    assert max(red, green, blue) - min(red, green, blue) <= 2


def test_a_photograph_without_words_is_asked_for_and_not_shown(tmp_path: Path) -> None:
    found, problems = looked_at(tmp_path, {"sop-06/circulate.jpg": saved(picture())}, [])
    assert not found.files
    assert [(str(one.place), one.severity, one.what) for one in problems] == [
        (
            "photos/sop-06/circulate.jpg:1",
            "fill this in",
            "this photograph has no words yet, so it is not shown",
        )
    ]
    assert problems[0].remedy == (
        'Add to photos: in a file of site_data: {file: sop-06/circulate.jpg, alt: "what is seen"}'
    )


def test_words_are_held_against_the_files(tmp_path: Path) -> None:
    entries = (
        "\nphotos:\n  - {file: sop-06/gone.jpg, alt: gone}\n"
        "  - {file: sop-06/circulate.jpg, alt: once}\n  - {file: sop-06/circulate.jpg, alt: twice}\n"
    )
    house_folder = made_house(tmp_path)
    (house_folder / "site_data" / "photos.yml").write_text(entries, encoding="utf-8")
    house, _ = load_house(house_folder)
    assert house is not None
    (house_folder / "photos" / "sop-06").mkdir(parents=True)
    (house_folder / "photos" / "sop-06" / "circulate.jpg").write_bytes(saved(picture()))
    _, problems = photographs_of(house.photos, house_folder)
    assert {(one.place.line, one.severity, one.what) for one in problems} == {
        (3, "warning", "there is no photograph photos/sop-06/gone.jpg that can be used"),
        (5, "error", "sop-06/circulate.jpg has two entries"),
    }


@pytest.mark.parametrize("blank", ["''", "'  '", '"\\u00a0"'])
def test_a_photograph_of_which_nothing_is_said_is_refused(tmp_path: Path, blank: str) -> None:
    house_folder = made_house(tmp_path)
    entries = f"photos:\n  - {{file: sop-06/circulate.jpg, alt: {blank}}}\n"
    (house_folder / "site_data" / "photos.yml").write_text(entries, encoding="utf-8")
    house, problems = load_house(house_folder)
    assert house is None
    (problem,) = problems
    assert (str(problem.place), problem.key, problem.severity) == (
        "site_data/photos.yml:2",
        "photos[0].alt",
        "error",
    )
    assert problem.what == "nothing that can be read is written here"


@pytest.mark.parametrize(
    ("entry", "what"),
    [
        ('arrows: ["20 20 48"]', '"20 20 48" says no place on a picture'),
        ('arrows: ["20 20 48 101"]', '"20 20 48 101" says no place on a picture'),
        ('circles: ["50 58 twelve"]', '"50 58 twelve" says no place on a picture'),
        ('circles: ["50, 58, 12"]', '"50, 58, 12" says no place on a picture'),
        ('circles: ["-1 58 12"]', '"-1 58 12" says no place on a picture'),
    ],
)
def test_a_mark_that_is_no_place_is_refused(tmp_path: Path, entry: str, what: str) -> None:
    house_folder = made_house(tmp_path)
    (house_folder / "site_data" / "photos.yml").write_text(
        f"photos:\n  - {{file: sop-06/circulate.jpg, alt: seen, {entry}}}\n", encoding="utf-8"
    )
    _, problems = load_house(house_folder)
    found = [one for one in problems if one.place.file == "site_data/photos.yml"]
    assert [(one.what, one.remedy) for one in found] == [(what, "Count from the upper left corner")]


def test_two_files_of_one_thing_are_told(tmp_path: Path) -> None:
    files = {"sop-06/circulate.jpg": saved(picture()), "sop-06/circulate.png": saved(picture(), "PNG")}
    found, problems = looked_at(tmp_path, files)
    assert len(found.files) == 2
    assert told(problems) == ["photos/sop-06/circulate.jpg shows the same"]


# ------------------------------------------------------------------ kept copies


def test_kept_copies_are_taken_and_nothing_else_in_their_place(tmp_path: Path) -> None:
    data = {"sop-06/circulate.jpg": saved(picture(2000, 1500))}
    first, _ = looked_at(tmp_path, data)
    kept = sorted((tmp_path / ".trayside" / "photos").glob("*.webp"))
    assert len(kept) == 2
    mark = saved(Image.new("RGB", (20, 10), "white"), "WEBP")
    for path in kept:
        path.write_bytes(mark)  # a plain picture: what was kept is what is taken
    again, _ = looked_at(tmp_path, data)
    assert set(again.files.values()) == {mark}
    for other in (SVG, mark + b"more", saved(picture(), "PNG"), saved(picture(), "WEBP", lossless=True), b""):
        for path in kept:
            path.write_bytes(other)
        again, problems = looked_at(tmp_path, data)
        assert not told(problems)
        assert again.files == first.files, other[:20]


def test_a_changed_photograph_is_read_anew_and_the_old_copy_goes(tmp_path: Path) -> None:
    first, _ = looked_at(tmp_path, {"sop-06/circulate.jpg": saved(picture())})
    second, _ = looked_at(tmp_path, {"sop-06/circulate.jpg": saved(picture(420, 300))})
    assert not set(first.files) & set(second.files)
    assert len(list((tmp_path / ".trayside" / "photos").glob("*.webp"))) == 2


@pytest.mark.parametrize(
    "known", [b"{", b"\n\n", b"../../../etc/passwd sop-06/circulate.jpg 1 2\n", b"\xff\x00", b"[" * 5000]
)
def test_a_damaged_list_of_what_is_kept_costs_time_alone(tmp_path: Path, known: bytes) -> None:
    first, _ = looked_at(tmp_path, {"sop-06/circulate.jpg": saved(picture())})
    (tmp_path / ".trayside" / "photos" / "known.txt").write_bytes(known)
    again, problems = photographs_of([words("sop-06/circulate.jpg")], tmp_path)
    assert not told(problems)
    assert again.files == first.files


def test_a_picture_full_of_detail_is_shown_smaller_and_not_heavier() -> None:
    """Eleven of them, as the guide to findings has, and 150 kB of page, script and type are under 600 kB."""
    noise = Image.frombytes("RGB", (1600, 1200), random.Random(1).randbytes(1600 * 1200 * 3))
    copies = cleaned(saved(noise, quality=95))
    assert len(copies.screen) * 11 + 150_000 <= 600_000
    assert plain_webp(copies.screen) == (copies.width, copies.height)
    assert copies.width * 3 == copies.height * 4
    assert cleaned(saved(picture(1600, 1200))).width == 800
