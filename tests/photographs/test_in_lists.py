"""Photographs where no step stands: the guide to findings, plants to learn, the inventory, breakdown sheets, the list of changes."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from macros.control.changes.uncontrolled_things import printed_things
from macros.html.site_text import table_text
from macros.manual.pages.photographs import photo_view
from macros.page_model.job_breakdown import ImportantStep
from macros.page_model.page import PageView
from macros.page_model.photo import PhotoView
from macros.page_model.table import TablePage
from macros.paper.labels.all_labels import house_labels
from macros.paper.labels.fit import fitted
from macros.paper.labels.sheet import label_parts
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.published.paper.label_stocks import label_stock
from macros.reference.findings import findings_page
from macros.reference.tables import inventory_page
from macros.site.site import Site
from macros.training.path.markdown import breakdown_part
from macros.training.path.naming_test import naming_page
from macros.training.path.paper import naming_parts
from macros.training.path.path import ModuleView, training_path
from macros.training.path.sheets import trainer_view
from tests.making import manual_of
from tests.photographs.test_on_pages import photographs


@pytest.fixture(scope="module")
def site() -> Site:
    return manual_of("fourth")


def shown(page: TablePage, head: str) -> list[tuple[str, str]]:
    """Address and words of each picture below a head, as the page is written."""
    text = table_text("reference/any", page).text
    (part,) = [one for one in re.split(r"^## ", text, flags=re.MULTILINE) if one.startswith(head)]
    return re.findall(r'<img src="([^"]+)"[^>]* alt="([^"]*)"', part)


def test_a_finding_shows_its_photograph_over_its_table(site: Site) -> None:
    found = photographs("findings/thrips", alt="silver scars")
    page = findings_page(site.register.house, site.views, found)
    assert shown(page, "Thrips") == [("../photos/0000000000000000.webp", "silver scars")]
    assert shown(page, "Aphids") == []
    text = table_text("reference/findings", page).text
    assert text.index("<img") < text.index("<table", text.index("## Thrips"))


def test_the_page_of_naming_shows_every_part_of_a_plant_with_its_name(site: Site) -> None:
    plant = site.register.house.varieties[0].id
    found = photographs(*(f"varieties/{plant}/{part}" for part in ("cut", "flower", "leaf")))
    text = table_text("training/naming", naming_page(site.register, found)).text
    name = plant.replace("_", " ")
    assert re.findall(r"<figcaption>(.*?)</figcaption>", text) == [
        f"{name}, {part}." for part in ("leaf", "flower", "cut")
    ]


def test_the_inventory_shows_things_and_places(site: Site) -> None:
    thing = next(step.tools[0] for view in site.views for step in view.steps if step.tools)
    place = next(step.where for view in site.views for step in view.steps if step.where)
    names = [f"things/{thing}", f"places/{place}"]
    found = photographs(*(re.sub(r"[^a-z0-9/]+", "_", name.lower()) for name in names))
    page = inventory_page(site.register.house, site.views, found)
    assert len(shown(page, "How things look")) == len(shown(page, "How places look")) == 1
    text = table_text("reference/inventory", page).text
    assert f"<figcaption>{place}.</figcaption>" in text.replace("\u00a0", " ")
    assert (
        "How things look"
        not in table_text("reference/inventory", inventory_page(site.register.house, ())).text
    )


def test_a_plant_card_shows_leaf_and_flower_in_grey_and_never_the_name(site: Site) -> None:
    plant = site.register.house.varieties[0].id
    found = photographs(
        *(f"varieties/{plant}/{part}" for part in ("leaf", "flower", "cut")), alt="round leaf"
    )
    fronts = [
        str(part.html)
        for part in naming_parts(site.register, site.views, found)
        if part.key.endswith("front")
    ]
    paper = photo_view(next(iter(found.by_subject.values()))).paper
    pictures = re.findall(r'<img src="([^"]+)" alt="([^"]+)">', fronts[0].replace("\u00a0", " "))
    assert pictures == [(paper, "round leaf")] * 2
    assert paper.startswith("data:image/webp;base64,")
    assert plant.replace("_", " ") not in fronts[0]
    assert fronts[0].count("photograph of this house") == len(site.register.house.varieties) - 1


def test_the_list_of_changes_notices_a_photograph_of_a_card(site: Site) -> None:
    plant = site.register.house.varieties[0].id

    def code(found: Photographs) -> str:
        things = printed_things(site.register, site.views, site.questions, found)
        return next(one.code for one in things if one.key == "NAMING-CARDS")

    one = photographs(f"varieties/{plant}/leaf")
    photograph = next(iter(one.by_subject.values()))
    other = Photographs({photograph.subject: replace(photograph, code="1" * 64)})
    assert len({code(NO_PHOTOGRAPHS), code(one), code(other)}) == 3
    assert code(one) == code(photographs(f"varieties/{plant}/leaf"))


def with_everywhere(page: PageView, view: PhotoView) -> PageView:
    """The page with two photographs at each step."""
    return replace(page, steps=tuple(replace(step, photos=(view, view)) for step in page.steps))


def photographed(unit: ModuleView) -> list[ImportantStep]:
    """The steps of a breakdown that show a photograph."""
    return [step for sheet in unit.sheets for step in sheet.steps if step.photos]


def test_a_breakdown_shows_the_photograph_of_a_critical_step_alone(site: Site) -> None:
    view = photo_view(next(iter(photographs("sop-06/run", alt="as it should look").by_subject.values())))
    views = [with_everywhere(page, view) for page in site.views]
    path = training_path(site.register, views)
    assert path is not None
    unit = next(one for one in path.modules if photographed(one))
    critical = {step.id for page in unit.taught for step in page.steps if step.critical}
    assert {step.id for step in photographed(unit)} == critical
    html = str(breakdown_part(trainer_view(site.register, unit)).html)
    assert html.count("<figure") == len(photographed(unit))
    assert f'src="{view.paper}"' in html
    assert view.address not in html


def test_the_label_of_a_look_alike_carries_its_leaf_where_it_fits(site: Site) -> None:
    varieties = site.register.house.varieties
    groups = [one.look_alike_group for one in varieties]
    alike = [
        one for one in varieties if one.look_alike_group != "none" and groups.count(one.look_alike_group) > 1
    ]
    assert 0 < len(alike) < len(varieties)
    found = photographs(*(f"varieties/{one.id}/leaf" for one in varieties), alt="a leaf")
    labels = house_labels(site.register, site.views, kinds=("sowing",), photographs=found)
    shown = [label for label in labels if label.photo is not None]
    assert {label.key for label in shown} == {one.key("id") for one in alike}
    for stock, carried in ((label_stock("2x4", "A4"), True), (label_stock("3x7", "A4"), False)):
        for label in shown:
            fit = fitted(label, stock)
            assert fit is not None
            assert (fit.picture != (0.0, 0.0)) is carried
    parts = label_parts(
        site.register.house,
        site.register,
        site.views,
        None,
        ("sowing",),
        label_stock("2x4", "A4"),
        "A4",
        1,
        found,
    )
    html = "".join(str(part.html) for part in parts)
    assert re.findall(r'<img src="([^"]+)"[^>]* alt="([^"]*)"', html) == [
        (label.photo.paper, "a leaf") for label in shown if label.photo is not None
    ]
    things = printed_things(site.register, site.views, site.questions, found)
    told = {
        one.title for one in things if any(line.kind == "photo" and one.kind == "label" for line in one.lines)
    }
    assert told == {label.what for label in shown}
