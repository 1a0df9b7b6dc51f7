"""The report page: whole, escaped, self-contained, cautions first, nothing promised."""

from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from re import DOTALL, findall, search, sub
from typing import Any

import pytest

from valvecalc.report import html
from valvecalc.report.style import STYLE

VOID = {"meta", "link", "br", "hr", "img", "input"}
INJECTION = "<script>alert(1)</script>\"'&"


class _Reader(HTMLParser):
    """Checks that every element is closed in order, and keeps ids, links and text."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.tags: set[str] = set()
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        if tag not in VOID:
            self.open.append(tag)
        self._keep(attrs)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self._keep(attrs)

    def _keep(self, attrs: list[tuple[str, str | None]]) -> None:
        self.ids += [value or "" for name, value in attrs if name == "id"]
        self.links += [value or "" for name, value in attrs if name in ("href", "src", "srcset", "action", "data")]

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open[-1] == tag, f"</{tag}> closes {self.open[-3:]}"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        if self.open[-1:] != ["style"]:
            self.words.append(data)


def read(page: str) -> _Reader:
    reader = _Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def flood(node: Any) -> Any:
    """The same report with markup in every text that a person may have typed."""
    if isinstance(node, dict):
        keep = {"kind", "origin", "verdict"}
        return {key: value if key in keep else flood(value) for key, value in node.items()}
    if isinstance(node, list):
        return [flood(value) for value in node]
    return node + INJECTION if isinstance(node, str) else node


def test_page_is_well_formed_and_stands_alone(report: dict[str, Any]) -> None:
    page = html.render(report)
    reader = read(page)
    assert page.startswith("<!DOCTYPE html>")
    assert '<html lang="en">' in page
    assert len(reader.ids) == len(set(reader.ids))
    assert reader.links == []
    assert not reader.tags & {"script", "link", "img", "iframe", "object", "form"}
    assert "@import" not in page
    assert all(target.startswith("#") for target in findall(r"url\(([^)]*)\)", page))
    assert "<title>Job MF-0417: Press return line valve" in page


def test_whatever_was_typed_is_escaped(report: dict[str, Any]) -> None:
    reader = read(html.render(flood(report)))
    assert "script" not in reader.tags
    assert "<script>alert(1)</script>" in " ".join(reader.words)


def test_the_style_cannot_be_left_by_a_job_name(report: dict[str, Any]) -> None:
    report["job"]["id"] = '</style><b>"}*{display:none}'
    style = search(r"<style>(.*?)</style>", html.render(report), DOTALL)
    assert style and "display:none}" in style[1]
    assert "<b>" not in style[1]
    assert '"}*{' not in style[1]


def test_order_warning_caution_verdict_action_figures(report: dict[str, Any]) -> None:
    text = " ".join(read(html.render(report)).words)
    order = [
        "The press stays out of service",
        "Hold the ram on its props",
        "Erratic",
        "Bring plug b to 190 V",
        "Not tested",
        "What the figures show",
        "Verdicts",
        "Is the leakage past",
        "One cause alone",
        "Repairs, tried on paper",
        "Not computed, and what it needs",
        "Readings",
        "valvecalc 0.1.0",
    ]
    places = [text.index(words) for words in order]
    assert places == sorted(places)


def test_an_answer_shows_its_caution_before_its_result(report: dict[str, Any]) -> None:
    text = " ".join(read(html.render(report)).words)
    assert text.index("goes through a glove") < text.index("(5.3 ± 1.6) mL/min")


def test_every_part_of_the_report_is_told(report: dict[str, Any]) -> None:
    text = sub(r"\s+", " ", " ".join(read(html.render(report)).words))
    for told in (
        "Millrace Fluid Bench",
        "baling press 2, return line",
        "After a pause the ram does not come back.",
        "cannot tell",
        "5 µm ± 0.5 µm",
        "default: judgement",
        "12·µ·L",
        "5.261 mL/min",
        "not within the range searched",
        "33 % in hand",
        "Way back: 14 N",
        "bore diameter: the cylinder is not named; read its plate",
        "Shift at the flow of the press",
        "0.2 % of full scale",
        "2027-03-31",
        "eq. 2.19",
        "data 5c1d09aa",
        "a41d2",
    ):
        assert told in text, told


def test_every_input_bears_its_origin(report: dict[str, Any]) -> None:
    inputs = report["answers"][0]["inputs"]
    marks = findall(r'<span class="origin ([\w-]+)">', html.render(report))
    assert len(marks) == len(inputs) + len(report["readings"])


@pytest.mark.parametrize(
    "part",
    ["shop", "headline", "warnings", "cautions", "answers", "charts", "thresholds", "repairs", "verdicts",
     "not_computed", "not_tested", "readings", "instruments", "sources", "digest", "job", "made"],
)  # fmt: skip
def test_a_part_that_is_absent_is_left_out(report: dict[str, Any], part: str) -> None:
    del report[part]
    assert "None" not in " ".join(read(html.render(report)).words)


def test_an_almost_empty_report_still_says_that_nothing_is_released() -> None:
    text = " ".join(read(html.render({"schema": 1, "kind": "report", "ok": True})).words)
    assert "It releases no machine" in text
    assert "Take nothing as tested that has no result above." in text


def test_our_own_words_promise_nothing(report: dict[str, Any]) -> None:
    words = " ".join(read(html.render(report)).words).lower()
    for word in ("safe", "harmless", "guarantee", "cannot fail", "no risk", "will hold"):
        assert word not in words


def test_no_value_is_said_and_never_zero(report: dict[str, Any]) -> None:
    answer = report["answers"][0]
    answer["result"], answer["results"] = None, [{"name": "drift", "value": None, "unit": "mm"}]
    text = " ".join(read(html.render(report)).words)
    assert "no value" in text


def _palettes() -> list[dict[str, str]]:
    blocks = findall(r":root\{(.*?)\}", STYLE, DOTALL)
    return [dict(findall(r"--([\w-]+):(#[0-9a-f]{6})", block)) for block in blocks]


def _contrast(one: str, other: str) -> float:
    # WCAG 2.1, definitions of relative luminance and contrast ratio: channels c/12.92 up to 0.03928, else
    # ((c + 0.055)/1.055)^2.4; L = 0.2126 R + 0.7152 G + 0.0722 B; (L1 + 0.05)/(L2 + 0.05).
    def luminance(colour: str) -> float:
        parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
        red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_rule_gives_21_for_black_on_white() -> None:
    assert _contrast("#000000", "#ffffff") == pytest.approx(21)  # the range that WCAG 2.1 states is 1 to 21


def test_text_has_the_contrast_of_wcag_aa_on_every_ground() -> None:
    # WCAG 2.1, success criterion 1.4.3: 4.5 to 1.
    palettes = _palettes()
    assert len(palettes) == 3  # light, dark, paper
    pairs = [("ink", ground) for ground in ("paper", "panel", "warn", "care", *(f"tone-{n}" for n in range(1, 9)))]
    pairs += [("quiet", "paper"), ("quiet", "panel"), ("alarm", "paper"), ("alarm", "warn")]
    for palette in palettes:
        for text, ground in pairs:
            assert _contrast(palette[text], palette[ground]) >= 4.5, (text, ground)


def test_worked_lines_open_on_paper() -> None:
    printed = STYLE[STYLE.rindex("@media print") :]
    assert "details::details-content{content-visibility:visible" in printed


def test_a_page_carries_its_photographs_and_verify_knows_them(tmp_path: Path, run: Callable[..., Any]) -> None:
    from PIL import Image

    from valvecalc.job.publish import publish, work_job
    from valvecalc.report import pictures

    for name, grey in (("a.jpg", 40), ("b.PNG", 90)):
        Image.new("L", (64, 48), grey).save(tmp_path / name)
    named = "".join(f"[[photo]]\nfile = '{one}'\ncaption = '<{one}>'\n" for one in ("a.jpg", "b.PNG", "gone.jpg"))
    (tmp_path / "job.toml").write_text(f'id = "P-1"\n{named}', "utf-8")
    told = work_job(tmp_path / "job.toml")
    publish(told, tmp_path, tmp_path)
    page = (tmp_path / "P-1.html").read_text("utf-8")
    shown = findall(r'<img src="data:image/(\w+);base64,([^"]+)" alt="([^"]*)">', page)
    assert [(kind, alt) for kind, _, alt in shown] == [("jpeg", "&lt;a.jpg&gt;"), ("png", "&lt;b.PNG&gt;")]
    assert "gone.jpg" in page.partition("<template")[0]
    assert run("verify", str(tmp_path / "P-1.html")).code == 0
    for was, now in ((shown[0][1], shown[1][1]), (f'<img src="data:image/jpeg;base64,{shown[0][1]}"', "<img")):
        (tmp_path / "other.html").write_text(page.replace(was, now, 1), "utf-8")
        done = run("verify", str(tmp_path / "other.html"))
        assert done.code == 3
        assert "not in the page as they were: a.jpg" in " ".join(done.out.split())
    told["photos"][1]["size"] = pictures.MOST
    assert list(pictures.carried(told)) == ["a.jpg"]
