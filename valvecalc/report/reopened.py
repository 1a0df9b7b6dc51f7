"""A report read back: from its JSON file, or from the PDF or the page in which the same JSON travels."""

import json
from pathlib import Path
from typing import Any

from valvecalc.errors import InputError, Trouble
from valvecalc.report.html import DATA_BEGINS, DATA_ENDS

NAME = "report.json"


def read_report(path: Path) -> tuple[dict[str, Any], bytes | None]:
    """The report, and the bytes of the PDF or the page it came from. Raises InputError where there is none."""
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise InputError(Trouble(str(path), "no file", "a report", "Check the name and the folder.")) from None
    is_pdf, is_page = data.startswith(b"%PDF"), data[:15].lower() == b"<!doctype html>"
    text = _attached(data, path) if is_pdf else _within(data, path) if is_page else data
    try:
        told = json.loads(text.decode("utf-8-sig"))
    except (ValueError, RecursionError) as fault:
        need, do = "the JSON of a report, its PDF or its page", "Take the file that valvecalc report has written."
        raise InputError(Trouble(path.name, f"no JSON ({fault})", need, do)) from None
    if not isinstance(told, dict) or told.get("kind") != "report":
        got = f"kind {told.get('kind')!r}" if isinstance(told, dict) else "another thing"
        do = "Take the .json, .pdf or .html that valvecalc report has written."
        raise InputError(Trouble(path.name, got, "a report", do))
    return told, data if is_pdf or is_page else None


def _within(page: bytes, path: Path) -> bytes:
    """The data in a page."""
    found = page.split(DATA_BEGINS.encode())[1:]
    if len(found) != 1 or DATA_ENDS.encode() not in found[0]:
        got = "several reports" if len(found) > 1 else "a page without the data of a report"
        do = "Take the page that valvecalc report has written; one that was saved anew may have lost them."
        raise InputError(Trouble(path.name, got, "a page that carries one report", do))
    return found[0].partition(DATA_ENDS.encode())[0]


def _attached(data: bytes, path: Path) -> bytes:
    try:
        from pypdf import PdfReader
        from pypdf.errors import PyPdfError
    except ImportError:
        do = "Install it: pip install 'valvecalc[report]'; or take the JSON file that lies beside the PDF."
        raise InputError(Trouble(path.name, "a PDF", "the extra 'report', which reads PDFs", do)) from None
    import logging
    from io import BytesIO

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # what is wrong with the file is told once, by us
    try:
        found = PdfReader(BytesIO(data)).attachments.get(NAME, [])
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError, RecursionError) as fault:
        do = "Take the file as valvecalc report has written it."
        raise InputError(Trouble(path.name, f"a broken PDF ({fault})", "a PDF that can be read", do)) from None
    if len(found) != 1:
        got = "several reports" if found else "a PDF without the data of a report"
        do = "Take the PDF that valvecalc report has written; one that was printed anew has lost them."
        raise InputError(Trouble(path.name, got, f"a PDF that carries one {NAME}", do))
    return bytes(found[0])


def set_by(pdf: bytes) -> str:
    """The program that set a PDF, as the PDF says."""
    from io import BytesIO

    from pypdf import PdfReader

    told = PdfReader(BytesIO(pdf)).metadata
    return str(told.creator) if told and told.creator else "a program that it does not name"


def pictures_of(page: bytes) -> dict[str, bytes]:
    """The photographs that a page carries, by their SHA-256."""
    from base64 import b64decode
    from hashlib import sha256
    from re import findall

    shown = page.partition(DATA_BEGINS.encode())[0]
    found = [b64decode(text) for text in findall(rb'<img src="data:image/[a-z]+;base64,([A-Za-z0-9+/=]*)"', shown)]
    return {sha256(one).hexdigest(): one for one in found}


def photographs(pdf: bytes) -> dict[str, bytes]:
    """The JPEG files that a PDF carries as they were taken, by their SHA-256; other pictures are stored otherwise."""
    from hashlib import sha256
    from io import BytesIO

    from pypdf import PdfReader
    from pypdf.generic import DictionaryObject, StreamObject

    found = {}
    for page in PdfReader(BytesIO(pdf)).pages:
        resources = page.get("/Resources", DictionaryObject()).get_object()
        for one in resources.get("/XObject", DictionaryObject()).get_object().values():
            drawn = one.get_object()
            if isinstance(drawn, StreamObject) and drawn.get("/Filter") == "/DCTDecode":
                data = drawn.get_data()
                found[sha256(data).hexdigest()] = data
    return found
