"""The demo of the sizing: an invented shop's shelves against three invented machines, by library and command."""

import json
import string
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.selection.conftest import press, valve_of
from valvecalc.cli import main
from valvecalc.demo import SIZE
from valvecalc.facts import fact_value, load_toml
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, read_duty
from valvecalc.selection.ranking import flips, judge, rank
from valvecalc.selection.request import request, smallest_interface
from valvecalc.selection.rules import RULES
from valvecalc.selection.stock import read_stock
from valvecalc.selection.tell import told
from valvecalc.selection.words import sentence
from valvecalc.units import to_si

STOCK = SIZE / "stock.csv"
DUTIES = ("baler", "press", "tipping-trailer")
LITRES = 1 / 60000


def judged(name: str) -> list[Any]:
    valves, problems = read_stock(STOCK)
    assert not problems
    return rank(valves, demand(read_duty(SIZE / f"{name}.toml")))


def verdicts(name: str) -> dict[str, str]:
    return {one.valve.name: one.verdict for one in judged(name)}


def reasons(name: str, valve: str) -> set[str]:
    return {rule.rule for one in judged(name) if one.valve.name == valve for rule in one.rejected}


def test_the_list_holds_sixteen_to_twenty_valves_without_a_fault() -> None:
    valves, problems = read_stock(STOCK)
    assert 16 <= len(valves) <= 20
    assert not problems


def test_what_fits_the_baler_and_why_the_others_do_not() -> None:
    """45 L/min on 100/70 mm: 7854 and 4006 mm², 88.2 L/min come back, 105.9 wanted of the limit at 180 bar."""
    found = verdicts("baler")
    assert [name for name, verdict in found.items() if verdict == "accept"] == ["bin 10", "bin 01"]
    assert [name for name, verdict in found.items() if verdict == "ask"] == ["bin 11"]
    for valve, rule in (
        ("bin 02", "function"), ("bin 02", "unloads"), ("bin 03", "function"), ("bin 03", "crossing"),
        ("bin 04", "volts"), ("bin 05", "kind"), ("bin 06", "pressure-t"), ("bin 07", "shift"), ("bin 08", "loss"),
        ("bin 09", "seals"), ("bin 12", "operator"), ("bin 13", "pressure-p"), ("bin 13", "winding"),
        ("bin 13", "hottest"), ("bin 13", "protection"), ("bin 14", "interface"),
    ):  # fmt: skip
        assert rule in reasons("baler", valve), (valve, rule)


def test_the_press_and_the_trailer() -> None:
    assert [name for name, verdict in verdicts("press").items() if verdict == "accept"] == ["bin 17"]
    assert {"pilot", "drain"} <= reasons("press", "bin 18")
    assert "shelf" in reasons("press", "bin 19")
    assert "load" in reasons("press", "bin 03")
    assert [name for name, verdict in verdicts("tipping-trailer").items() if verdict != "reject"] == ["bin 14"]
    assert "load" in reasons("tipping-trailer", "bin 15")
    assert {"thick", "coldest"} <= reasons("tipping-trailer", "bin 16")


def test_the_demo_exercises_every_rule() -> None:
    """Each rule is met once at least by a valve that it does not simply accept, and once by one that it does."""
    met: dict[str, set[str]] = {}
    for name in DUTIES:
        for one in judged(name):
            for rule in one.rules:
                met.setdefault(rule.rule, set()).add(rule.verdict)
                assert sentence(rule)
    assert len(met) == len(RULES)
    assert {rule for rule, kinds in met.items() if kinds == {"accept"}} <= {"area", "runaway"}
    asked = demand(changed(read_duty(SIZE / "baler.toml"), "safety.hazardous_area", "yes"))
    valves = read_stock(STOCK)[0]
    area = {next(r.verdict for r in judge(valve, asked).rules if r.rule == "area") for valve in valves}
    assert area == {"reject", "ask"}
    asked = demand(changed(read_duty(SIZE / "press.toml"), "cylinder 1.extend_load", "-20 kN"))
    asked_too = demand(changed(changed(asked.duty, "cylinder 1.held_back", None), "cylinder 1.hanging", "yes"))
    assert {next(r.verdict for r in judge(valve, asked_too).rules if r.rule == "runaway") for valve in valves} == {
        "ask"
    }


def test_ranked_by_smallest_margin_then_loss_then_price() -> None:
    """75 L/min against 72 leave 4 % in hand, whatever the loss; 109 leave more than the pump's 44 %."""
    weak = {"shift_limit": "75 L/min 160 bar", "price": "1"}
    valves = [
        valve_of(name="a weak and lossy", **weak, drop_at="30 L/min 2 bar; 60 L/min 7 bar; 100 L/min 19 bar"),
        valve_of(name="weak", **weak), valve_of(name="dear", price="90"), valve_of(name="cheap", price="70"),
        valve_of(name="no price", price=None), valve_of(name="asks", seals=None),
        valve_of(name="two misses", pressure_t="20 bar", quantity="0"), valve_of(name="one miss", pressure_t="20 bar"),
    ]  # fmt: skip
    ranked = rank(valves, demand(press()))
    assert [one.valve.name for one in ranked] == [
        "cheap", "dear", "no price", "weak", "a weak and lossy", "asks", "one miss", "two misses"
    ]  # fmt: skip
    margins = {one.valve.name: one.margin for one in ranked}
    assert margins["weak"] == margins["a weak and lossy"] == pytest.approx(75 / 72 - 1)
    assert margins["cheap"] == pytest.approx(0.446, abs=0.005)


def test_none_fits_names_the_nearest_and_its_miss() -> None:
    data = told(demand(press()), rank([valve_of(name="x", pressure_t="20 bar")], demand(press())))
    assert data["headline"] == "None fits. Nearest: x misses by pressure at T (needs 43.0 bar, has 20.0 bar)."
    assert told(demand(press()), [])["headline"] == "None fits. The list holds no valve."


def test_what_a_changed_entry_flips() -> None:
    """60 L/min make 120 come back at 2:1: 144 wanted, 109 there."""
    duty = press()
    (flip,) = flips([valve_of()], demand(duty), demand(changed(duty, "pump.flow", "60 L/min")))
    assert (flip.before, flip.after) == ("accept", "reject")
    before, after = flip.rules[0]
    assert (after.rule, before.verdict, after.verdict) == ("shift", "accept", "reject")
    assert flips([valve_of()], demand(duty), demand(changed(duty, "pump.flow", "31 L/min"))) == []


def test_without_stock_the_smallest_mounting_surface_and_the_figures() -> None:
    """26 L/min go out, 110 mm in 45 s over 1.3 m: 16.5 L/min come back. 31.2 with the reserve."""
    assert smallest_interface(26 * LITRES) == "ISO 4401-03"
    assert smallest_interface(61 * LITRES) == "ISO 4401-05"
    assert smallest_interface(5000 * LITRES) is None
    lines = {line.what: line for line in request(demand(read_duty(SIZE / "tipping-trailer.toml")))}
    assert lines["Has to shift"].figure.startswith("up to 31.2 L/min at 170 bar, with B plugged")
    assert lines["Rating of T, at least"].lacks == ("lines.tank_surge",)
    bare = request(demand(changed(press(), "pump.flow", None)))
    assert any("pump.flow" in line.lacks for line in bare)
    flows = [row["flow"] for row in fact_value("size-interfaces")]
    assert flows == sorted(flows)


def test_every_sentence_can_be_made_from_what_its_rule_tells() -> None:
    """No pattern asks for a name that no rule gives."""
    common = {"title", "need", "has", "margin", "lacks", "hazard", "place", "ratio"}
    given = common | {
        "movement", "drop_in", "drop_out", "inlet_flow", "return_flow", "return_ratio", "heat", "flow", "pressure",
        "supply", "coil", "loop", "class", "load", "square", "cube",
    }  # fmt: skip
    words = load_toml("words/size.toml")
    for rule in words["rules"].values():
        for pattern in rule.values():
            names = {name for _, name, _, _ in string.Formatter().parse(pattern) if name}
            assert names <= given, pattern


# ---- the command


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    def run(*arguments: str) -> tuple[int, str, str]:
        code = main(arguments)
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err and "valvecalc itself" not in out + err
        return code, out, err

    return run


@pytest.mark.parametrize(("name", "code"), [("baler", 0), ("press", 0), ("tipping-trailer", 1)])
def test_the_command_tells_cautions_first_then_the_answer(name: str, code: int, run: Any) -> None:
    duty = str(SIZE / f"{name}.toml")
    found = run("size", duty, "--stock", str(STOCK))
    assert (found[0], found[2]) == (code, "")
    assert found[1].startswith("! BEFORE ANY VALVE IS CHANGED\n! Hold the load on a mechanical stop")
    assert all(len(line) <= 80 for line in found[1].splitlines())
    as_json = run("size", duty, "--stock", str(STOCK), "--json")
    data = json.loads(as_json[1])
    assert as_json[0] == code
    assert len(data["candidates"]) == 20
    for row in data["candidates"]:
        assert set(row) >= {"id", "verdict", "rules"}
        for rule in row["rules"]:
            assert set(rule) >= {"rule", "need", "has", "margin", "verdict", "sentence"}
            assert rule["verdict"] in ("accept", "reject", "ask")
    assert data["headline"] in " ".join(found[1].split())


def test_a_long_list_is_told_by_its_leaders(run: Any, tmp_path: Path) -> None:
    head, *rows = [line for line in STOCK.read_text("utf-8").splitlines() if not line.startswith("#")]
    many = [row.replace("bin ", f"bay {bay} bin ", 1) for bay in range(5) for row in rows]
    path = tmp_path / "many.csv"
    path.write_text("\n".join([head, *many]), "utf-8")
    _, out, err = run("size", str(SIZE / "baler.toml"), "--stock", str(path))
    assert err == ""
    assert "10 of 100 fit; best:" in out
    assert "60 more do no better" in out
    told_all = json.loads(run("size", str(SIZE / "baler.toml"), "--stock", str(path), "--json")[1])
    assert len(told_all["candidates"]) == told_all["judged"] == 100


def test_a_float_centre_under_a_load_is_loud_in_the_text(run: Any) -> None:
    _, out, _ = run("size", str(SIZE / "tipping-trailer.toml"), "--stock", str(STOCK))
    part = out[out.index("[ no   ] bin 15") :]
    assert part.index("! Hold the load on a mechanical stop") < part.index("REFUSED: with this valve the load")


def test_numbers_of_the_json_are_full(run: Any) -> None:
    _, out, _ = run("size", str(SIZE / "baler.toml"), "--stock", str(STOCK), "--json")
    best = json.loads(out)["candidates"][0]
    shift = next(rule for rule in best["rules"] if rule["rule"] == "shift")
    assert shift["figures"]["need"] == pytest.approx(1.2 * 45 * 100**2 / (100**2 - 70**2), rel=1e-12)
    assert shift["figures"]["unit"] == "L/min"
    moves = {row["movement"]: row for row in best["movements"]}
    assert moves["cylinder 1 going in"]["return_flow"] == pytest.approx(45 * 10000 / 5100, rel=1e-12)


def test_faults_of_the_stock_stand_on_stderr_and_good_rows_are_judged(run: Any) -> None:
    faulty = Path(__file__).parent / "faulty.csv"
    code, out, err = run("size", str(SIZE / "baler.toml"), "--stock", str(faulty))
    assert code == 1
    assert len(err.splitlines()) == 16
    assert "faulty.csv row 8 (port twice): on_a: got 'P-A, A-T', need each port once." in err
    assert "[ no   ] good" in out or "[ ask  ] good" in out
    data = json.loads(run("size", str(SIZE / "baler.toml"), "--stock", str(faulty), "--json")[1])
    assert len(data["faults"]) == 16
    assert data["faults"][0]["column"] == "pressure_t"


def test_the_request_without_stock(run: Any) -> None:
    code, out, err = run("size", str(SIZE / "tipping-trailer.toml"))
    assert (code, err) == (0, "")
    assert out.startswith("! Whoever fits it: hold the load")
    assert "Mounting surface: ISO 4401-03" in out
    assert len(out.splitlines()) <= 60
    data = json.loads(run("size", str(SIZE / "tipping-trailer.toml"), "--json")[1])
    assert data["candidates"] == [] and data["request"]


def test_what_cannot_be_read_ends_with_two(run: Any, tmp_path: Path) -> None:
    broken = tmp_path / "duty.toml"
    broken.write_text("[pump]\nflow = '30'\nrelief_pressure = '1,500 psi'\n", "utf-8")
    code, out, err = run("size", str(broken))
    assert (code, out) == (2, "")
    assert len(err.splitlines()) == 2
    code, out, _ = run("size", str(broken), "--json")
    assert code == 2 and len(json.loads(out)["errors"]) == 2
    baler = str(SIZE / "baler.toml")
    assert run("size", str(tmp_path / "none.toml"))[0] == 2
    assert run("size", baler, "--stock", str(tmp_path / "none.csv"))[0] == 2
    assert run("size", baler, "--stock", str(STOCK), "--if", "pump.flow")[0] == 2
    assert run("size", baler, "--stock", str(STOCK), "--if", "pomp.flow=3 bar")[0] == 2


def test_what_flips_in_the_command(run: Any) -> None:
    code, out, _ = run("size", str(SIZE / "baler.toml"), "--stock", str(STOCK), "--if", "pump.flow=60 L/min")
    assert code == 1
    assert "bin 01: fits, now does not fit" in out


def test_the_bar_shows_on_a_terminal_after_a_second_only(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from valvecalc import progress

    now = [0.0]
    monkeypatch.setattr(progress, "monotonic", lambda: now[0])
    monkeypatch.setattr(progress.sys.stderr, "isatty", lambda: True)
    tick = progress.bar("judging", 0.0)
    tick(200, 1000)
    assert capsys.readouterr().err == ""
    now[0] = 1.5
    tick(600, 1000)
    tick(1000, 1000)
    assert capsys.readouterr().err.count("of 1000") == 2


def test_gallons_and_litres_are_one(run: Any, tmp_path: Path) -> None:
    metric = (SIZE / "baler.toml").read_text("utf-8")
    gallons = 45 * LITRES / to_si(1, "gpm", "flow")
    other = tmp_path / "us.toml"
    other.write_text(metric.replace('flow = "45 L/min"', f'flow = "{gallons:.15g} gpm"'), "utf-8")
    one, two = (
        json.loads(run("size", str(path), "--stock", str(STOCK), "--json")[1]) for path in (SIZE / "baler.toml", other)
    )
    assert [row["id"] for row in one["candidates"]] == [row["id"] for row in two["candidates"]]
