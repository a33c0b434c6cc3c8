"""Pages as Markdown whose parts are finished HTML blocks: what a house wrote stays text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from markupsafe import Markup

from macros.amounts.engine.us_units import us_line
from macros.html.drawings import figure
from macros.html.environment import in_attribute, joined, render, template_environment
from macros.html.measure_drawing import measure_drawing
from macros.html.pads_drawing import pads_drawing
from macros.html.photo import photo
from macros.html.room_drawing import room_drawing
from macros.html.search_synonyms import also_searched
from macros.page_model.checklist import ChecklistView
from macros.page_model.clock_times import whole_minutes
from macros.page_model.page import DeviationView, LinkView, PageView, PlacedCaution, StepView, WaitView
from macros.page_model.reading import acts_of, out_of_range, reading_data
from macros.published.safety.signal_words import worst_first


def procedure_page(
    page: PageView,
    pages: Mapping[str, PageView],
    checklists: Sequence[ChecklistView] = (),
    review: str = "",
    phones: Sequence[str] = (),
) -> str:
    """One procedure among `pages`, which are told by their addresses; the sections stand in the same order on every page.

    It leads to the checklists it is on. `review` stands in the control block where a review is due.
    `phones` are the numbers of the house, to be tapped.
    """
    return render(
        "procedure.md.j2",
        p=page,
        see_also=list(see_also(page, pages)),
        also_searched=[*page.searched_as, *also_searched(page)],
        figure=figure,
        room=room_drawing,
        photo=photo,
        measure=measure_drawing,
        pads=pads_drawing,
        timer=timer,
        record_data=record_data,
        body=Markup(page.body_markdown.strip()),
        checklists=checklists,
        review=review,
        phones=phones,
    )


def timer(wait: WaitView) -> Markup:
    """What a timer of a waiting step needs, in minutes; nothing where the wait is not one plain time."""
    if not wait.least_minutes:
        return Markup("")
    least, most = whole_minutes(wait.least_minutes, up=True), wait.greatest_minutes
    return Markup(' data-least="{}" data-greatest="{}" data-then="{}" data-missed="{}"').format(
        least, "" if most is None else whole_minutes(most, up=False), joined(wait.then), joined(wait.missed)
    )


def record_data(step: StepView, deviations: Sequence[DeviationView]) -> Markup:
    """What the field beside a step needs to take its value and to know its limits; `wrong` counts rows of the page's table."""
    record = step.record
    assert record is not None
    wrong = " ".join(str(number) for number in acts_of(step, out_of_range(deviations)))
    found = {"label": record.label, "limits": record.limits, "outside": record.outside, "wrong": wrong}
    found |= reading_data(record.reading)
    given = (
        Markup(' data-{}="{}"').format(name, in_attribute(value)) for name, value in found.items() if value
    )
    return Markup(" data-record") + Markup("").join(given)


def see_also(page: PageView, pages: Mapping[str, PageView]) -> Iterator[LinkView]:
    """Where a page sends people, among `pages` by their addresses; from the page of the room to the page of each system, which is named."""
    for link in page.see_also:
        there = pages.get(link.address)
        if there is None or there.system in ("", page.system):
            yield link
            continue
        for one in [there] if page.system else pages.values():
            if one.document == there.document:
                yield LinkView(f"{link.text}, system {one.system}", one.page_address)


def problems_page(problems: Sequence[str]) -> str:
    """What is wrong, as a page: shown while serving, so that the server goes on."""
    return render("problems.md.j2", problems=problems)


def cautions_page(pages: Sequence[PageView], *, us: bool) -> str:
    """Every caution of the manual, where it stands and why."""
    found: dict[str, tuple[PlacedCaution, list[tuple[str, int, str, str]]]] = {}
    for page in pages:
        for step in page.steps:
            for caution in step.cautions:
                _, places = found.setdefault(f"{caution.word} {caution.id}", (caution, []))
                name = f"{page.title}, {page.system}" if page.system else page.title
                why = "; ".join(caution.why)
                places.append((name, step.number, page.page_address, us_line(why, True) if us else why))
    box = template_environment().get_template("parts.j2").module.caution  # type: ignore[attr-defined]  # a macro of the template
    uses = [
        {"title": f"{view.word}: {view.entry.title}", "box": box(view), "places": places}
        for _, (view, places) in sorted(found.items(), key=lambda one: (worst_first(one[1][0].word), one[0]))
    ]
    return render("cautions.md.j2", uses=uses)
