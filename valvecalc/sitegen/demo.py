"""The report of the example job."""

from valvecalc.sitegen import marks


def demo_pages() -> dict[str, str]:
    """The page that leads to the report, and the report itself."""
    told = "The example job's report is not built yet."
    return {"job/demo.md": f'{marks.head("Report of the example job")}\n<p class="coming">{told}</p>\n'}
