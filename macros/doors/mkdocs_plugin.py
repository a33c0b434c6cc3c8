"""The MkDocs door: hands the finished manual to the generator. No logic of the manual is here.

Everything is worked out in `on_config`, before MkDocs empties the old site, so a mistake in data, a page, a
template or a link leaves the old site as it was.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Mapping
from html import unescape
from pathlib import Path
from typing import Any

from material.plugins.search.plugin import SearchPlugin
from mkdocs.commands.build import build, get_context
from mkdocs.config import base, load_config
from mkdocs.config import config_options as options
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import Abort, PluginError
from mkdocs.plugins import BasePlugin, event_priority, get_plugin_logger
from mkdocs.structure.files import File, Files, get_files, set_exclusions
from mkdocs.structure.nav import get_navigation
from mkdocs.structure.pages import Page
from mkdocs.utils.yaml import yaml_load

from macros.doors.search_index import ManualSearchIndex
from macros.ground.package import PACKAGE
from macros.ground.problems import DataProblems, first_lines
from macros.html.content_policy import with_policy
from macros.html.environment import compiled_templates
from macros.html.phone.installed import installed_files
from macros.html.phone.one_file import FilePage
from macros.html.skip_finished_html import anchors, put_back, set_apart
from macros.site.site import Site, prepare_site, problem_site

log = get_plugin_logger("trayside")

THEME = PACKAGE / "html" / "theme"
"""Our parts of the theme. They come with the program wherever it is installed, so no mkdocs.yml names their folder."""

INSTALLED = "assets/installed.js"
"""The script of a site that is kept on a device."""


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
        self.given: Site | None = None
        """A manual already worked out, instead of one worked out here."""
        self._whole = ""
        self._finished: list[str] = []
        self._index: ManualSearchIndex | None = None

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Defined so that MkDocs keeps this object between rebuilds; notes whether a person is watching."""
        self._serving = command == "serve"
        if not self._serving:
            keep_what_is_made()

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Work the whole manual out; while serving, a mistake becomes a page that lists it."""
        self._site = self.given or self._worked_out(config)
        for warning in self._site.warnings:
            log.info("%s", warning)
        _add_our_theme(config)
        config.site_name = self._site.name or config.site_name
        config.nav = self._site.navigation
        config.extra.update(self._site.extra, served=self.config.served)
        for plugin in config.plugins.values():
            if isinstance(plugin, SearchPlugin) and plugin.config.enabled:
                plugin.search_index = self._index = ManualSearchIndex(**plugin.config)
        return config

    def _worked_out(self, config: MkDocsConfig) -> Site:
        house_folder = (Path(config.config_file_path).parent / self.config.house).resolve()
        for folder in (house_folder / "site_data", house_folder / "procedures"):
            if folder.is_dir() and str(folder) not in config.watch:
                config.watch = [*config.watch, str(folder)]
        try:
            return prepare_site(house_folder, Path(config.docs_dir), self.config.date, os.environ)
        except DataProblems as found:
            if not self._serving:
                raise PluginError(f"the house manual was not built:\n{found}") from found
            # Not a warning: in strict mode one would end the build, and with it the server.
            log.info("Problems to mend:\n%s", found)
            return problem_site(first_lines(found.problems))

    def on_page_markdown(
        self, markdown: str, /, *, page: Page, config: MkDocsConfig, files: Files
    ) -> str | None:
        """The converter gets what it has to convert, and a mark for each stretch of finished HTML."""
        self._whole = markdown
        short, self._finished = set_apart(markdown)
        return short

    def on_page_content(self, html: str, /, *, page: Page, config: MkDocsConfig, files: Files) -> str | None:
        """The finished HTML back in its places, and its anchors among those a link may lead to."""
        whole = put_back(html, self._finished)
        if whole is None:
            page.markdown = self._whole
            page.render(config, files)
            return page.content
        page.present_anchor_ids = (page.present_anchor_ids or set()) | anchors(whole)
        return whole

    def on_env(self, env: Any, /, *, config: MkDocsConfig, files: Files) -> Any:
        """The theme does not change during a build: it is compiled once and not looked at for every page."""
        env.auto_reload = False
        env.bytecode_cache = compiled_templates()
        return env

    def on_post_page(self, output: str, /, *, page: Any, config: MkDocsConfig) -> str:
        """Each page says what it may load. What it was made of is let go: all pages at once would be half the memory."""
        before, _, after = output.partition(page.content or "\0")
        page.content = None
        return with_policy(output, self.config.served, (before, after))

    def on_post_template(self, output: str, /, *, template_name: str, config: MkDocsConfig) -> str:
        """The page for a wrong address is made of a template alone. No sitemap: it is dated by the clock, for search
        engines, and two builds of one house give the same bytes."""
        if template_name == "sitemap.xml":
            return ""
        return (
            with_policy(output, self.config.served, (output,)) if template_name.endswith(".html") else output
        )

    @event_priority(-100)
    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """The whole index beside the small one that the theme has written. Then a served site can be installed: last of
        all, for the list of its files names those of the search as well."""
        if self._index is not None:
            self._index.write_whole(Path(config.site_dir))
        if not config.extra.get("installed"):
            return
        site = Path(config.site_dir)
        name, language = unescape(config.site_name), str(config.extra["language"])
        for address, data in installed_files(site, name, language, str(config.extra["day"])).items():
            (site / address).write_bytes(data)

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
        """Replace the procedure sources by the finished pages; add sheets and data."""
        for file in list(files.documentation_pages()):
            files.remove(file)
        for address, text in {**self._site.pages, **self._site.files}.items():
            if address.endswith(".html"):
                text = with_policy(text, self.config.served)
            files.append(File.generated(config, address, content=text))
        for address, data in self._site.pictures.items():
            files.append(File.generated(config, address, content=data))
        self._site = Site()
        return files


def keep_what_is_made() -> None:
    """A build makes many objects and keeps nearly all to its end: looking for garbage among them is lost time."""
    gc.set_threshold(1_000_000, 50, 50)


def build_site(
    config_file: Path, destination: Path, overrides: Mapping[str, Any], site: Site | None = None
) -> None:
    """Run the generator on `config_file` into `destination`. `overrides` are options of the plugin.

    `site` is the manual where it is worked out already.

    Raises
    ------
    DataProblems, MkDocsException
        nothing was promised about `destination` then.
    """
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    config = _loaded(config_file, destination, overrides)
    if overrides.get("served"):  # and not where pages are only shown: a preview must never be kept
        config.extra["installed"] = True
        config.extra_javascript.append(INSTALLED)
    _plugin_of(config).given = site
    config.plugins.on_startup(command="build", dirty=False)
    try:
        build(config)
    except Abort as aborted:
        problems = _behind(aborted)
        if problems is None:
            raise
        raise problems from aborted


def _behind(error: BaseException | None) -> DataProblems | None:
    """The mistakes that made the generator give up, as where a file was broken after a first reading; it says nothing of them."""
    while error is not None:
        if isinstance(error, DataProblems):
            return error
        error = error.__cause__ or error.__context__
    return None


def _loaded(config_file: Path, destination: Path, overrides: Mapping[str, Any]) -> MkDocsConfig:
    config = load_config(
        config_file=str(config_file),
        site_dir=str(destination),
        **(_without_offline(config_file) if overrides.get("served") else {}),
    )
    plugin = _plugin_of(config)
    plugin.load_config({**dict(plugin.config), **overrides})
    return config


def _plugin_of(config: MkDocsConfig) -> ManualPlugin:
    plugin = config.plugins["trayside"]
    assert isinstance(plugin, ManualPlugin)  # the entry point of that name leads to it
    return plugin


def _add_our_theme(config: MkDocsConfig) -> None:
    """Our parts before those of the theme, and after those of an owner who has some."""
    if str(THEME) not in config.theme.dirs:
        config.theme.dirs.insert(1 if config.theme.custom_dir else 0, str(THEME))


class ThemedSite:
    """The files of a manual as a web server gives them, each page put into the theme when it is asked for.

    The theme and the config are loaded once. What needs all pages (search, site map) is not here.
    """

    def __init__(self, config_file: Path, overrides: Mapping[str, Any]) -> None:
        os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
        self._config = _loaded(config_file, Path("site"), {**overrides, "served": True})
        self._plugin = _plugin_of(self._config)
        self._config.plugins.on_startup(command="serve", dirty=False)
        _add_our_theme(self._config)
        self._env = self._config.theme.get_env()
        self._theme = Files([])
        self._theme.add_files_from_theme(self._env, self._config)
        self.show(Site())

    @property
    def procedures(self) -> Path:
        """The folder the pages are written from."""
        return Path(self._config.docs_dir)

    def show(self, site: Site) -> None:
        """From now on the files of this manual."""
        config = self._config
        config.extra.pop("emergency", None)
        self._plugin.given = site
        config = self._config = config.plugins.on_config(config)
        self._plugin.given = None  # MkDocs may hand the same plugin to a build in this process
        files = get_files(config)
        for file in self._theme:
            files.append(file)
        self._files = config.plugins.on_files(files, config=config)
        set_exclusions(self._files, config)
        self._nav = config.plugins.on_nav(
            get_navigation(self._files, config), config=config, files=self._files
        )
        self._env = config.plugins.on_env(self._env, config=config, files=self._files)
        self._by_address = {file.url: file for file in self._files}

    def file(self, address: str) -> bytes | None:
        """The file at an address relative to the site's root; None where there is none."""
        file = self._by_address.get(address)
        if file is None:
            return None
        return self._page(file.page).encode() if file.page is not None else file.content_bytes

    @property
    def styles(self) -> list[str]:
        """Addresses of the style sheets of ours that every page loads."""
        return list(self._config.extra_css)

    @property
    def scripts(self) -> list[str]:
        """Addresses of the scripts of ours that every page loads."""
        return [str(script) for script in self._config.extra_javascript]

    def bare_pages(self) -> Iterator[FilePage]:
        """Every page without the theme around it."""
        for file in self._files.documentation_pages():
            page = file.page
            assert page is not None  # the menu was made: every file has its page
            yield FilePage(file.url, str(page.title), self._content(page))
            page.content = None

    def _content(self, page: Page) -> str:
        config, plugins, files = self._config, self._config.plugins, self._files
        page = plugins.on_pre_page(page, config=config, files=files)
        page.read_source(config)
        text = plugins.on_page_markdown(page.markdown or "", page=page, config=config, files=files)
        page.markdown = text
        page.render(config, files)
        page.content = plugins.on_page_content(page.content or "", page=page, config=config, files=files)
        return str(page.content)

    def _page(self, page: Page) -> str:
        config, plugins, files = self._config, self._config.plugins, self._files
        self._content(page)
        page.active = True
        context = get_context(self._nav, files, config, page)
        context = plugins.on_page_context(context, page=page, config=config, nav=self._nav)
        html = self._env.get_template("main.html").render(context)
        page.active = False
        return plugins.on_post_page(html, page=page, config=config)


def _without_offline(config_file: Path) -> dict[str, Any]:
    """The config's plugins but the one that packs the search for pages opened from disk."""
    with config_file.open("rb") as file:
        plugins = yaml_load(file).get("plugins", [])
    return {"plugins": [entry for entry in plugins if entry != "offline"]}


def site_folder(config_file: Path) -> Path:
    """The folder the config's site goes to."""
    return Path(load_config(config_file=str(config_file)).site_dir)
