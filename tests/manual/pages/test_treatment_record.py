"""A product against a pest leaves a record that a recall can use; an order is reckoned from the pages it is sown by."""

from __future__ import annotations

from collections.abc import Mapping

from macros.site.site import Site


def test_a_treatment_is_written_down_whole(all_kinds: Site) -> None:
    """Product, registration, dose, place, person, re-entry and days to harvest: what a spray record of any farm holds."""
    (view,) = (one for one in all_kinds.views if one.document == "SOP-23")
    records = {step.id: step.record for step in view.steps if step.record is not None}
    assert records["product_label"].label == "Product, registration number on its label"
    assert records["product"].label == "Dose, trays and plants treated, by whom, time"
    assert records["re_entry"].limits == "the hours on the label after the last drop, at least"
    assert records["hold_date"].label == "Days to harvest on the label; nothing picked before, date"
    assert records["hold_date"].limits == (
        "the last of these: two looks without a finding; after a product the days on its label, and "
        "1 day and rinse passed, whichever is longer"
    )
    order = [step.id for step in view.steps]
    assert order.index("product_label") < order.index("product") < order.index("re_entry")
    form = all_kinds.files[view.form_address]
    assert all(record.label.split(",")[0] in form for record in records.values())


def test_pages_of_sowing_lead_to_the_reckoner_of_an_order(sites: Mapping[str, Site]) -> None:
    links = {view.key: [link.text for link in view.reckoners] for view in sites["fourth"].views}
    assert any("order" in text for text in links["SOP-14-K"])
    assert len([text for text in links["SOP-11"] if "order" in text]) == 2
    assert not any(
        "order" in text for view in sites["second"].views for text in (x.text for x in view.reckoners)
    )
