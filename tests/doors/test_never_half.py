"""Never half a site: whatever stops a build, the old or the new site stands whole, and the message says which."""

from __future__ import annotations

import errno
import os
import random
import shutil
import signal
import subprocess
import sys
import textwrap
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from macros.doors.cli import main
from macros.doors.publish import build_and_swap, export_and_swap, put_sites_back
from macros.ground.disk import safe_write as writing
from macros.ground.disk import swap_folder as swapping
from macros.ground.disk.own_files import LIST
from macros.ground.disk.safe_write import NotWritten, describe_os_error, exclusive_lock
from macros.ground.disk.swap_folder import put_back_left, replaced
from macros.site.site import Site
from tests.making import ROOT, bytes_below, made_house
from tests.stopped_builds import Known, built, filled_disk, killed, missing_links, stopped_by

KILLS = 6
FULL_DISKS = (0.03, 0.6)
"""Room for this part of the new site."""

OLD = {"index.html": b"old", "amounts.json": b"[]", "p/page.html": b"the old page"}
NEW = {"index.html": b"new", "amounts.json": b"[1]", "p/other.html": b"the new page"}


def lay(folder: Path, files: dict[str, bytes]) -> Path:
    for name, content in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(content)
    return folder


@pytest.fixture(scope="module")
def known(tmp_path_factory: pytest.TempPathFactory) -> tuple[Known, float]:
    """A house with a small old site; the bytes and the seconds of its new one."""
    house = made_house(tmp_path_factory.mktemp("known"), name="fifth")
    after = Path(shutil.copytree(house, house.with_name("after")))
    new, seconds = built(after)
    assert missing_links(after / "site") == []
    lay(house / "site", OLD)
    return Known(house, OLD, new), seconds


@pytest.mark.parametrize("number", range(KILLS))
def test_killed_at_a_random_moment(known: tuple[Known, float], tmp_path: Path, number: int) -> None:
    moment = random.Random(number).uniform(number / KILLS, (number + 1) / KILLS)
    end = killed(known[0], tmp_path, moment * known[1])
    assert end.stands in ("old", "new")


def test_asked_to_end(known: tuple[Known, float], tmp_path: Path) -> None:
    end = stopped_by(
        signal.SIGTERM, known[0], tmp_path, lambda house: (house / ".site-new" / "assets").exists()
    )
    assert (end.stands, end.status) == ("old", 128 + signal.SIGTERM)
    site = tmp_path / "house" / "site"
    assert end.said == f"Stopped by SIGTERM.\nThe old site in {site} is as it was.\n"
    assert not list(site.parent.glob(".site-*"))


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGHUP])
def test_other_signals_that_ask_to_end(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str], number: int
) -> None:
    before = signal.getsignal(number)
    site = lay(tmp_path / "site", OLD)

    def stopped_while_filling(**named: object) -> None:
        with replaced(site, "site", lambda _: None) as new:
            lay(new, NEW)
            signal.raise_signal(number)

    monkeypatch.setattr("macros.doors.cli.commands", stopped_while_filling)
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 128 + number
    name = signal.Signals(number).name
    assert capsys.readouterr().err == f"Stopped by {name}.\nThe old site in {site} is as it was.\n"
    assert bytes_below(tmp_path) == {f"site/{name}": content for name, content in OLD.items()}
    assert signal.getsignal(number) == before


def test_a_signal_the_caller_ignores_stays_ignored(monkeypatch: pytest.MonkeyPatch) -> None:
    """As under nohup."""
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    monkeypatch.setattr("macros.doors.cli.commands", lambda **named: signal.raise_signal(signal.SIGHUP))
    try:
        main()
    finally:
        signal.signal(signal.SIGHUP, before)


@pytest.mark.parametrize("room", FULL_DISKS)
def test_full_disk(known: tuple[Known, float], tmp_path: Path, room: float) -> None:
    end = filled_disk(known[0], tmp_path, room)
    assert (end.stands, end.status) == ("old", 1)
    assert "Free some space, then run this again.\nThe old site in " in end.said
    assert end.said.endswith("house/site is as it was.\n")
    assert "Traceback" not in end.said


# Each call of the system that moves, makes, flushes or removes, refused in turn. ---------------------------------

CALLS = (
    *((os, name) for name in ("rename", "mkdir", "fsync", "open", "rmdir", "unlink")),
    (swapping, "_exchange"),
)


class Refusing:
    """Lets calls pass until one number of all is reached; that one the disk refuses."""

    def __init__(self, refused: int) -> None:
        self.refused = refused
        self.count = 0

    def over(self, call: Callable[..., object]) -> Callable[..., object]:
        def called(*arguments: object, **named: object) -> object:
            self.count += 1
            if self.count == self.refused:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return call(*arguments, **named)

        return called


@contextmanager
def refusing(refused: int) -> Iterator[Refusing]:
    disk = Refusing(refused)
    with pytest.MonkeyPatch.context() as patch:
        for module, name in CALLS:
            patch.setattr(module, name, disk.over(getattr(module, name)))
        patch.setattr(writing, "FLUSHING", 1)
        yield disk


def replace(site: Path) -> None:
    with replaced(site, "site", lambda _: None) as new:
        lay(new, NEW)


def never(one: Path, other: Path) -> bool:
    """A disk that exchanges nothing, as on Windows."""
    return False


@pytest.mark.parametrize("exchanges", [True, False], ids=["exchange", "two renames"])
def test_every_call_refused_in_turn(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, exchanges: bool) -> None:
    if not exchanges:
        monkeypatch.setattr(swapping, "_exchange", never)
    stood: set[str] = set()
    for refused in range(1, 200):
        house = tmp_path / str(refused)
        lay(house / "site", OLD)
        told = ""
        with refusing(refused) as disk:
            try:
                replace(house / "site")
            except OSError as error:
                told = error.__notes__[-1]
        now = bytes_below(house / "site")
        assert now in (OLD, NEW), f"call {refused}"
        stood.add("old" if now == OLD else "new")
        site = house / "site"
        if told:
            assert told == (
                f"The old site in {site} is as it was."
                if now == OLD
                else f"The new site stands whole in {site}."
            )
        else:
            assert now == NEW
        replace(site)
        assert bytes_below(house) == {f"site/{name}": content for name, content in NEW.items()}
        if disk.count < refused:
            break
    assert refused > 20, "there are more calls than that"
    assert stood == {"old", "new"}


# Killed after each call that moves, by a signal no handler sees. ---------------------------------------

KILLING = textwrap.dedent(
    """
    import os, signal, sys
    from pathlib import Path
    from macros.ground.disk import safe_write as writing, swap_folder as swapping
    site, at, exchanges = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "True"
    writing.FLUSHING = 1
    count = 0
    def over(call):
        def called(*arguments, **named):
            global count
            count += 1
            try:
                return call(*arguments, **named)
            finally:
                if count == at:
                    os.kill(os.getpid(), signal.SIGKILL)
        return called
    swapping._exchange = over(swapping._exchange) if exchanges else lambda one, other: False
    for name in ("rename", "mkdir", "rmdir"):
        setattr(os, name, over(getattr(os, name)))
    with swapping.replaced(site, "site", lambda _: None) as new:
        for name, text in (("index.html", "new"), ("amounts.json", "[1]"), ("p/other.html", "the new page")):
            (new / name).parent.mkdir(exist_ok=True)
            (new / name).write_text(text)
    """
)


@pytest.mark.parametrize("exchanges", [True, False], ids=["exchange", "two renames"])
def test_killed_at_each_move(tmp_path: Path, exchanges: bool) -> None:
    """Between the two renames there is no site; the next command that names the house puts the old one back."""
    missing = []
    kills = 0
    for at in range(1, 30):
        house = tmp_path / str(at)
        site = lay(house / "site", OLD)
        command = [sys.executable, "-c", KILLING, str(site), str(at), str(exchanges)]
        ended = subprocess.run(command, cwd=ROOT, check=False).returncode
        if ended == 0:
            break
        assert ended == -signal.SIGKILL
        kills += 1
        if not site.exists():
            missing.append(at)
            assert put_sites_back(house) == [
                f"The last build was stopped before the new site stood. The old one is back in {site}."
            ]
            assert bytes_below(site) == OLD
        assert bytes_below(site) in (OLD, NEW)
        assert put_sites_back(house) == []
        replace(site)
        assert bytes_below(house) == {f"site/{name}": content for name, content in NEW.items()}
    assert kills >= 4
    assert len(missing) == (0 if exchanges else 1)


def test_where_even_the_undoing_is_refused_the_message_says_where_the_site_lies(tmp_path: Path) -> None:
    site = lay(tmp_path / "site", OLD)
    real, renames = os.rename, []

    def first_only(one: Path, other: Path) -> None:
        renames.append(one)
        if len(renames) > 1:
            raise OSError(errno.EIO, os.strerror(errno.EIO), str(other))
        real(one, other)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(swapping, "_exchange", never)
        patch.setattr(os, "rename", first_only)
        with pytest.raises(OSError, match="Input/output") as refused:
            replace(site)
    lies = f"The old site lies whole in {tmp_path / '.site-old'}; any command of trayside puts it back."
    assert refused.value.__notes__ == [lies]
    assert len(put_sites_back(tmp_path)) == 1
    assert bytes_below(site) == OLD


def test_a_reading_command_puts_the_site_back(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    house = made_house(tmp_path, name="fifth")
    lay(house / ".site-old", OLD)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", ["trayside", "amounts", "--house", str(house)])
        main()
    assert bytes_below(house / "site") == OLD
    assert f"The old one is back in {house / 'site'}." in capsys.readouterr().err


def test_a_command_that_cannot_put_it_back_goes_on(tmp_path: Path) -> None:
    lay(tmp_path / ".site-old", OLD)
    with exclusive_lock(tmp_path / "site"):
        assert put_back_left(tmp_path / "site") is False
    with refusing(1):
        assert put_back_left(tmp_path / "site") is False
    assert bytes_below(tmp_path / ".site-old") == OLD


# One run at a time. --------------------------------------------------------------------------------------------


def test_a_second_build_is_told_and_touches_nothing(tmp_path: Path) -> None:
    site = lay(tmp_path / "site", OLD)
    with replaced(site, "site", lambda _: None) as new:
        lay(new, NEW)
        with pytest.raises(NotWritten) as told, replaced(site, "site", lambda _: None):
            raise AssertionError("two builds at once")
        assert str(told.value) == f"Another run is writing {site}. Wait until it ends, then run this again."
        assert bytes_below(new) == NEW
        assert bytes_below(site) == OLD
    assert bytes_below(tmp_path) == {f"site/{name}": content for name, content in NEW.items()}


def test_the_lock_of_a_killed_run_holds_nobody_up(tmp_path: Path) -> None:
    code = (
        "import sys, time; from pathlib import Path; from macros.ground.disk.safe_write import exclusive_lock\n"
        "with exclusive_lock(Path(sys.argv[1])): print('held', flush=True); time.sleep(60)"
    )
    command = [sys.executable, "-c", code, str(tmp_path / "site")]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(NotWritten, match="Another run is writing"):
            replace(tmp_path / "site")
        holder.kill()
        holder.wait()
    assert (tmp_path / ".site-lock").exists()
    replace(tmp_path / "site")
    assert bytes_below(tmp_path) == {f"site/{name}": content for name, content in NEW.items()}


def test_a_lock_taken_over_after_its_name_is_gone_is_no_lock(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The run before takes the name away between our opening and our locking: another run could lock a new file."""
    lock = tmp_path / ".site-lock"
    opened: list[Path] = []
    real = os.open

    def opening(path: Path, *arguments: int) -> int:
        handle = real(path, *arguments)
        opened.append(path)
        if len(opened) == 1:
            path.unlink()
        return handle

    monkeypatch.setattr(os, "open", opening)
    with exclusive_lock(tmp_path / "site"):
        assert opened == [lock, lock]
        assert lock.exists()
    assert not lock.exists()


def test_a_finished_file_is_replaced_whole_and_its_folder_cleared(tmp_path: Path) -> None:
    target = tmp_path / "pack.pdf"
    target.write_bytes(b"old")
    lay(tmp_path / ".pack.pdf-new", {LIST: b"", "pack.html": b"left by a killed run"})
    with swapping.scratch_folder(target) as beside:
        assert [path.name for path in beside.iterdir()] == [LIST]
        (beside / "pack.pdf").write_bytes(b"new")
        writing.replace_file(beside / "pack.pdf", target)
    assert bytes_below(tmp_path) == {"pack.pdf": b"new"}


# Nothing is taken away that was not made here. -------------------------------------------------------------------


def test_hidden_things_in_the_old_site_are_carried_over(tmp_path: Path) -> None:
    """As MkDocs does, which neither copies nor removes what begins with a dot."""
    site = lay(tmp_path / "site", {**OLD, ".git/config": b"kept", ".nojekyll": b""})
    (site / ".link").symlink_to("index.html")
    replace(site)
    assert (site / ".link").is_symlink()
    (site / ".link").unlink()
    assert bytes_below(site) == {**NEW, ".git/config": b"kept", ".nojekyll": b""}


def no_build(*arguments: object) -> None:
    raise AssertionError("this folder must be refused before anything is built")


@pytest.mark.parametrize("name", ["site", ".site-new", ".site-old"])
@pytest.mark.parametrize("kind", ["link", "file"])
def test_a_link_or_file_in_the_place_of_a_folder_is_refused(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, name: str, kind: str
) -> None:
    monkeypatch.setattr("macros.doors.publish.build_site", no_build)
    house = made_house(tmp_path, name="fifth")
    elsewhere = lay(tmp_path / "elsewhere", OLD)
    path = house / name
    if kind == "link":
        path.symlink_to(elsewhere)
        wanted = f"{path} is a link to {elsewhere}. Only a real folder is replaced, so that nothing elsewhere is lost."
    else:
        path.write_bytes(b"mine")
        wanted = f"{path} is no folder. This program did not make it. Move it away, then run this again."
    with pytest.raises(NotWritten) as told:
        build_and_swap(house, None, None)
    assert str(told.value).startswith(wanted)
    assert bytes_below(elsewhere) == OLD
    assert path.is_symlink() if kind == "link" else path.read_bytes() == b"mine"


def test_a_lock_that_is_a_link_makes_no_file_elsewhere(tmp_path: Path) -> None:
    (tmp_path / ".site-lock").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(OSError, match="symbolic link") as refused:
        replace(tmp_path / "site")
    assert describe_os_error(refused.value) == (
        f"{tmp_path / '.site-lock'}: it is a link. Put the real file or folder there."
    )
    assert not (tmp_path / "elsewhere").exists()


def test_a_folder_that_is_no_site_of_ours_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("macros.doors.publish.build_site", no_build)
    house = made_house(tmp_path, name="fifth")
    lay(house / "site", {"photos/rack.jpg": b"mine"})
    with pytest.raises(NotWritten) as told:
        build_and_swap(house, None, None)
    assert str(told.value) == (
        f"{house / 'site'} does not look like a site of this program: it holds photos, but not both index.html and "
        "amounts.json. Nothing in it was touched. If you need nothing of it, delete it, then build again."
    )
    assert bytes_below(house / "site") == {"photos/rack.jpg": b"mine"}


def test_an_export_replaces_an_export_and_nothing_else(tmp_path: Path) -> None:
    site = Site(pages={"index.md": "one", "p/a.md": "a"}, files={"amounts.json": "[]"})
    folder = tmp_path / "out"
    assert export_and_swap(site, folder) == 3
    site.pages["index.md"] = "two"
    assert export_and_swap(site, folder) == 3
    now = {"index.md": b"two", "p/a.md": b"a", "amounts.json": b"[]"}
    assert bytes_below(tmp_path) == {f"out/{name}": content for name, content in now.items()}
    (folder / "mkdocs.yml").write_bytes(b"mine")
    with pytest.raises(NotWritten) as told:
        export_and_swap(site, folder)
    assert str(told.value) == (
        f"{folder / 'mkdocs.yml'} is no part of this export, and an export replaces the whole folder. "
        "Move it away, or name a new folder."
    )
    assert told.value.__notes__ == [f"The old export in {folder} is as it was."]
    assert bytes_below(folder) == {**now, "mkdocs.yml": b"mine"}


# What the disk says, in words. -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "The disk is full. Free some space, then run this again."),
        (errno.EROFS, "/x/site: this disk can only be read. Copy the house to a disk that can be written."),
        (
            errno.EACCES,
            "/x/site: this user may not write it, or another program holds it open. Look at the permissions of its "
            "folder; on Windows close whatever shows it.",
        ),
        (errno.ENOTEMPTY, "/x/site: Directory not empty."),
    ],
)
def test_a_refusing_disk_is_told_in_words(number: int, words: str) -> None:
    assert describe_os_error(OSError(number, os.strerror(number), "/x/site")) == words


def test_the_command_ends_with_the_words_and_status_1(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    house = made_house(tmp_path, name="fifth")
    lay(house / "site", OLD)
    real = os.open

    def read_only(path: Path, flags: int, *arguments: int) -> int:
        if flags & os.O_CREAT and str(path).startswith(str(house)):
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), str(path))
        return real(path, flags, *arguments)

    monkeypatch.setattr(os, "open", read_only)
    monkeypatch.setattr(sys, "argv", ["trayside", "build", "--house", str(house)])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 1
    assert capsys.readouterr().err == (
        f"{house / '.site-lock'}: this disk can only be read. Copy the house to a disk that can be written.\n"
        f"The old site in {house / 'site'} is as it was.\n"
    )


# What this program did not write stays. ----------------------------------------------------------------------------


def rebuilt(site: Path, files: dict[str, bytes]) -> list[str]:
    """What is told when a folder is replaced by these files."""
    told: list[str] = []
    with replaced(site, "site", lambda _: None, told.append) as new:
        lay(new, files)
    return told


def test_a_user_s_own_files_in_the_site_stay_and_are_told(tmp_path: Path) -> None:
    site = tmp_path / "site"
    assert rebuilt(site, OLD) == []
    lay(site, {"notes.txt": b"mine", "p/mine.html": b"mine too"})
    (site / "p" / "link").symlink_to("../notes.txt")
    for _ in range(2):
        assert rebuilt(site, NEW) == [
            f"Kept in {site}, though not of this program: notes.txt, p/link, p/mine.html."
        ]
        assert bytes_below(site) == {
            **NEW,
            "notes.txt": b"mine",
            "p/mine.html": b"mine too",
            "p/link": b"mine",
        }
        assert (site / "p" / "link").is_symlink()


def test_in_a_site_of_the_first_version_what_lies_beside_its_folders_stays(tmp_path: Path) -> None:
    site = lay(tmp_path / "site", {**OLD, "notes.txt": b"mine", "mine/a.txt": b"mine"})
    assert rebuilt(site, NEW) == [f"Kept in {site}, though not of this program: mine/a.txt, notes.txt."]
    assert bytes_below(site) == {**NEW, "notes.txt": b"mine", "mine/a.txt": b"mine"}


@pytest.mark.parametrize("name", ["p/new.html", "p/new.html/a.txt", "q"])
def test_a_user_s_file_in_the_way_of_a_new_one_is_refused(tmp_path: Path, name: str) -> None:
    site = tmp_path / "site"
    rebuilt(site, OLD)
    lay(site, {name: b"mine"})
    before = bytes_below(site)
    with pytest.raises(NotWritten) as told:
        rebuilt(site, {**NEW, "p/new.html": b"new", "q/a.html": b"new"})
    assert str(told.value) == (
        f"{site / name} was not made by this program, and the new one has a file of that name. Move it away, then run this again."
    )
    assert bytes_below(site) == before


@pytest.mark.parametrize("name", [".site-new", ".site-old"])
def test_a_user_s_folder_of_a_name_that_is_needed_stays(tmp_path: Path, name: str) -> None:
    site = tmp_path / "site"
    lay(tmp_path / name, {"thesis.txt": b"mine"})
    assert put_back_left(site) is False
    with pytest.raises(NotWritten) as told:
        rebuilt(site, NEW)
    assert str(told.value) == (
        f"{tmp_path / name} was not made by this program, which needs that name. Move it away, then run this again."
    )
    assert bytes_below(tmp_path) == {f"{name}/thesis.txt": b"mine"}


def test_files_that_may_only_be_read_hold_no_build_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As git keeps its objects. Whoever runs the tests may write everything: opening for writing is what is refused."""
    site = lay(tmp_path / "site", {**OLD, ".git/objects/ab/cd": b"object"})
    (site / ".git/objects/ab/cd").chmod(0o444)
    real = os.open

    def reading(path: Path, flags: int, *arguments: int, **named: int) -> int:
        if (
            flags & (os.O_WRONLY | os.O_RDWR)
            and Path(path).exists()
            and not Path(path).stat().st_mode & 0o200
        ):
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return real(path, flags, *arguments, **named)

    def opened(path: Path, mode: str = "r", *arguments: object, **named: object) -> object:
        if "+" in mode and not path.stat().st_mode & 0o200:
            raise PermissionError(errno.EACCES, "Permission denied", str(path))
        return plain(path, mode, *arguments, **named)  # type: ignore[call-overload]

    plain = Path.open
    monkeypatch.setattr(os, "open", reading)
    monkeypatch.setattr(Path, "open", opened)
    assert rebuilt(site, NEW) == []
    assert bytes_below(site) == {**NEW, ".git/objects/ab/cd": b"object"}
