"""Label sheets fit their paper; what is not known is told with what there is."""

from __future__ import annotations

import pytest

from macros.ground.problems import DataProblems
from macros.paper.labels.all_labels import LABEL_KINDS
from macros.published.paper.label_stocks import LabelStock, label_kinds, label_stock, label_stocks, paper_size
from macros.published.safety.protection import equipment
from macros.published.safety.substances import shown_words

STOCKS = [stock for paper in ("A4", "Letter") for stock in label_stocks(paper)]


def test_papers_are_those_of_the_standards() -> None:
    """ISO 216: A4 is 210 x 297 mm. ANSI/ASME Y14.1: Letter is 8.5 x 11 in."""
    assert paper_size("A4") == (210, 297)
    assert paper_size("Letter") == pytest.approx((8.5 * 25.4, 11 * 25.4))


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: f"{stock.paper} {stock.name}")
def test_a_sheet_fits_its_paper_and_is_centred(stock: LabelStock) -> None:
    """Margins and pitches come to the paper; common label sheets leave the same margin on both sides."""
    width, height = paper_size(stock.paper)
    right = width - stock.left - (stock.columns - 1) * stock.pitch_x - stock.width
    bottom = height - stock.top - (stock.rows - 1) * stock.pitch_y - stock.height
    assert right >= 3
    assert bottom >= 8
    assert stock.pitch_x >= stock.width
    assert stock.pitch_y >= stock.height
    if not stock.cut:
        assert right == pytest.approx(stock.left, abs=0.1)
        assert bottom == pytest.approx(stock.top, abs=0.1)


@pytest.mark.parametrize(
    ("paper", "name", "inches"),
    [("Letter", "3x10", (2.625, 1)), ("Letter", "2x5", (4, 2)), ("Letter", "2x3", (4, 10 / 3))],
)
def test_letter_sheets_are_in_inches(paper: str, name: str, inches: tuple[float, float]) -> None:
    """Common practice, no source: the sizes such sheets are sold by."""
    stock = label_stock(name, paper)
    assert (stock.width / 25.4, stock.height / 25.4) == pytest.approx(inches, abs=0.001)


def test_places_run_along_the_rows() -> None:
    stock = label_stock("2x4", "A4")
    assert stock.place_of(0) == (4.65, 13.1)
    assert stock.place_of(3) == pytest.approx((4.65 + 101.6, 13.1 + 67.7))
    with pytest.raises(ValueError, match="has 8 labels"):
        stock.place_of(8)


def test_an_unknown_sheet_is_told_with_those_known() -> None:
    with pytest.raises(DataProblems) as told:
        label_stock("4x4", "A4")
    assert "no label sheet on A4 is called 4x4. Known are 3x7 (63.5 x 38.1 mm), 2x7" in str(told.value)
    with pytest.raises(DataProblems, match="A4 and Letter, no other paper"):
        label_stock("single", "A5")


def test_every_kind_and_word_is_described() -> None:
    assert tuple(label_kinds()) == LABEL_KINDS
    assert all(equipment().short[one] for one in equipment().items)
    assert shown_words(frozenset({"sodium_hypochlorite", "nitric_acid", "urea"})) == (
        "acids, pH-down, vinegar",
        "chlorine bleach",
        "ammonia",
    )
