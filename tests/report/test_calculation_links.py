"""Each calculation of a report is opened again: the same link on paper and on the page, its QR code, or a command."""

import json
import shlex
from html import unescape
from math import isclose
from pathlib import Path
from re import DOTALL, findall
from typing import Any

import pytest
from pypdf import PdfReader

from tests.report.codes import decoded
from tests.report.demo_reports import NAMES, SITE, shelves, single, worked
from valvecalc.quantities import VOCABULARY
from valvecalc.report import html, links, pdf
from valvecalc.units import to_si


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shelves(tmp_path_factory.mktemp("demo"))


def addresses(page: str) -> list[str]:
    return [unescape(one) for one in findall(r'<p class="reopen"><a href="([^"]*)"', page)]


@pytest.mark.parametrize("name", NAMES)
def test_page_and_paper_have_the_same_link_for_each_calculation(name: str, jobs: Path, tmp_path: Path) -> None:
    told = worked(jobs, name)
    page = html.render(told)
    wanted = [SITE + row["link"] for row in told["answers"]]
    assert len(wanted) >= 6
    assert addresses(page) == wanted
    (tmp_path / "report.pdf").write_bytes(pdf.render(told, jobs))
    notes = [
        note.get_object() for sheet in PdfReader(tmp_path / "report.pdf").pages for note in sheet.get("/Annots", ())
    ]
    assert [note["/A"]["/URI"] for note in notes] == wanted


@pytest.mark.parametrize("name", NAMES)
def test_each_code_of_the_page_holds_its_link(name: str, jobs: Path) -> None:
    page = html.render(worked(jobs, name))
    drawn = findall(r'<details class="code">.*?viewBox="0 0 (\d+) \d+"(.*?)</svg></details>', page, DOTALL)
    assert [decoded(svg, int(side)) for side, svg in drawn] == [[one] for one in addresses(page)]


def test_an_address_that_is_none_gives_no_link(report: dict[str, Any]) -> None:
    for site in ("javascript:alert(1)//", "data:text/html,x", "file:///x", ""):
        report["shop"]["site"] = site
        page = html.render(report)
        assert "<a " not in page, site
        assert "valvecalc calc annular-leakage clearance=5um</p>" in page, site
    report["shop"]["site"] = 'https://shop.example/"><script>'
    assert '<a href="https://shop.example/&quot;&gt;&lt;script&gt;/calc/' in html.render(report)


def test_a_command_holds_nothing_that_a_shell_would_obey() -> None:
    row = {"id": "x", "link": "/calc/x/#e=1&a=%24%28touch%20x%29&b=1%60x%60&c=1%22%3Bx&d=it%27s&f=2%20mm"}
    told = links.command(row)
    assert shlex.split(told) == ["valvecalc", "calc", "x", "a=$(touch x)", "b=1`x`", 'c=1";x', "d=it's", "f=2 mm"]
    assert told.endswith('f="2 mm"')
    assert all("'" in word for word in told.split()[3:6])


@pytest.mark.parametrize("name", NAMES)
def test_the_command_gives_each_result_of_the_report_again(name: str, jobs: Path, run: Any) -> None:
    compared = 0
    for row in worked(jobs, name)["answers"]:
        done = run(*shlex.split(links.command(row))[1:], "--json")
        assert done.code == 0, links.command(row)
        again = single(json.loads(done.out))
        for key, was in single(row).items():
            now = again[key]
            if isinstance(was["value"], str) or was["value"] is None:
                assert now["value"] == was["value"], (row["id"], key)
            else:
                dimension = VOCABULARY[key].dimension
                before, after = (to_si(one["value"], one["unit"], dimension) for one in (was, now))
                assert isclose(before, after, rel_tol=1e-6, abs_tol=1e-9), (row["id"], key, before, after)
            compared += 1
    assert compared > 20
