"""The PDF of a report, set by typst, which belongs to the extra `report`: tagged, with the report's data inside.

The same report gives the same bytes: no clock is read, fonts are those that typst brings with it.
"""

from collections.abc import Mapping
from functools import cache
from importlib.util import find_spec
from json import dumps
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import Any

from valvecalc.report.digest import as_file
from valvecalc.report.pdf_pages import document
from valvecalc.report.pictures import photo_file, photo_name, photo_rows

LAYOUT = Path(__file__).with_name("report.typ")

#: (with typst's own fonts only, by PDF/UA-1), one after the other until all letters can be set: then the computer's
#: fonts too, last without the promise of PDF/UA, which forbids a letter that no font has.
_WAYS = ((True, True), (False, True), (False, False))

LACKING = "No PDF: it needs the extra 'report'. Install it: pip install 'valvecalc[report]'"


@cache
def available() -> bool:
    """Whether what sets the PDF is installed."""
    return find_spec("typst") is not None and find_spec("segno") is not None


def render(report: Mapping[str, Any], folder: Path | None = None, travels: str | None = None) -> bytes:
    """The PDF of a report of the JSON contract. Photos are looked for in `folder`.

    travels  the report as its file, where it is written already
    """
    import typst

    with TemporaryDirectory() as workshop:
        place = Path(workshop)
        photos = _photos(report, folder, place)
        travels = travels or as_file(report)
        try:
            return _set({"doc": dumps(document(report, photos)), "report": travels}, place)
        except typst.TypstError:
            if not photos:
                raise
        whole = {name: file for name, file in photos.items() if _can_be_set(file, place)}
        return _set({"doc": dumps(document(report, whole)), "report": travels}, place)


def of_document(told: Mapping[str, Any], travels: str) -> bytes:
    """The PDF of pages that are laid out already and show no photograph; `travels` is attached."""
    with TemporaryDirectory() as workshop:
        return _set({"doc": dumps(told), "report": travels}, Path(workshop))


def _can_be_set(photo: str, workshop: Path) -> bool:
    """Whether a photo is a picture at all; asked only where a PDF could not be set with it."""
    import typst

    one = {"kind": "photo", "file": photo, "caption": "photo", "alt": "photo"}
    try:
        _set({"doc": dumps({**document({}, {}), "blocks": [one]}), "report": "{}"}, workshop)
    except typst.TypstError:
        return False
    return True


def _photos(report: Mapping[str, Any], folder: Path | None, workshop: Path) -> dict[str, str]:
    """Photos that are there, each under a name of ours; typst sees no other file."""
    found: dict[str, str] = {}
    for row in photo_rows(report):
        name = photo_name(row)
        path = None if name in found else photo_file(folder, name)
        if path is not None:
            copy = f"photo-{len(found) + 1}{path.suffix.lower()}"
            copyfile(path, workshop / copy)
            found[name] = f"/{copy}"
    return found


def _set(data: dict[str, str], workshop: Path) -> bytes:
    import typst

    layout = workshop / LAYOUT.name
    copyfile(LAYOUT, layout)  # typst reads nothing outside the folder of its layout
    fault: Exception | None = None
    for own_fonts, accessible in _WAYS:
        try:
            return typst.compile(
                layout,
                root=workshop,
                format="pdf",
                ignore_system_fonts=own_fonts,
                sys_inputs=data,
                pdf_standards="ua-1" if accessible else None,
                timestamp=0,
            )
        except typst.TypstError as trouble:
            if "could not be displayed" not in trouble.message:
                raise
            fault = trouble
    raise fault or RuntimeError
