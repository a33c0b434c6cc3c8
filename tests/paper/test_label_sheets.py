"""Labels on sheets: where each stands, which page it comes from, what does not fit, and hostile names."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from macros.amounts import Register, compute_amounts
from macros.ground.problems import DataProblems, Place
from macros.html.environment import joined, unparted
from macros.html.qr_code import modules_across
from macros.paper.labels.all_labels import house_labels
from macros.paper.labels.fit import fitted, height_of, lines_needed, qr_side, text_width
from macros.paper.labels.label import LabelRow, LabelSource, LabelView
from macros.paper.labels.sheet import label_parts, sheets_that_take
from macros.published.paper.label_stocks import LabelStock, label_stock, label_stocks
from macros.site.site import Site
from tests.making import HOUSES, labels_document, made_house, made_register, manual_of


@pytest.fixture(scope="module")
def fourth() -> Site:
    """The finished manual of the house that has every kind of thing."""
    return manual_of("fourth")


def refused(
    register: Register,
    system: str | None,
    kinds: Sequence[str],
    stock: LabelStock,
    paper: str,
    first: int = 1,
) -> str:
    """The words in which labels are refused."""
    with pytest.raises(DataProblems) as told:
        label_parts(register.house, register, [], system, kinds, stock, paper, first)
    return str(told.value)


def test_a_sheet_is_filled_before_the_next_is_begun(fourth: Site) -> None:
    house, stock = fourth.register.house, label_stock("single", "A4")
    labels = house_labels(fourth.register, fourth.views)
    parts = label_parts(house, fourth.register, fourth.views, None, (), stock, "A4")
    assert [part.html.count('<section class="label"') for part in parts[:-1]] == [3] * (len(parts) - 1)
    assert sum(part.html.count('<section class="label"') for part in parts) == len(labels)
    assert len({part.page for part in parts}) == len(parts)
    assert all(part.margin == "0" and part.styles == ("photo", "labels") for part in parts)


def test_a_partly_used_sheet_is_used_up(fourth: Site) -> None:
    house, stock = fourth.register.house, label_stock("2x3", "A4")
    (part,) = label_parts(house, fourth.register, fourth.views, None, ("tank",), stock, "A4", 4)
    x, y = stock.place_of(3)
    assert f"left:{x:.3f}mm;top:{y:.3f}mm" in part.html
    assert "left:4.650mm;top:8.850mm" not in part.html


def test_a_label_names_the_page_its_figures_stand_on(fourth: Site) -> None:
    sources = {(one.kind, one.badge): one.source for one in house_labels(fourth.register, fourth.views)}
    expected = {
        ("batch", "K"): "SOP-03-K",
        ("batch", "M"): "SOP-03-M",
        ("stock", ""): "SOP-02",
        ("sowing", "K"): "SOP-11",
    }
    expected |= {("tray", "M"): "SOP-13-M", ("tank", "K"): "SOP-08-K", ("decanted", ""): "SOP-02"}
    for which, key in expected.items():
        view = next(one for one in fourth.views if one.key == key)
        assert (sources[which].key, sources[which].code) == (key, view.control.values_code)
        assert sources[which].address == view.public_address
        assert sources[which].draft == bool(view.control.draft_reasons)
        assert f"rev {view.control.revision} DRAFT · code {view.control.values_code}" in sources[which].text
    assert house_labels(fourth.register, [])[0].source.text == "house file of 2031-05-01"


def test_figures_agree_with_the_page(fourth: Site) -> None:
    """A tank's label and its page print the same marks to the last digit."""
    (tank,) = house_labels(fourth.register, fourth.views, "K", ("tank",))
    page = fourth.pages["p/sop-08-k.md"].replace("\u00a0", " ")
    shown = fourth.register.get("res_fill", system="K").printed
    assert shown in page
    assert tank.rows[0].text.startswith(shown)


def test_house_name_code_and_fixed_words_stand_on_each(fourth: Site) -> None:
    text = labels_document(fourth.register, fourth.views, kinds=("batch",), paper="A4")
    count = text.count('<section class="label"')
    assert count == 8
    assert text.count("Test Hall · <span") == count
    assert text.count("Void if the house file changed.") == count
    assert text.count("wipe dry before it goes on") == count
    assert "@page sheet-labels-single-1{size:A4;margin:0;" in text


def test_a_label_that_does_not_fit_is_told_with_the_sheets_that_take_it(fourth: Site) -> None:
    said = refused(fourth.register, None, ("batch",), label_stock("3x7", "A4"), "A4")
    (tub,) = [line for line in said.splitlines() if "the label of tub, parts soak of system K" in line]
    assert "site_data/house.yml:" in tub
    assert "sanitizing.tasks.parts_soak.chemical" in tub
    assert "needs 99 x 68 mm, and 3x7 (63.5 x 38.1 mm) is smaller or its lines are too few." in tub
    assert (
        "It fits 2x4 (99.1 x 67.7 mm), 2x3 (99.1 x 93.1 mm), single (180.0 x 80.0 mm). Choose one of these."
        in tub
    )


def test_what_is_asked_wrongly_is_told(fourth: Site) -> None:
    single = label_stock("single", "A4")
    assert "no kind of label is called sticker. Kinds are batch, decanted, stock" in refused(
        fourth.register, None, ("sticker",), single, "A4"
    )
    assert "this house has no system Z. Its systems are K, M" in refused(
        fourth.register, "Z", (), single, "A4"
    )
    said = refused(fourth.register, None, (), single, "Letter")
    assert (
        "single (180.0 x 80.0 mm) is a sheet of A4, and the paper is Letter. On Letter there are 3x10" in said
    )
    assert "has no place 4. Places are 1 to 3" in refused(fourth.register, None, (), single, "A4", first=4)


def test_no_label_at_all_is_told() -> None:
    second = made_register(HOUSES / "second")
    said = refused(second, "N", ("sowing",), label_stock("single", "Letter"), "Letter")
    assert "this house has no label of sowing of system N" in said


def test_hostile_names_stay_text(tmp_path: Path) -> None:
    house = made_house(
        tmp_path,
        ('name: "peroxide, food-contact grade"', 'name: "<script>x</script> {{ 7*7 }} & \'\\""'),
        ('name: "Test Hall"', 'name: "</style><b onclick=x>Hall"'),
        name="fourth",
    )
    text = labels_document(made_register(house), [], kinds=("batch", "stock", "sowing"), paper="A4")
    assert "<script>" not in text
    assert "onclick=x>" not in text.replace("&lt;b onclick=x&gt;", "")
    assert "&lt;script&gt;x&lt;/script&gt; &#123;&#123; 7*7 &#125;&#125; &amp; &#39;&#34;" in text
    assert "49 &amp;" not in text


def test_a_name_too_long_for_every_sheet_is_told() -> None:
    """The name is longer than a house may write it: what is longest together with others is not known beforehand."""
    house = made_register(HOUSES / "fourth").house
    first, *others = house.chemicals
    long = first.model_copy(update={"name": "word " * 150})
    register = compute_amounts(
        house.model_copy(update={"chemicals": (long, *others)}), date(2031, 5, 1), house.house.place("as_of")
    )
    said = refused(register, None, ("decanted",), label_stock("2x4", "A4"), "A4")
    assert "has more words than any label sheet on A4 takes in type of 9 pt" in said
    assert "The largest is single (180.0 x 80.0 mm). Shorten the names it prints." in said
    (label,) = [one for one in house_labels(register, [], kinds=("decanted",)) if one.name.startswith("word")]
    assert sheets_that_take(label, "A4") == []


def test_small_labels_have_fewer_rows_and_never_smaller_type() -> None:
    rows = tuple(LabelRow(f"Head {number}", "some words here", rank=1 + number % 3) for number in range(9))
    label = _label(rows)
    seen = []
    for stock in label_stocks("A4"):
        fit = fitted(label, stock)
        if fit is None:
            continue
        assert fit.body >= 9
        assert fit.name >= 12
        assert height_of(fit, stock.width - 6) <= stock.height - 3
        shown = {row.head for rows_ in fit.paragraphs for row in rows_}
        assert {row.head for row in rows if row.rank == 1} <= shown
        seen.append(len(shown))
    assert len(seen) > 2
    assert seen[-1] == 9


def test_a_code_is_printed_only_where_its_modules_and_quiet_zone_have_room() -> None:
    """ISO/IEC 18004 (from memory): four modules of quiet zone; 0.7 mm a module reads from a wet card."""
    address = "https://loft.example/p/sop-03-k.html"
    assert qr_side(address) >= (modules_across(address) + 8) * 0.7
    rows = (LabelRow("Head", "some words"),)
    large, small = (fitted(_label(rows, address), label_stock(name, "A4")) for name in ("single", "2x7"))
    assert large is not None
    assert small is not None
    assert large.qr == pytest.approx(qr_side(address))
    assert small.qr == 0


def test_lines_are_counted_as_a_browser_breaks_them() -> None:
    """By hand: at 10 pt a digit is 0.64 em of 3.53 mm, 2.26 mm; a space 0.28 em, 0.99 mm."""
    assert text_width("0", 10, bold=False) == pytest.approx(0.64 * 10 * 25.4 / 72)
    assert lines_needed([("00 00 00", False)], 10, 16.0) == 1
    assert lines_needed([("00 00 00", False)], 10, 15.0) == 2
    assert lines_needed([("0" * 14, False)], 10, 16.0) == 2
    assert (
        lines_needed([("10 mL", False)], 10, 9.0) == 2
    )  # number and unit stay together, too long for one line
    assert text_width("\u4e2d", 10, bold=False) > text_width("W", 10, bold=False)


def test_days_and_numbers_are_not_parted_at_a_hyphen() -> None:
    assert unparted(joined("Sown 2026-03-25, SOP-11-A")) == (
        'Sown <span class="whole">2026-03-25</span>, <span class="whole">SOP-11-A</span>'
    )
    assert unparted(joined("pH-down & food-contact '4'")) == joined("pH-down & food-contact '4'")
    assert "whole" not in unparted(joined("lot-" + "9" * 40))


def _label(rows: tuple[LabelRow, ...], address: str = "") -> LabelView:
    source = LabelSource("House", "SOP-03-K", "1", "abcd 1234", address)
    return LabelView("sowing", "thing", "name", "sub", "K", rows, source, Place("house.yml", 1), "key")
