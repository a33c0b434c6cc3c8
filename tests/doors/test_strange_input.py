"""What a person or a program may hand to a command by mistake ends in words, and takes nothing of others away."""

from __future__ import annotations

import http.client
import json
import os
import subprocess
import sys
import threading
from contextlib import suppress
from pathlib import Path
from types import SimpleNamespace

import click
import pytest

from macros.doors import cli
from macros.doors import print_pack as packing
from macros.doors.preview import Answer, Inputs, server_of
from macros.ground.disk.own_files import LIST
from macros.ground.problems import DataProblems, Place, Problem
from macros.ground.seen import UNSEEN
from macros.house import load_house
from macros.house.files.new_house import NotStarted, start_house
from macros.house.files.writing import house_lock
from macros.html.dead_links import broken_links
from macros.packs.pack import PackRequest
from tests.making import PROCEDURES, ROOT, bytes_below, made_house, quiet_environment

CARDS = PackRequest("cards", None, None, None, None, None, False, (), "single", 1, None, False)


def command(shell: str, *arguments: str, **more: str) -> subprocess.CompletedProcess[str]:
    run = ["sh", "-c", f'"$@" {shell}', "sh", sys.executable, "-m", "macros", *arguments]
    environment = {**quiet_environment(), **more}
    return subprocess.run(run, cwd=ROOT, env=environment, text=True, capture_output=True, check=False)


@pytest.mark.parametrize("kind", ["pipe", "link", "folder"])
def test_a_pack_replaces_plain_files_alone(tmp_path: Path, kind: str) -> None:
    target = tmp_path / "out.pdf"
    if kind == "pipe":
        os.mkfifo(target)
    elif kind == "link":
        target.symlink_to("/dev/full")
    else:
        target.mkdir()
    before = target.lstat().st_ino
    with pytest.raises(packing.NotPrinted) as told:
        packing.print_pack(tmp_path, CARDS, None, target, lambda stage: None)
    assert (
        str(told.value)
        == f"{target} is no plain file, and only a plain file is replaced. Name another with -o."
    )
    assert target.lstat().st_ino == before


def test_a_closed_output_is_no_mistake(tmp_path: Path) -> None:
    run = command(">&-", "new", str(tmp_path / "house"))
    assert (run.returncode, run.stderr) == (0, "")
    assert (tmp_path / "house" / "site_data").is_dir()


def test_a_name_the_terminal_cannot_print_is_written_out(tmp_path: Path) -> None:
    run = command(
        "", "new", str(tmp_path / "caf\u00e9"), LC_ALL="C", PYTHONUTF8="0", PYTHONIOENCODING="ascii:strict"
    )
    assert (run.returncode, run.stderr) == (0, "")
    assert "caf<U+" in run.stdout, "its bytes are no text there"


def test_a_port_there_is_none_of() -> None:
    with pytest.raises(click.BadParameter, match=r"99999 is not in the range 0<=x<=65535"):
        cli.commands(["preview", "--port", "99999"], standalone_mode=False)


def test_the_preview_reads_no_more_than_a_house_has(tmp_path: Path) -> None:
    house = made_house(tmp_path, name="fifth")
    inputs = Inputs(house, PROCEDURES, None)
    states = [inputs.fingerprint()]
    Path(os.fsdecode(os.fsencode(house / "site_data") + b"/\xff.txt")).touch()
    states.append(inputs.fingerprint())
    (tmp_path / "secret").write_text("one")
    (house / "site_data" / "link.yml").symlink_to(tmp_path / "secret")
    states.append(inputs.fingerprint())
    with (house / "site_data" / "huge.bin").open("wb") as file:
        file.truncate(3_000_000_000)
    states.append(inputs.fingerprint())
    assert len(set(states)) == 4
    (tmp_path / "secret").write_text("another")
    assert inputs.fingerprint() == states[-1], "what a link leads out to is not looked at"


def test_an_address_that_is_none_and_a_silent_caller() -> None:
    answers = SimpleNamespace(answer=lambda address: Answer(200, "text/plain", b"here"))
    server = server_of(answers, 0)  # type: ignore[arg-type]
    assert server.RequestHandlerClass.timeout == 30  # type: ignore[attr-defined]
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        for address, status in (("http://[", 400), ("/a", 200)):
            caller = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=10)
            caller.putrequest("GET", address, skip_host=True)
            caller.putheader("Host", "localhost")
            caller.endheaders()
            assert caller.getresponse().status == status
            caller.close()
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def test_a_name_that_looks_like_a_link_is_no_link() -> None:
    pages = {"a.md": "# A\n\n<p>pH meter [old](spare)</p>\n\nSee [the other](gone.md).\n"}
    assert [str(one).partition(" leads")[0] for one in broken_links(pages, {})] == ["a.md:5: link: gone.md"]


def test_of_thousands_of_mistakes_the_first_are_told_and_the_rest_counted() -> None:
    found = DataProblems(Problem(Place("a.yml", line), "x", "wrong") for line in range(1, 10_001))
    lines = str(found).splitlines()
    assert (lines[0], lines[49], lines[50:]) == (
        "a.yml:1: x: wrong.", "a.yml:50: x: wrong.", ["... and 9950 more. Mend these first."]
    )  # fmt: skip


def test_a_list_far_too_long_is_told_alone(tmp_path: Path) -> None:
    """Each bottle would be compared with each: with 1,000 of them for a quarter of a minute."""
    house = made_house(tmp_path)
    file = house / "site_data" / "house.yml"
    head, tail = file.read_text().split("chemicals:\n")
    bottle = '  - {{id: c{0}, name: "c {0}", role: base, active: x, strength: "1 % w/w", container: "1 L", containers_in_stock: 1}}\n'
    file.write_text(f"{head}chemicals:\n{''.join(bottle.format(n) for n in range(1000))}{tail}")
    found, problems = load_house(house)
    assert found is None
    assert [str(one).partition(": ")[2] for one in problems] == [
        "chemicals: there are 1002 entries. At most 40. Look for entries written twice."
    ]


# What killed runs left. ------------------------------------------------------------------------------------------


def test_a_new_house_after_a_killed_one(tmp_path: Path) -> None:
    whole = bytes_below(start_house(tmp_path / "whole"))
    (tmp_path / "house").mkdir()
    (tmp_path / "house" / "README.md").write_bytes(whole["README.md"])  # moved first
    (tmp_path / ".house-new").mkdir()
    (tmp_path / ".house-new" / LIST).touch()
    assert bytes_below(start_house(tmp_path / "house")) == whole
    assert sorted(path.name for path in tmp_path.iterdir()) == ["house", "whole"]
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "README.md").write_text("mine")
    with pytest.raises(NotStarted, match="is not empty"):
        start_house(tmp_path / "mine")


def test_the_next_writer_clears_what_a_killed_one_began(tmp_path: Path) -> None:
    house = made_house(tmp_path)
    (house / "site_data" / "issued").mkdir()
    left = house / "site_data" / "issued" / ".SOP-01-1.json-a1b2c3d4"
    kept = house / "site_data" / ".mine.json-kept"
    left.touch()
    kept.touch()
    with house_lock(house):
        assert (left.exists(), kept.exists()) == (False, True)
    assert not (house / ".site_data-lock").exists()


# What a terminal is sent. ----------------------------------------------------------------------------------------

CLEARS = "\x1b[2J\x1b]0;title\x07no error\x9b2J\u202e"


def recorded(house: Path, *arguments: str) -> str:
    """All that a command sends to a terminal of its own."""
    ours, theirs = os.openpty()
    run = subprocess.Popen(
        [sys.executable, "-m", "macros", *arguments, "--house", str(house)],
        cwd=ROOT, env=quiet_environment(), stdin=theirs, stdout=theirs, stderr=theirs,
    )  # fmt: skip
    os.close(theirs)
    sent = b""
    with suppress(OSError):  # its end, as Linux tells it
        while piece := os.read(ours, 65_536):
            sent += piece
    os.close(ours)
    assert run.wait() == 1
    return sent.decode("utf-8")


def test_nothing_a_house_holds_turns_the_terminal(tmp_path: Path) -> None:
    """Escape sequences in a file's name, a text, a header, a tag, a page's fact and the list of the last build."""
    typed = CLEARS.encode("unicode_escape").decode()
    house = made_house(tmp_path, ('name: "pH meter"', f'name: "pH {typed}meter"'), name="fifth")
    files = {
        f"site_data/{CLEARS}.yml": "a: 1\n",
        "site_data/tag.yml": f"a: !<tag:{CLEARS}> 1\n",
        "site_data/key.yml": f'"{typed}": 1\n',
        "site_data/log/a.csv": f"date,{CLEARS}\n2031-04-01,1\n",
        "site/amounts.json": json.dumps([{"id": CLEARS}]),
        "procedures/own.md": f"---\nid: SOP-90\ntitle: \"{typed} {{{{ fact('{typed}') }}}}\"\n---\n",
    }
    for name, text in files.items():
        (house / name).parent.mkdir(exist_ok=True)
        (house / name).write_text(text, encoding="utf-8")
    sent = recorded(house, "check").replace("\r\n", "\n")
    assert UNSEEN.findall(sent) == []
    assert sent.count("site_data/") >= 4, "each is told"
    assert "[2J" in sent, "what was read is quoted"
