"""The PDF, read by programs that have nothing to do with the one that set it: pypdf, and poppler where it is there."""

import json
import os
import shutil
import struct
import subprocess
import sys
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.report.codes import decoded
from valvecalc.report import pdf, pdf_pages, qr

Table = dict[str, Any]
#: What would be an instruction to typst, PDF or a shell if anything that a person typed were read as markup.
HOSTILE = ' #panic("x") *b* _i_ $x$ <a> @b \\ ] [ ) ( /* // ` `` ``` = - + ~ " \' & </text> \x07 {{x}} %s \u202e'


def read(data: bytes) -> PdfReader:
    return PdfReader(BytesIO(data))


def pages(data: bytes) -> list[str]:
    """The words of each page; breaks of lines are no words."""
    return [" ".join(page.extract_text().split()) for page in read(data).pages]


def words(data: bytes) -> str:
    return " ".join(pages(data))


def flood(node: Any) -> Any:
    """The same report with markup in every text that a person may have typed."""
    if isinstance(node, dict):
        keep = {"kind", "origin", "verdict", "direction", "link", "band"}
        return {key: value if key in keep else flood(value) for key, value in node.items()}
    if isinstance(node, list):
        return [flood(value) for value in node]
    return node + HOSTILE if isinstance(node, str) else node


def test_the_first_page_tells_the_verdict_after_what_can_hurt(report: Table) -> None:
    first = pages(pdf.render(report))[0]
    order = [
        "Millrace Fluid Bench",
        "The press stays out of service",
        "Press return line valve stays in centre",
        "Oakenford Board Works",
        "Hold the ram on its props",
        "Erratic",
        "After a pause of 25 minutes coil b",
        "Bring plug b to 190 V",
        "Not tested",
        "Anything above 200 bar.",
    ]
    places = [first.index(told) for told in order]
    assert places == sorted(places)


def test_every_part_is_told(report: Table) -> None:
    text = words(pdf.render(report))
    for told in (
        "cannot tell",
        "5 µm ± 0.5 µm",
        "default: judgement",
        "12·µ·L",
        "(5.3 ± 1.6) mL/min",
        "goes through a glove",
        "not within the range searched",
        "33 %",
        "bore diameter: the cylinder is not named; read its plate",
        "0.2 % of full scale",
        "2027-03-31",
        "eq. 2.19",
        "edition 1",
        "data 5c1d09aa",
        "a41d2",
        "Tested by, date",
        "It releases no machine",
        "page 1 of",
    ):
        assert told in text, told


def test_it_is_tagged_and_says_what_it_is(report: Table) -> None:
    made = read(pdf.render(report))
    root = made.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"].value is True
    assert root["/StructTreeRoot"]["/K"]
    assert str(root["/Lang"]).startswith("en")
    assert made.metadata.title == "Job MF-0417: Press return line valve stays in centre after the night shift"
    assert made.metadata.author == "Millrace Fluid Bench"
    assert b"<pdfuaid:part>1</pdfuaid:part>" in root["/Metadata"].get_data()
    assert made.outline


def test_no_clock_and_no_font_of_this_computer(report: Table) -> None:
    made = read(pdf.render(report))
    assert made.metadata.creation_date is None or made.metadata.creation_date.year == 1970
    fonts = {
        str(font.get_object()["/BaseFont"]).partition("+")[2]
        for page in made.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert fonts
    assert all(name.startswith(("LibertinusSerif", "DejaVuSansMono")) for name in fonts), fonts


def test_the_data_travel_in_it(report: Table) -> None:
    assert [json.loads(one) for one in read(pdf.render(report)).attachments["report.json"]] == [report]


@pytest.mark.parametrize(("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792)), ("a shoebox", (595, 842))])
def test_paper(report: Table, paper: str, size: tuple[int, int]) -> None:
    report["shop"]["paper"] = paper
    boxes = {(round(float(page.mediabox.width)), round(float(page.mediabox.height))) for page in
             read(pdf.render(report)).pages}  # fmt: skip
    assert boxes == {size}


def test_whatever_was_typed_comes_out_as_text(report: Table) -> None:
    made = pdf.render(flood(report))
    text = words(made).replace(" ", "")
    assert text.count('#panic("x")*b*_i_$x$<a>@b\\][)(/*//``````=-+~') > 100
    plain = read(pdf.render(report))
    assert list(read(made).attachments) == ["report.json"]
    links = [note for page in read(made).pages for note in page.get("/Annots", [])]
    assert len(links) == sum(len(page.get("/Annots", [])) for page in plain.pages)


def test_a_part_that_the_paper_does_not_know_is_told_by_its_shape(report: Table) -> None:
    report["torque_sheet"] = [
        {"screw": "M5 mounting", "torque": {"value": 6.9, "unit": "N·m"}, "done": True},
        {"screw": "coil nut", "torque": {"value": 4.0, "unit": "N·m"}, "done": False},
    ]
    report["estimate"] = {"cautions": ["Depressurise first."], "repair": "48 hours", "lines": ["one", "two"]}
    text = words(pdf.render(report))
    for told in ("Torque sheet", "M5 mounting", "6.9 N·m", "yes", "coil nut", "Estimate", "Depressurise first.",
                 "48 hours", "two"):  # fmt: skip
        assert told in text, told


def picture(side: int) -> bytes:
    """A grey PNG of `side` by `side` points."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    rows = zlib.compress(b"".join(b"\0" + bytes([90] * side) for _ in range(side)))
    head = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def test_photos_that_are_there_are_shown_and_others_are_named(report: Table, tmp_path: Path) -> None:
    (tmp_path / "spool.png").write_bytes(picture(40))
    (tmp_path / "broken.jpg").write_bytes(b"no picture")
    report["photos"] = [
        {"file": "spool.png", "caption": "Spool after the patch"},
        {"file": "gone.jpg", "caption": "Plate"},
        {"file": "broken.jpg", "caption": "Torn card"},
        {"file": "../../etc/hostname", "caption": "Elsewhere"},
    ]
    made = pdf.render(report, tmp_path)
    text = words(made)
    for told in (
        "Spool after the patch",
        "cannot be shown",
        "gone.jpg: Plate",
        "broken.jpg: Torn card",
        "etc/hostname",
    ):
        assert told in text, told
    assert [image.image.size for page in read(made).pages for image in page.images] == [(40, 40)]


def test_names_in_any_script_make_a_pdf(report: Table) -> None:
    report["job"]["customer"] = "Ελλάς, Лодзь, 東京工業, שלום, 🙂"
    made = pdf.render(report)
    assert "Ελλάς, Лодзь" in words(made)
    assert read(made).trailer["/Root"]["/StructTreeRoot"]
    assert json.loads(read(made).attachments["report.json"][0])["job"]["customer"] == report["job"]["customer"]


def test_a_calculation_is_reopened_by_link_and_code(report: Table) -> None:
    assert not any("/Annots" in page for page in read(pdf.render(report)).pages), "no address, no link"
    report["shop"]["site"] = "https://shop.example/valves/"
    url = "https://shop.example/valves/calc/annular-leakage/#e=1&clearance=5um"
    made = read(pdf.render(report))
    assert [note.get_object()["/A"]["/URI"] for page in made.pages for note in page.get("/Annots", [])] == [url]
    code = qr.code(url, "code")
    assert code is not None
    assert decoded(code["svg"], code["modules"]) == [url]
    assert qr.code("https://shop.example/#" + "x" * 2000, "code") is None


def test_the_same_report_gives_the_same_bytes_in_another_process(report: Table, tmp_path: Path) -> None:
    file = tmp_path / "report.json"
    file.write_text(json.dumps(report), "utf-8")
    command = (
        "import json, sys; from valvecalc.report import pdf; "
        "sys.stdout.buffer.write(pdf.render(json.load(open(sys.argv[1], encoding='utf-8'))))"
    )
    made = [
        subprocess.run(
            [sys.executable, "-c", command, str(file)],
            capture_output=True,
            check=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "SOURCE_DATE_EPOCH": seed},
        ).stdout
        for seed, zone in (("1", "UTC"), ("77", "Asia/Tokyo"))
    ]
    assert made[0] == made[1] == pdf.render(report)


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler is not installed")
def test_poppler_reads_it_too(report: Table, tmp_path: Path) -> None:
    file = tmp_path / "report.pdf"
    file.write_bytes(pdf.render(report))

    def told(*command: str) -> str:
        return subprocess.run(command, capture_output=True, check=True, cwd=tmp_path).stdout.decode()

    text = " ".join(told("pdftotext", "report.pdf", "-").split())
    assert "After a pause of 25 minutes coil b is 1.5 N too weak to start the spool" in text
    assert "Tagged: yes" in " ".join(told("pdfinfo", "report.pdf").split())
    structure = told("pdfinfo", "-struct", "report.pdf")
    for tag in ("Document", "H1", "Table", "TH", "Figure", "LI"):
        assert tag in structure, tag
    told("pdfdetach", "-saveall", "report.pdf")
    assert json.loads((tmp_path / "report.json").read_text("utf-8")) == report


def test_every_verdict_is_told_without_colour(report: Table) -> None:
    """Grey and black carry it: each shape stands beside its word."""
    document = pdf_pages.document(report, {})
    cells = [cell for block in walk(document) if block.get("kind") == "table" for row in block["rows"] for cell in row]
    shapes = {cell["verdict"]: cell["shape"] for cell in cells if isinstance(cell, dict)}
    assert {"accept", "reject", "cannot tell"} <= set(shapes)
    assert len({shapes[word] for word in ("accept", "reject", "cannot tell")}) == 3


def walk(node: Any) -> list[Table]:
    if isinstance(node, dict):
        return [node, *(one for value in node.values() for one in walk(value))]
    return [one for value in node for one in walk(value)] if isinstance(node, list) else []


def test_without_typst_the_rest_is_written_and_it_is_said(
    run: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = tmp_path / "small.toml"
    job.write_text('id = "S-1"\n[[coil]]\nname = "a"\nresistance = "63 ohm"\ncoil_temperature = "23 °C"\n', "utf-8")
    monkeypatch.setattr(pdf, "available", lambda: False)
    told = run("report", str(job))
    assert told.code == 0
    assert sorted(path.name for path in (tmp_path / "small-report").iterdir()) == ["S-1.html", "S-1.json", "S-1.txt"]
    assert [line for line in told.err.splitlines() if "PDF" in line] == [f"… {pdf.LACKING}"]


def test_the_whole_record_is_told_and_what_was_typed_stays_text(tmp_path: Path) -> None:
    """Every key of the record once, with a correction: all of it stands on paper; flooded, nothing is obeyed."""
    from tests.job.record_base import RECORD
    from valvecalc.job.publish import work_job

    job = f'id = "R"\ncustomer = {{ value = "now", earlier = ["before"], why = "misread", by = "R. T." }}\n{RECORD}'
    (tmp_path / "job.toml").write_text(job, "utf-8")
    told = work_job(tmp_path / "job.toml")
    text = words(pdf.render(told))
    said = [cell["text"] for section in told["record"] for row in section["rows"] for cell in row]
    assert len(said) > 80
    assert [one for one in said if " ".join(one.split()) not in text] == []
    flooded = flood(
        {key: told[key] for key in ("record", "gate", "as_left", "measure", "corrections", "photos", "job")}
    )
    for section, was in zip(flooded["record"], told["record"], strict=True):
        section |= {"part": was["part"], "table": was["table"]}
    text = words(pdf.render({**told, **flooded})).replace(" ", "")
    assert text.count('#panic("x")*b*_i_$x$<a>@b') > 100
