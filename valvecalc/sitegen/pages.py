"""The generated pages: address inside the site -> Markdown."""


def pages() -> dict[str, str]:
    """Every generated page as {path under the pages folder: Markdown text}."""
    coming = "\n\nThis page is filled from the calculations of the package.\n"
    return {
        "calc/index.md": "# Look up and cite" + coming,
        "judge/index.md": "# I have a reading" + coming,
        "checked.md": "# What was checked" + coming,
        "job/demo.md": "# Report of the example job" + coming,
    }
