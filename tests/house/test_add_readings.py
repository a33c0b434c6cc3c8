"""`trayside log`: a file of readings goes into the house once, whole, and never against what is there."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from macros.amounts import compute_amounts
from macros.doors.cli import commands
from macros.ground.disk import safe_write
from macros.ground.disk.safe_write import NotWritten
from macros.ground.problems import DataProblems
from macros.house import load_house
from macros.house.files.add_readings import add_readings
from macros.house.files.writing import house_lock
from macros.reference.house_log import log_text
from tests.making import bytes_below, made_house

TODAY = date(2031, 4, 30)
HEAD = "date,time,system,level_cm,ec_mS_cm,ph,by,note\n"
OWN = "date,time,system,level_cm,ec_mS_cm,ph,note\r\n2031-03-01,10:00,K,30.0,1.35,6.1,change\r\n2031-03-02,,K,,1.36,,\r\n"
TWO = "2031-04-01,08:30,K,29.5,1.40,6.2,QM,daily check\n2031-04-02,08:30,K,29,1.41,6.2,QM,daily check\n"
RECORDS = "date,time,page,system,step,what,value,unit,limits,outside,by\n"
CUPS = '2031-04-01,08:30,SOP-16,,floor,"Floor: wet places, count",2,,0,yes,QM\n'


def house_with_log(folder: Path) -> Path:
    """A house that keeps a log, typed on a machine that ends lines in its own way and the last one not at all."""
    house = made_house(folder)
    (house / "site_data" / "log").mkdir()
    (house / "site_data" / "log" / "k.csv").write_bytes(OWN.encode().removesuffix(b"\r\n"))
    return house


def given(folder: Path, rows: str, head: str = HEAD, name: str = "phone.csv") -> Path:
    file = folder / name
    file.write_text(head + rows, encoding="utf-8")
    return file


def test_rows_are_added_once_and_all_else_is_as_it_was(tmp_path: Path) -> None:
    house = house_with_log(tmp_path)
    before = bytes_below(house)
    file = given(tmp_path, TWO)
    assert add_readings(house, [file], TODAY) == ["2 lines added to site_data/log/added-2031.csv."]
    now = bytes_below(house)
    assert now.pop("site_data/log/added-2031.csv").decode() == HEAD + TWO
    assert now == before
    again = add_readings(house, [file], TODAY)
    assert again == [
        f"{file}:2: already there, at site_data/log/added-2031.csv:2.",
        f"{file}:3: already there, at site_data/log/added-2031.csv:3.",
        "No new line for the log.",
    ]
    more = given(tmp_path, TWO.replace("04-0", "04-1") * 2, name="more.csv")
    told = add_readings(house, [more], TODAY)
    assert told[-1] == "2 lines added to site_data/log/added-2031.csv."
    assert told[0] == f"{more}:4: already there, at {more}:2."
    found, _ = load_house(house)
    assert found is not None
    assert len(found.log) == 6


def test_other_columns_go_to_a_file_of_their_own(tmp_path: Path) -> None:
    """What the file of the year has no column for begins another one; none is widened."""
    house = house_with_log(tmp_path)
    add_readings(house, [given(tmp_path, TWO)], TODAY)
    inches = given(tmp_path, "2031-04-03,K,11.0\n", "date,system,level_in\n", "inches.csv")
    assert add_readings(house, [inches], TODAY) == ["1 line added to site_data/log/added-2031-2.csv."]
    metric = given(tmp_path, "2031-04-03,K,27.94\n", "date,system,level_cm\n", "metric.csv")
    assert "already there, at site_data/log/added-2031-2.csv:2" in add_readings(house, [metric], TODAY)[0]


def test_records_go_beside_the_log(tmp_path: Path) -> None:
    house = house_with_log(tmp_path)
    file, cups = given(tmp_path, TWO), given(tmp_path, CUPS, RECORDS, "cups.csv")
    told = add_readings(house, [file, cups], TODAY)
    assert told[-1] == "1 line added to site_data/records/added-2031.csv."
    found, _ = load_house(house)
    assert found is not None
    assert [(one.what, one.value, one.outside) for one in found.records] == [
        ("Floor: wet places, count", "2", True)
    ]


def test_the_page_of_the_log_shows_what_was_outside(tmp_path: Path) -> None:
    """The newest first; what was inside is counted alone, and a value of a day to come is not shown yet."""
    house = made_house(tmp_path)
    rows = CUPS + CUPS.replace("04-01", "04-02").replace(",2,,", ",0,,").replace(",yes,", ",,")
    rows += CUPS.replace("04-01", "04-03").replace(",2,,", ",5,,")
    add_readings(house, [given(tmp_path, rows, RECORDS)], TODAY)
    found, _ = load_house(house)
    assert found is not None
    text = log_text(compute_amounts(found, date(2031, 4, 30), found.house.place("as_of")))
    assert text is not None
    assert "3 other values of the pages are on file" in text
    assert [line for line in ("2031-04-03", "2031-04-02", "2031-04-01") if line in text] == [
        "2031-04-03",
        "2031-04-01",
    ]
    assert text.index("2031-04-03") < text.index("2031-04-01")
    assert "<td>5</td><td>0</td><td>QM</td>" in text
    before = log_text(compute_amounts(found, date(2031, 3, 30), found.house.place("as_of")))
    assert before is None


REFUSED = (
    ("2031-03-01,10:00,K,30.0,1.35,6.4,,change\n", 'FILE:2: log[2].ph: this line says "6.4", and '
     'site_data/log/k.csv:2 "6.1" at the same time. One reading for one time. Keep the one that is right: mend that line, or '
     "take this one out of the file. Were both read, give each its time."),
    ("2031-03-02,09:00,K,,1.50,,,\n", 'FILE:2: log[2].ec: this line says "1.50 mS/cm", and '
     'site_data/log/k.csv:3 "1.36 mS/cm" on the same day, one without a time. One reading for one time. Keep the one that is '
     "right: mend that line, or take this one out of the file. Were both read, give each its time."),
    ("2031-03-02,09:00,K,30,1.36,,,\n", "FILE:2: log[2].date: site_data/log/k.csv:3 says the same of this visit "
     "without level. One line for one visit. Take that line out of the log, then add this file again."),
    ("2031-05-01,09:00,K,30,1.36,,,\n", "FILE:2: log[2].date: 2031-05-01 lies ahead: today is 2031-04-30. Days up to today. "
     "Look at the day, and at the phone's own."),
    ("2031-04-01,09:00,K,30,1500,,,\n", 'FILE:2: log[2].ec: "1500 mS/cm" is no EC of a feed solution. 0 to 10 mS/cm. Read the '
     "unit on the pen: 1500 uS/cm are 1.5 mS/cm."),
    ("2031-04-01,09:00,Q,30,1.4,,,\n", "FILE:2: log[2].system: Q is no system of the house. There are K. Mend it."),
    ("2031-04-01,9.00,K,30,1.4,,,\n", 'FILE:2: log[2].time: "9.00" is not a clock time. Hours and minutes on the 24 h clock: '
     "06:30. Write it so. [E01]"),
    ("2031-04-01,09:00,K,30,1,4,6.1,,\n", "FILE:2: log.row: the row has 9 values, the header 8 columns. A decimal comma splits a "
     "value in two: write 1.42, and leave blanks empty."),
)  # fmt: skip


@pytest.mark.parametrize(("row", "words"), REFUSED)
def test_a_bad_line_is_told_and_nothing_is_written(tmp_path: Path, row: str, words: str) -> None:
    house = house_with_log(tmp_path)
    before = bytes_below(house)
    file = given(tmp_path, row)
    with pytest.raises(DataProblems) as refused:
        add_readings(house, [file], TODAY)
    assert [str(one) for one in refused.value.problems] == [words.replace("FILE", str(file))]
    assert bytes_below(house) == before


def test_a_file_is_read_by_its_header(tmp_path: Path) -> None:
    house = house_with_log(tmp_path)
    for head, words in (
        ("date,system,salt\n", "log.header: salt is no column of a log. Columns: date, time,"),
        ("date,system,ph,ph\n", "log.header: ph stands there twice."),
        ("date,page,value\n", "records.header: the header names no step or no what."),
    ):  # fmt: skip
        with pytest.raises(DataProblems, match=words.replace(".", r"\.")):
            add_readings(house, [given(tmp_path, "2031-04-01,K,1\n", head)], TODAY)
    with pytest.raises(NotWritten, match=r"k\.csv lies in the house already: every row in it counts"):
        add_readings(house, [house / "site_data" / "log" / "k.csv"], TODAY)
    with (
        house_lock(house),
        pytest.raises(NotWritten, match="Another run is writing"),
    ):
        add_readings(house, [given(tmp_path, TWO)], TODAY)


def test_a_run_killed_anywhere_leaves_the_old_or_the_new(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The process ends without a word at its first, second, ... call of the disk, until it comes to its end."""
    house = house_with_log(tmp_path)
    file = given(tmp_path, TWO)
    target = house / "site_data" / "log" / "added-2031.csv"
    whole = HEAD + TWO
    states = set()
    for last in range(1, 40):
        child = os.fork()
        if child == 0:
            _end_at(last, monkeypatch)
            add_readings(house, [file], TODAY)
            os._exit(0)
        status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        states.add(target.exists())
        assert not target.exists() or target.read_text(encoding="utf-8") == whole
        assert (house / "site_data" / "log" / "k.csv").read_bytes() == OWN.encode().removesuffix(b"\r\n")
        if status == 0:
            break
        target.unlink(missing_ok=True)
    assert status == 0
    assert states == {False, True}
    assert last > 5


def _end_at(last: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before and after each call of the disk counts as a moment."""
    seen = 0

    def moment() -> None:
        nonlocal seen
        seen += 1
        if seen == last:
            os._exit(9)

    def around(owner: object, name: str) -> None:
        real = getattr(owner, name)

        def call(*given: object, **named: object) -> object:
            moment()
            result = real(*given, **named)
            moment()
            return result

        monkeypatch.setattr(owner, name, call)

    around(safe_write.tempfile, "mkstemp")
    around(safe_write.os, "fsync")
    around(safe_write.Path, "chmod")
    around(safe_write.Path, "replace")
    around(safe_write.Path, "unlink")


def test_the_command_tells_what_it_did(tmp_path: Path) -> None:
    house = house_with_log(tmp_path)
    command = ["log", str(given(tmp_path, TWO)), "--house", str(house), "--date"]
    done = CliRunner().invoke(commands, [*command, "2031-04-30"], standalone_mode=False)
    assert done.exception is None
    assert done.output == "2 lines added to site_data/log/added-2031.csv.\n"
    wrong = CliRunner().invoke(commands, [*command, "30.4.2031"])
    assert wrong.exit_code == 1
    assert '--date: "30.4.2031" is not a date. Year, month, day: 2026-04-14.' in wrong.output
