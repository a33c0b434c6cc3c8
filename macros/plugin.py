"""The MkDocs door: hands the finished manual to the generator. No logic of the manual is here.

Everything is worked out in `on_config`, before MkDocs empties the old site, so a mistake in data, a page, a
template or a link leaves the old site as it was.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from mkdocs.config import base, load_config
from mkdocs.config import config_options as options
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.files import File, Files
from mkdocs.utils.yaml import yaml_load

from macros.problems import DataProblems
from macros.rendering.content_policy import with_policy
from macros.rendering.environment import compiled_templates
from macros.rendering.site import Site, prepare_site, problem_site

log = get_plugin_logger("trayside")

THEME = Path(__file__).resolve().parent / "rendering" / "theme"
"""Our parts of the theme. They come with the program wherever it is installed, so no mkdocs.yml names their folder."""


class ManualOptions(base.Config):  # type: ignore[no-untyped-call]  # the generator is half typed
    """Options of the plugin in mkdocs.yml."""

    house = options.Type(str, default=".")
    """Folder that holds `site_data/`, relative to mkdocs.yml."""

    date = options.Optional(options.Type(str))
    """The day to build for, as 2026-03-10; without it SOURCE_DATE_EPOCH, then `house.as_of`."""

    served = options.Type(bool, default=False)
    """For a web server; without it for opening from disk. Set by `trayside build --served`."""


class ManualPlugin(BasePlugin[ManualOptions]):  # type: ignore[no-untyped-call]
    """Builds the pages from the house and hands them over."""

    def __init__(self) -> None:
        self._serving = False
        self._site = Site()

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Defined so that MkDocs keeps this object between rebuilds; notes whether a person is watching."""
        self._serving = command == "serve"
        if not self._serving:
            # A build makes many objects and keeps nearly all to its end: looking for garbage among them is lost time.
            gc.set_threshold(100_000, 50, 50)

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Work the whole manual out; while serving, a mistake becomes a page that lists it."""
        root = Path(config.config_file_path).parent
        house_folder = (root / self.config.house).resolve()
        procedures = Path(config.docs_dir)
        config.watch.extend(
            str(folder)
            for folder in (house_folder / "site_data", house_folder / "procedures")
            if folder.is_dir()
        )
        try:
            self._site = prepare_site(house_folder, procedures, self.config.date, os.environ)
        except DataProblems as found:
            if not self._serving:
                raise PluginError(f"the house manual was not built:\n{found}") from found
            # Not a warning: in strict mode one would end the build, and with it the server.
            log.info("Problems to mend:\n%s", found)
            self._site = problem_site([str(problem) for problem in found.problems])
        for warning in self._site.warnings:
            log.info("%s", warning)
        if str(THEME) not in config.theme.dirs:
            config.theme.dirs.insert(1 if config.theme.custom_dir else 0, str(THEME))
        config.site_name = self._site.name or config.site_name
        config.nav = self._site.navigation
        config.extra.update(self._site.extra)
        return config

    def on_env(self, env: Any, /, *, config: MkDocsConfig, files: Files) -> Any:
        """The theme does not change during a build: it is compiled once and not looked at for every page."""
        env.auto_reload = False
        env.bytecode_cache = compiled_templates()
        return env

    def on_post_page(self, output: str, /, *, page: Any, config: MkDocsConfig) -> str:
        """Each page says what it may load."""
        return with_policy(output, self.config.served)

    def on_post_template(self, output: str, /, *, template_name: str, config: MkDocsConfig) -> str:
        """The page for a wrong address is made of a template alone."""
        return with_policy(output, self.config.served) if template_name.endswith(".html") else output

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
        """Replace the procedure sources by the finished pages; add sheets and data."""
        for file in list(files.documentation_pages()):
            files.remove(file)
        for address, text in {**self._site.pages, **self._site.files}.items():
            if address.endswith(".html"):
                text = with_policy(text, self.config.served)
            files.append(File.generated(config, address, content=text))
        return files


def build_site(config_file: Path, destination: Path, overrides: Mapping[str, Any]) -> None:
    """Run the generator on `config_file` into `destination`. `overrides` are options of the plugin.

    Raises
    ------
    DataProblems, MkDocsException
        nothing was promised about `destination` then.
    """
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    from mkdocs.commands.build import build

    config = load_config(
        config_file=str(config_file),
        site_dir=str(destination),
        **(_without_offline(config_file) if overrides.get("served") else {}),
    )
    plugin = config.plugins["trayside"]
    plugin.load_config({**dict(plugin.config), **overrides})
    config.plugins.on_startup(command="build", dirty=False)
    build(config)


def _without_offline(config_file: Path) -> dict[str, Any]:
    """The config's plugins but the one that packs the search for pages opened from disk."""
    with config_file.open("rb") as file:
        plugins = yaml_load(file).get("plugins", [])
    return {"plugins": [entry for entry in plugins if entry != "offline"]}


def site_folder(config_file: Path) -> Path:
    """The folder the config's site goes to."""
    return Path(load_config(config_file=str(config_file)).site_dir)
