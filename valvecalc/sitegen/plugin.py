"""The mkdocs plugin (entry point `valvecalc`): adds the generated pages and what the theme needs to know.

It computes nothing. Pages come as text from `pages.pages()`; here they become files of the site.
"""

import re
from pathlib import Path

from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from valvecalc.sitegen.pages import pages

#: A link of a generated page (marks.link): the page's file, counted from the pages folder.
_PAGE_LINK = re.compile(r'href="page:([\w/.-]+)"')


def theme_script(theme_dirs: list[str]) -> str:
    """Address inside the site of the theme's script; its name carries a hash, so it is found, not written down."""
    for folder in theme_dirs:
        for found in sorted(Path(folder).glob("assets/javascripts/bundle.*.min.js")):
            return found.relative_to(folder).as_posix()
    raise PluginError("the theme's script assets/javascripts/bundle.*.min.js was not found: check the theme's version")


class NoOptions(Config):
    """mkdocs wants a class of options even where there are none."""


class ValvecalcPlugin(BasePlugin[NoOptions]):
    """Generated pages beside the hand-written ones of site/pages."""

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Tell the template where the theme's script is; it is loaded at the first touch (site/overrides/main.html)."""
        config.extra["theme_script"] = theme_script(config.theme.dirs)
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add every generated page; a page that is also written by hand stops the build."""
        for path, text in pages(Path(config.config_file_path).parent).items():
            if files.get_file_from_path(path) is not None:
                raise PluginError(f"{path} is generated and also stands in {config.docs_dir}: remove one of the two")
            files.append(File.generated(config, path, content=text))
        return files

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Turn links to page files into addresses; let the keyboard reach tables, which scroll sideways on a phone."""

        def addressed(found: re.Match[str]) -> str:
            target = files.get_file_from_path(found[1])
            if target is None:
                raise PluginError(f"{page.file.src_uri} links to {found[1]}, which is no page")
            return f'href="{target.url_relative_to(page.file)}"'

        return _PAGE_LINK.sub(addressed, html).replace("<table>", '<table tabindex="0">')
