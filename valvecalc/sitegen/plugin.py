"""The mkdocs plugin (entry point `valvecalc`): adds the generated pages, the style sheet, the font.

It computes nothing. Pages come as text from `pages.pages()`; here they become files of the site. The frame of a page
(site/overrides) is our own: of the theme no file is published.
"""

import re
from pathlib import Path

from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.utils.templates import TemplateContext

from valvecalc.errors import DataError
from valvecalc.sitegen import assets
from valvecalc.sitegen.pages import pages
from valvecalc.sitegen.prose import worked
from valvecalc.sitegen.worker import write_worker
from valvecalc.version import VERSION, data_version

#: A link of a page that is written as HTML (marks.link): the page's file, counted from the pages folder.
_PAGE_LINK = re.compile(r'(href|action)="page:([\w/.-]+)(#[^"]+)?"')
#: How Markdown and MathML align a cell: the content policy of the pages allows no style in the markup.
_ALIGNED = re.compile(r' style="text-align: (left|center|right);?"')
#: Where a link can lead to; mkdocs does not see those of the HTML that is laid aside (raw_html.py).
_ID = re.compile(r'\sid="([^"]+)"')

#: What scrolls sideways on a phone and the keyboard must reach.
_BLIND = re.compile(r"<(pre\b|table(?=>))(?![^>]*tabindex)")


class NoOptions(Config):
    """mkdocs wants a class of options even where there are none."""


class ValvecalcPlugin(BasePlugin[NoOptions]):
    """Generated pages beside the hand-written ones of site/pages."""

    _shown_while_written = False

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """While pages are being written (`mkdocs serve`) none is stored: it would come back after it was changed."""
        self._shown_while_written = command == "serve"

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Say which version the pages are of. A site map needs an address of the site, and there is none."""
        config.extra |= {"version": VERSION, "data_version": data_version()}
        config.theme.static_templates.discard("sitemap.xml")
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        """Add every generated file and leave the theme's out; one that is also written by hand stops the build."""
        for file in list(files):
            if file.src_dir in config.theme.dirs:
                files.remove(file)
        root = Path(config.config_file_path).parent
        styles = root / "site" / "styles"
        files.append(File.generated(config, "assets/site.css", content=assets.style(styles)))
        for name in assets.OWN_STYLES:
            files.append(File.generated(config, f"assets/{name}.css", content=assets.own_style(styles, name)))
        for name in assets.JOINED:
            text = assets.joined(root / "site" / "scripts", name)
            files.append(File.generated(config, f"assets/{name}.js", content=text))
        for path, text in pages(root, str(config.extra["site_address"] or "")).items():
            if files.get_file_from_path(path) is not None:
                raise PluginError(f"{path} is generated and also stands in {config.docs_dir}: remove one of the two")
            files.append(File.generated(config, path, content=text))
        return files

    def on_page_markdown(self, markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Work the calculations that stand in a hand-written page."""
        try:
            return worked(markdown, page.file.src_uri)
        except DataError as error:
            raise PluginError(str(error)) from error

    def on_page_content(self, html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Turn links to page files into addresses; let the keyboard reach tables, which scroll sideways on a phone.

        The frame reads `page.meta.up`: the way back.
        """
        page.meta["up"] = index_above(page.file, files)
        page.present_anchor_ids = {*(page.present_anchor_ids or ()), *_ID.findall(html)}

        def addressed(found: re.Match[str]) -> str:
            target = files.get_file_from_path(found[2])
            if target is None:
                raise PluginError(f"{page.file.src_uri} links to {found[2]}, which is no page")
            return f'{found[1]}="{target.url_relative_to(page.file)}{found[3] or ""}"'

        html = _ALIGNED.sub(r' class="to-\1"', _PAGE_LINK.sub(addressed, html))
        return _BLIND.sub(r'<\1 tabindex="0"', html)

    def on_template_context(
        self, context: TemplateContext, *, template_name: str, config: MkDocsConfig
    ) -> TemplateContext:
        """Count the links of 404.html from the site's root where nobody said at which address that lies."""
        if not config.site_url:
            context["base_url"] = "."
        return context

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        """Cut the maths font to the formulas of all pages, shrink the scripts, write the service worker."""
        site = Path(config.site_dir)
        formulas = assets.letters("".join(page.read_text("utf-8") for page in sorted(site.rglob("*.html"))))
        font = Path(config.config_file_path).parent / "site" / "fonts" / "maths.woff2"
        (site / "assets" / "maths.woff2").write_bytes(assets.cut_font(font, formulas))
        assets.shrink_scripts(site / "assets")
        if not self._shown_while_written:
            template = Path(config.config_file_path).parent / "site" / "worker.js"
            write_worker(site, template, f"{VERSION}, data {data_version()}")


def index_above(file: File, files: Files) -> Page | None:
    """The index page that a page stands under; None right under home."""
    folder = Path(file.src_uri).parent
    for above in (folder, *folder.parents):
        found = files.get_file_from_path((above / "index.md").as_posix())
        if above != Path(".") and found is not None and found is not file:
            return found.page
    return None
