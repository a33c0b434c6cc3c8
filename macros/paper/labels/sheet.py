"""Labels on sheets of paper: each on the label sheet the house has, in its place to a tenth of a millimetre."""

from __future__ import annotations

from collections.abc import Sequence

from macros.amounts import Register
from macros.ground.problems import DataProblems, Place, Problem
from macros.house import House
from macros.html.environment import fragment
from macros.html.paper import Part
from macros.html.photo import photo
from macros.html.qr_code import qr_svg
from macros.page_model.page import PageView
from macros.paper.labels.all_labels import LABEL_KINDS, house_labels
from macros.paper.labels.fit import Fitted, fitted
from macros.paper.labels.label import LabelView
from macros.photographs import NO_PHOTOGRAPHS, Photographs
from macros.published.paper.label_stocks import LabelStock, label_kinds, label_stocks, paper_size


def label_parts(
    house: House,
    register: Register,
    views: Sequence[PageView],
    system: str | None,
    kinds: Sequence[str],
    stock: LabelStock,
    paper: str,
    first: int = 1,
    photographs: Photographs = NO_PHOTOGRAPHS,
) -> list[Part]:
    """The labels of a house, one part a sheet of paper.

    Parameters
    ----------
    views : pages of the manual: a label names the page its figures stand on
    system : only those of this system, and those of the room; None means all
    kinds : of `LABEL_KINDS`; none means all
    stock : the label sheet, of this `paper` (A4 or Letter)
    first : place of the first label on the first sheet, from 1: a sheet that is partly used can be used up

    Raises
    ------
    DataProblems
        an unknown kind or system, a sheet of another paper, no label at all; every label that does not fit, with the
        sheets that take it.
    """
    refused = _refused(house, system, kinds, stock, paper, first)
    if refused:
        raise DataProblems(refused)
    labels = house_labels(register, views, system, kinds, photographs)
    if not labels:
        raise DataProblems([_none(house, system, kinds)])
    placed = [(label, fitted(label, stock)) for label in labels]
    problems = [_too_small(label, stock, paper) for label, fit in placed if fit is None]
    if problems:
        raise DataProblems(problems)
    fits = [fit for _, fit in placed if fit is not None]
    return _parts(fits, house.house.name, stock, first)


def sheets_that_take(label: LabelView, paper: str) -> list[LabelStock]:
    """The sheets of a paper on which the label fits, smallest first."""
    return [stock for stock in label_stocks(paper) if fitted(label, stock) is not None]


def _parts(fits: Sequence[Fitted], house_name: str, stock: LabelStock, first: int) -> list[Part]:
    sheets: list[list[tuple[int, Fitted]]] = []
    for number, one in enumerate(fits, start=first - 1):
        if number % stock.count == 0 or not sheets:
            sheets.append([])
        sheets[-1].append((number % stock.count, one))
    width, height = paper_size(stock.paper)
    parts = []
    for number, sheet in enumerate(sheets, start=1):
        titles = dict.fromkeys(label_kinds()[one.label.kind].title for _, one in sheet)
        title = f"Labels, sheet {number} of {len(sheets)}: {', '.join(titles)}"
        html = fragment(
            "labels.html.j2",
            title=title,
            house_name=house_name,
            labels=[(one, *stock.place_of(place)) for place, one in sheet],
            stock=stock,
            width=width,
            height=height,
            qr=qr_svg,
            photo=photo,
        )
        parts.append(
            Part(
                key=f"labels-{stock.name}-{number}",
                title=title,
                html=html,
                styles=("photo", "labels"),
                margin="0",
            )
        )
    return parts


def _refused(
    house: House, system: str | None, kinds: Sequence[str], stock: LabelStock, paper: str, first: int
) -> list[Problem]:
    problems = unknown_kinds(kinds)
    letters = [one.id for one in house.systems]
    if system is not None and system not in letters:
        what = f"this house has no system {system}"
        problems.append(_asked("system", what, f"Its systems are {', '.join(letters)}"))
    if stock.paper != paper:
        what = f"{stock.size} is a sheet of {stock.paper}, and the paper is {paper}"
        known = ", ".join(one.size for one in label_stocks(paper))
        problems.append(_asked("stock", what, f"On {paper} there are {known}"))
    if not 1 <= first <= stock.count:
        what = f"a sheet of {stock.size} has no place {first}"
        problems.append(_asked("first", what, f"Places are 1 to {stock.count}"))
    return problems


def unknown_kinds(kinds: Sequence[str]) -> list[Problem]:
    """One problem for each kind of label there is not."""
    return [
        _asked("kind", f"no kind of label is called {kind}", f"Kinds are {', '.join(LABEL_KINDS)}")
        for kind in kinds
        if kind not in LABEL_KINDS
    ]


def _asked(what: str, said: str, allowed: str) -> Problem:
    return Problem(Place("labels", 1), what, said, allowed, "Ask again")


def _none(house: House, system: str | None, kinds: Sequence[str]) -> Problem:
    asked = ", ".join(kinds) or "any kind"
    what = f"this house has no label of {asked}{f' of system {system}' if system else ''}"
    return Problem(house.house.place("name"), "labels", what, "", "Ask for another kind of label")


def _too_small(label: LabelView, stock: LabelStock, paper: str) -> Problem:
    taking = sheets_that_take(label, paper)
    if not taking:
        what = (
            f"the label of {label.what} has more words than any label sheet on {paper} takes in type of 9 pt"
        )
        allowed = f"The largest is {label_stocks(paper)[-1].size}"
        return Problem(label.place, label.key, what, allowed, "Shorten the names it prints")
    what = (
        f"the label of {label.what} needs {taking[0].width:.0f} x {taking[0].height:.0f} mm, and {stock.size} is smaller or "
        "its lines are too few"
    )
    allowed = f"It fits {', '.join(one.size for one in taking)}"
    return Problem(label.place, label.key, what, allowed, "Choose one of these")
