"""Builds beside the old site and swaps whole; tells what changed in printed values since the last build."""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path

from macros.plugin import build_site, site_folder
from macros.rendering.site import Site

LEDGER = "amounts.json"


def config_for(house: Path, config_file: Path | None) -> Path:
    """The mkdocs.yml to use: the one named, the house's own, or the one beside the program."""
    if config_file is not None:
        return config_file.resolve()
    own = house / "mkdocs.yml"
    return (own if own.is_file() else Path(__file__).resolve().parent.parent / "mkdocs.yml").resolve()


def build_and_swap(
    house: Path,
    day: str | None,
    config_file: Path | None,
    destination: Path | None = None,
    served: bool = False,
) -> Path:
    """Build the site in a folder beside the old one, then put it in the old one's place.

    `served` builds for a web server, beside the site for opening from disk: `site-served` next to `site`.

    Returns
    -------
    Path
        the folder the site stands in.

    Raises
    ------
    DataProblems, MkDocsException, OSError
        the old site is as it was.
    """
    config = config_for(house, config_file)
    target = destination or (
        site_folder(config) if config_file or (house / "mkdocs.yml").is_file() else house / "site"
    )
    target = target.resolve()
    if served and destination is None:
        target = target.with_name(f"{target.name}-served")
    target.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(prefix=f".{target.name}-new-", dir=target.parent))
    try:
        options = {"house": str(house.resolve()), "served": served, **({"date": day} if day else {})}
        build_site(config, beside, options)
        _swap(beside, target)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return target


def _swap(new: Path, target: Path) -> None:
    """Two renames; should the second fail, the first is undone."""
    new.chmod(0o755)
    old = target.with_name(f".{target.name}-old")
    shutil.rmtree(old, ignore_errors=True)
    if target.exists():
        target.rename(old)
    try:
        new.rename(target)
    except OSError:
        if old.exists():
            old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)


def changes_since_last_build(house: Path, site: Site) -> list[str]:
    """One line for each printed value that differs from the last built site: old value, new value, why."""
    ledger = _last_site(house) / LEDGER
    if not ledger.is_file():
        return ["There is no earlier build to compare with."]
    try:
        old = {_key(row): row for row in json.loads(ledger.read_text(encoding="utf-8"))}
    except (ValueError, KeyError, TypeError):
        return [f"{ledger} cannot be read; build again to compare from then on."]
    new = {_key(row): row for row in (amount.as_json() for amount in site.register.all())}
    lines = [f"  new: {key} = {new[key]['printed']}" for key in sorted(new.keys() - old.keys())]
    lines += [f"  gone: {key} (was {old[key]['printed']})" for key in sorted(old.keys() - new.keys())]
    for key in sorted(new.keys() & old.keys()):
        if _printed(new[key]) != _printed(old[key]):
            lines.append(f"  {key}: {old[key]['printed']} -> {new[key]['printed']}{_why(old[key], new[key])}")
    if not lines:
        return ["No printed value changed since the last build."]
    count = "1 printed value" if len(lines) == 1 else f"{len(lines)} printed values"
    return [f"{count} changed since the last build:", *lines]


def _last_site(house: Path) -> Path:
    config = house / "mkdocs.yml"
    return site_folder(config) if config.is_file() else house / "site"


def _key(row: dict[str, object]) -> str:
    of = row["of"]
    assert isinstance(of, dict)
    inner = ",".join(f"{name}={value}" for name, value in sorted(of.items()))
    return f"{row['id']}[{inner}]" if inner else str(row["id"])


def _printed(row: dict[str, object]) -> tuple[object, object, object]:
    """What a reader can see of an amount: its text, its pours, and for a table or band its figures."""
    figures = row["value"] if row["kind"] in ("table", "band", "map") else None
    return row["printed"], row["pours"], figures


def _why(old: dict[str, object], new: dict[str, object]) -> str:
    """The facts that differ between two builds of one amount."""
    before = {item["name"]: (item["value"], item["unit"]) for item in old["inputs"]}  # type: ignore[attr-defined]
    after = {item["name"]: (item["value"], item["unit"]) for item in new["inputs"]}  # type: ignore[attr-defined]
    changed = sorted(name for name in before.keys() | after.keys() if before.get(name) != after.get(name))
    return f" (because of {', '.join(changed)})" if changed else " (because the program changed)"
