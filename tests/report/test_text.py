"""The report and an answer on a terminal: cautions first, within the width, nothing promised."""

from typing import Any

import pytest

from valvecalc.report import text


@pytest.mark.parametrize("width", [60, 80, 100])
def test_lines_keep_to_the_width(report: dict[str, Any], answer: dict[str, Any], width: int) -> None:
    for told in (text.render(report, width), text.answer_text(answer, width)):
        assert max(len(line) for line in told.splitlines()) <= width


def test_verdict_stands_in_the_first_lines(report: dict[str, Any]) -> None:
    head = text.render(report).splitlines()[:8]
    assert head[0] == "! KEEP OUT OF SERVICE"
    assert "[!] ERRATIC" in head
    report["warnings"] = []
    assert text.render(report).startswith("[!] ERRATIC\n")


def test_cautions_come_whole_and_before_the_actions(report: dict[str, Any]) -> None:
    told = " ".join(line.lstrip("! ") for line in text.render(report).splitlines())
    for caution in [*report["warnings"], *report["cautions"], *report["answers"][0]["cautions"]]:
        assert caution in told
    assert told.index(report["cautions"][-1]) < told.index("Bring plug b to 190 V")


def test_order_of_the_report(report: dict[str, Any]) -> None:
    told = text.render(report)
    order = ["Not tested", "What eats the coil force", "One cause alone", "Repairs", "Not computed", "releases no"]
    places = [told.index(words) for words in order]
    assert places == sorted(places)


def test_bars_follow_the_figures(report: dict[str, Any]) -> None:
    report["charts"][1]["rows"] = [
        {"label": "spring", "value": 20.0, "basis": "measured"},
        {"label": "friction", "value": 5.0, "basis": "default"},
        {"label": "silt", "value": None, "basis": "default"},
    ]
    lines = text.render(report).splitlines()
    long, short = (next(line for line in lines if line.strip().startswith(name)) for name in ("spring", "friction"))
    assert long.count("#") == pytest.approx(4 * short.count("#"), abs=2)
    assert "  silt: not known" in lines


def test_a_threshold_that_does_not_exist_is_told(report: dict[str, Any]) -> None:
    assert "flow of the pump: now 42 L/min. No flow up to 300 L/min changes the start." in text.render(report)


def test_an_answer_with_its_worked_lines(answer: dict[str, Any]) -> None:
    lines = text.answer_text(answer).splitlines()
    assert lines[0] == "! BEFORE YOU RELY ON IT"
    assert "  [+] accept: leakage = (5.3 ± 1.6) mL/min (k = 2)" in lines
    place = lines.index("    Q_L = π·d·c³·Δp·(1 + 1.5·ε²)/(12·µ·L)")
    assert lines[place + 2] == "        = 5.261 mL/min"
    assert "        b = π·d" in lines  # the symbol stands once, whether or not the line brings it along
    told = " ".join(line.strip() for line in lines)
    assert "viscosity: 32 mPa·s, default: handbook" in told
    assert "radial clearance: 5 µm ± 0.5 µm, measured" in told
    assert "clearance is outside the range that is trusted (at most 4 µm)." in told
    assert "Missing: oil temperature: the viscosity rests on it; read it at the tank return" in told
    assert "Rabie, Fluid Power Engineering, 2009, eq. 2.19" in told
    assert lines[-1] == "/calc/annular-leakage/#e=1&clearance=5um"


def test_an_answer_without_a_value_says_why() -> None:
    told = text.answer_text(
        {"id": "drift", "title": "Drift", "result": None, "missing": [{"entry": "load_mass", "why": "drift needs it"}]}
    )
    assert "no value" in told
    assert "Missing: load mass: drift needs it" in told


def test_absent_parts(report: dict[str, Any]) -> None:
    for part in [key for key in report if key not in ("schema", "kind", "ok")]:
        shorter = {key: value for key, value in report.items() if key != part}
        assert "None" not in text.render(shorter)
    assert "Take nothing as tested that has no result above." in " ".join(text.render({}).split())


def test_our_own_words_promise_nothing(report: dict[str, Any]) -> None:
    told = text.render(report).lower()
    for word in ("safe", "harmless", "guarantee", "cannot fail", "no risk", "will hold"):
        assert word not in told
