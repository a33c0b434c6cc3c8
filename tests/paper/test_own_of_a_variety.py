"""What a variety has of its own, printed on pages, labels and the card of plant pictures."""

from __future__ import annotations

import re
from pathlib import Path

from macros.page_model.card import Frames
from macros.page_model.figure import TableView
from macros.paper.cards import people_and_plants
from tests.making import labels_document, made_house, made_site


def test_pages_labels_and_card_print_a_varietys_own(tmp_path: Path) -> None:
    folder = made_house(tmp_path, name="fourth")
    file = folder / "site_data" / "house.yml"
    old = "{id: rocket, botanical: Eruca vesicaria,"
    own = (
        ' seeds_per_plug: 4, thin_to: 3, ec_low: "1.1 mS/cm", ec_high: "1.7 mS/cm", ph_low: 5.8, ph_high: 6.6,'
        ' storage_temperature: "3 degC",'
    )
    text = file.read_text(encoding="utf-8").replace(old, old + own, 1)
    file.write_text(text.replace("policies: {", 'policies: {cold_store: "6 degC", ', 1), encoding="utf-8")
    site = made_site(folder)
    tables = {view.key: {t.title: t for t in view.figures if isinstance(t, TableView)} for view in site.views}
    bands = tables["SOP-09-M"]["EC and pH each variety grows well in"]
    assert bands.rows == (("rocket", "1.1 to 1.7 mS/cm", "5.8 to 6.6"),)
    assert bands == tables["SOP-08-M"]["EC and pH each variety grows well in"]
    assert "EC and pH each variety grows well in" not in tables["SOP-09-K"]
    kept = {row[0]: row[-1] for row in tables["SOP-18"]["When each is picked"].rows}
    assert kept == {"viola": "6 °C", "rocket": "3 °C", "lettuce": "6 °C"}
    stems = {row[0]: row[-1] for row in tables["SOP-12"]["Dome off and planting window"].rows}
    assert stems["rocket"] == "3"
    labels = re.sub(r"<[^>]*>|\s+", " ", labels_document(site.register, site.views, ["sowing", "tray"]))
    labels = re.sub(" +", " ", labels)
    assert "Thin to 3 stems a plug." in labels
    assert "EC 1.1 to 1.7 mS/cm, pH 5.8 to 6.6." in labels
    shown = "EC 1.1 to 1.7 mS/cm, pH 5.8 to 6.6, 3 stems a plug"
    (((frames, *_),)) = people_and_plants.plants(site.register.house, "M")
    assert isinstance(frames, Frames)
    assert [shown in frame.words for frame in frames.frames] == [
        frame.name == "rocket" for frame in frames.frames
    ]
