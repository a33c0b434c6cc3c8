"""Where a photograph is seen: beside its step, at the first use of its thing, nowhere twice, and never before the amount."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from macros.control.documents.judge_change import line_differences
from macros.ground.problems import DataProblems
from macros.html.photo import arrow, photo
from macros.manual.pages.photographs import homeless, photo_view, with_photographs
from macros.manual.pages.printed_lines import page_lines
from macros.manual.pages.shot_list import shot_list
from macros.photographs import Photograph, Photographs
from macros.photographs.clean import cleaned
from macros.site.site import Site
from tests.making import HOUSES, made_site, manual_of
from tests.photographs.pictures import picture, saved


def photographs(
    *names: str, alt: str = "what is seen", arrows: tuple[tuple[float, ...], ...] = ()
) -> Photographs:
    """Photographs by their names without the ending."""
    copies = cleaned(saved(picture()))
    subjects = [tuple(name.split("/")) for name in names]
    return Photographs(
        {s: Photograph(s, f"{'/'.join(s)}.png", "0" * 64, copies, alt, "", arrows, ()) for s in subjects}
    )


@pytest.fixture(scope="module")
def site() -> Site:
    return manual_of("fourth")


def test_a_photograph_stands_at_each_repeat_of_its_step_and_a_thing_once_a_page(site: Site) -> None:
    page = next(one for one in site.built if one.content.key == "SOP-06-K")
    found = with_photographs(
        page, photographs("sop-06/rinse_fill", "things/hose"), site.register.house
    ).content
    shown = {step.id: [one.name for one in step.photos] for step in found.steps if step.photos}
    rinses = [step.id for step in found.steps if step.id.startswith("rinse_fill-")]
    assert len(rinses) > 1
    with_hose = [step.id for step in found.steps if "hose" in step.tools]
    wanted = {id_: ["sop-06/rinse_fill"] for id_ in rinses}
    wanted[with_hose[0]] = [*wanted.get(with_hose[0], []), "things/hose"]
    assert shown == wanted


def test_where_a_plant_is_picked_the_place_of_its_cut_is_shown(site: Site) -> None:
    house = site.register.house
    page = next(one for one in site.built if one.content.key == "SOP-18")
    found = photographs(
        *(f"varieties/{one.id}/{part}" for one in house.varieties for part in ("leaf", "cut"))
    )
    shown = {
        step.id: [(one.name, one.caption) for one in step.photos]
        for step in with_photographs(page, found, house).content.steps
        if step.photos
    }

    def cuts(*parts: str) -> list[tuple[str, str]]:
        return [(f"varieties/{one.id}/cut", f"{one.spoken}.") for one in house.varieties if one.part in parts]

    wanted = {"pick_flower": cuts("flower", "petal"), "pick_leaf": cuts("leaf")}
    assert shown == {id_: pictures for id_, pictures in wanted.items() if pictures}
    assert shown


def test_a_changed_photograph_asks_for_an_issue_and_not_for_training(site: Site) -> None:
    page = next(one for one in site.built if one.content.key == "SOP-06-K")
    house = site.register.house
    old = with_photographs(page, photographs("sop-06/run"), house).content
    for new in (
        photographs("sop-06/run", alt="other words"),
        photographs("sop-06/run", arrows=((1.0, 2.0, 3.0, 4.0),)),
        Photographs(),
    ):
        found = line_differences(page_lines(old), page_lines(with_photographs(page, new, house).content))
        assert found
        assert {(one.kind, one.retrain) for one in found} == {("photo", False)}


@pytest.mark.parametrize(
    ("name", "what", "allowed"),
    [
        ("sop-06/rinse_fil", "rinse_fil is nothing of sop-06 in this manual", "Did you mean rinse_fill?"),
        ("sop-77/run", "this house has no page sop-77", ""),
        ("things/no_such_thing_at_all", "no_such_thing_at_all is nothing of things in this manual", ""),
        ("varieties/triffid/leaf", "triffid is nothing of varieties in this manual", ""),
    ],
)
def test_a_photograph_of_nothing_here_is_told(site: Site, name: str, what: str, allowed: str) -> None:
    found = list(homeless(photographs(name), site.views, site.register.house))
    assert [(one.place.file, one.what, one.allowed, one.severity) for one in found] == [
        (f"photos/{name}.png", what, allowed, "error")
    ]


def test_what_has_a_photograph_is_asked_for_no_more(site: Site) -> None:
    house = site.register.house
    all_missing = shot_list(house, site.views, ())
    names = [shot.name for shot in all_missing]
    assert len(names) == len(set(names)) > 100
    alike = {v.id for v in house.varieties if v.look_alike_group not in (None, "none")}
    critical = {
        f"{p.document.lower()}/{s.id.partition('-')[0]}" for p in site.views for s in p.steps if s.critical
    }
    assert critical <= set(names)
    if alike:
        assert names[0].startswith("varieties/")
    rest = shot_list(house, site.views, [tuple(names[0].split("/"))])
    assert [shot.name for shot in rest] == names[1:]


def test_every_name_asked_for_is_one_that_is_found(site: Site) -> None:
    """What the list asks for is taken when it lies there: no name of the list is refused."""
    names = [shot.name for shot in shot_list(site.register.house, site.views, ())]
    assert not list(homeless(photographs(*names), site.views, site.register.house))


@pytest.mark.quick
def test_an_arrow_ends_where_it_points_in_a_picture_of_any_shape() -> None:
    # 4 to 3: 100 wide, 75 high, so 40 % down is 30. Wings of 5 at 180/7 degrees from the line back (by hand, level line):
    # 5 cos 25.714 = 4.505, 5 sin 25.714 = 2.169.
    assert arrow(20, 40, 60, 40, tall=75) == "M20.00 30.00L60.00 30.00M55.50 27.83L60.00 30.00L55.50 32.17"
    assert arrow(60, 40, 20, 40, tall=75).startswith(
        "M60.00 30.00L20.00 30.00M24.50 32.17L20.00 30.00L24.50 27.83"
    )


@pytest.mark.quick
def test_words_of_an_owner_are_text_and_no_marks() -> None:
    one = replace(
        photo_view(next(iter(photographs("sop-06/run").by_subject.values()))),
        alt='"><script>x</script>',
        caption="<b>",
    )
    html = str(photo(one, "a.webp"))
    assert "<script" not in html
    assert "<b>" not in html


def test_a_built_house_shows_its_photographs_and_publishes_nothing_else(tmp_path: Path) -> None:
    house = tmp_path / "house"
    shutil.copytree(HOUSES / "fourth", house)
    (house / "photos" / "sop-06").mkdir(parents=True)
    (house / "photos" / "sop-06" / "run.jpg").write_bytes(saved(picture(1600, 1200)))
    words = (
        "photos:\n  - {file: sop-06/run.jpg, alt: 'Water stands on the top tray', caption: 'Level falls'}\n"
    )
    (house / "site_data" / "photos.yml").write_text(words, encoding="utf-8")
    site = made_site(house)
    page = site.pages["p/sop-06-k.md"]
    shown = re.findall(r'<img src="\.\./([^"]+)"[^>]* alt="([^"]*)"', page)
    assert [alt for _, alt in shown] == ["Water stands on the top tray"]
    assert {address for address, _ in shown} <= site.pictures.keys()
    assert len(site.pictures) == 2
    step = page[page.index('data-step-id="run"') :]
    assert step.index("sop-amt") < step.index("<img ")
    (house / "photos" / "sop-06" / "run.jpg").rename(house / "photos" / "sop-06" / "rum.jpg")
    (house / "site_data" / "photos.yml").write_text(words.replace("run.jpg", "rum.jpg"), encoding="utf-8")
    with pytest.raises(DataProblems, match=r"photos/sop-06/rum\.jpg:1: photos: rum is nothing of sop-06"):
        made_site(house)
