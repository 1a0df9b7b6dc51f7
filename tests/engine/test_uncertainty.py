"""Uncertainty against the guide's own worked example, a printed budget and definitions; decisions with a guard band."""

import math
from typing import Any

import pytest

from valvecalc.door import calc
from valvecalc.limits import Limit
from valvecalc.uncertainty import Leaf, decide, probability_above, propagate
from valvecalc.units import read, standard_uncertainty


def leaf(name: str, u: float, group: str | None = None, limit: Limit | None = None) -> Leaf:
    return Leaf((name,), u, group, limit)


def u_of(text: str, dimension: str = "length") -> float:
    """Standard uncertainty of a text, SI."""
    u = standard_uncertainty(read(text, "x", dimension))
    assert u is not None
    return u


def test_the_end_gauge_of_the_guide() -> None:
    """JCGM 100:2008, annex H.1: u_c(l) = 32 nm, l = 50.000 838 mm (printed). Inputs as reproduced in public test
    files of it: l_S 50.000 623 mm (u 25 nm), d 215 nm (9.7 nm), α 11.5e-6/K (1.2e-6), θ -0.1 K (0.41),
    δα 0 (0.58e-6), δθ 0 (0.029 K)."""

    def model(v: Any) -> dict[str, float]:
        return {"l": v["ls"] + v["d"] - v["ls"] * (v["da"] * v["theta"] + v["alpha"] * v["dtheta"])}

    values = {"ls": 50.000623e-3, "d": 215e-9, "alpha": 11.5e-6, "theta": -0.1, "da": 0.0, "dtheta": 0.0}
    u = {"ls": 25e-9, "d": 9.7e-9, "alpha": 1.2e-6, "theta": 0.41, "da": 0.58e-6, "dtheta": 0.029}
    found = propagate(model, values, [leaf(name, one) for name, one in u.items()])["l"]
    assert model(values)["l"] == pytest.approx(50.000838e-3, abs=0.5e-9)
    assert found.u == pytest.approx(32e-9, abs=0.5e-9)
    # own arithmetic: l_S α u(δθ) = 16.7 nm, l_S θ u(δα) = 2.9 nm; δα and δθ are 0, so θ and α add nothing
    assert [one.label for one in found.contributions[:4]] == ["ls", "dtheta", "d", "da"]
    assert [abs(one.change) * 1e9 for one in found.contributions] == pytest.approx([25, 16.7, 9.7, 2.9, 0, 0], abs=0.05)


def test_a_micrometers_budget() -> None:
    """Worked budget of a digital micrometer (a public guide to micrometer uncertainty, talalspecialbolt.com), printed:
    repeatability 0.58 µm over 3 readings 0.33, resolution 1 µm 0.29, block U 0.5 µm; u_c 0.51, U 1.0 µm."""
    u = {
        "repeat": 0.58e-6 / math.sqrt(3),
        "resolution": u_of("0 mm ± 0.0005 mm"),
        "block": u_of("0 mm ± 0.0005 mm (k=2)"),
    }
    assert u["repeat"] == pytest.approx(0.33e-6, abs=0.006e-6)
    assert u["resolution"] == pytest.approx(0.29e-6, abs=0.005e-6)
    found = propagate(lambda v: {"x": sum(v.values())}, dict.fromkeys(u, 0.0), [leaf(n, one) for n, one in u.items()])
    assert found["x"].u == pytest.approx(0.51e-6, abs=0.006e-6)
    assert 2 * found["x"].u == pytest.approx(1.0e-6, abs=0.05e-6)


def test_a_limit_of_error_is_rectangular() -> None:
    """Definition, JCGM 100:2008, 4.3.7: a/√3; an expanded uncertainty with k = 2 is halved (6.2.1)."""
    assert u_of("10 mm ± 1 mm") == pytest.approx(0.57735e-3, abs=5e-9)
    assert u_of("10 mm ± 1 mm (k=2)") == 0.5e-3
    assert u_of("20 °C ± 1 K", "temperature") == pytest.approx(0.57735, abs=5e-6)
    assert u_of("200 bar ± 2 %", "pressure") == pytest.approx(4e5 / math.sqrt(3))


def test_a_product_of_powers_adds_relative_parts() -> None:
    """JCGM 100:2008, 5.1.6: (u_c/y)² = Σ (p u/x)²; leakage goes with clearance³, pressure and 1/viscosity.

    The steps are whole u, so the cube bends: 3 (1 + u²/3), here 1 % of 1 %."""
    answer = calc(
        "annular-leakage",
        diameter="13 mm",
        clearance="6 µm ± 0.12 µm (k=2)",
        length="3 mm",
        pressure_drop="140 bar ± 2.8 bar (k=2)",
        viscosity="27 mPa·s ± 0.81 mPa·s (k=2)",
    )
    spread = answer.spreads["leakage"]
    assert spread.u / answer.value == pytest.approx(math.hypot(3 * 0.01, 0.01, 0.015), rel=5e-4)
    assert [one.label for one in spread.contributions] == ["clearance", "viscosity", "pressure_drop"]
    assert answer.expanded("leakage") == 2 * spread.u


def test_guard_band_of_the_expanded_uncertainty() -> None:
    """Definition, ILAC-G8:09/2019 with w = U: limit 50, U 3 mL/min: accepted up to 47.0; at that reading the
    probability of false acceptance is 2.3 % (the rule says below 2.5 %)."""
    u, limit = 1.5, 50.0
    assert decide(47.0, u, "<=", limit, 2.0) == "accept"
    assert decide(math.nextafter(47.0, 48.0), u, "<=", limit, 2.0) == "cannot-tell"
    assert decide(53.0, u, "<=", limit, 2.0) == "cannot-tell"
    assert decide(math.nextafter(53.0, 54.0), u, "<=", limit, 2.0) == "reject"
    assert probability_above(47.0, u, limit) == pytest.approx(0.02275, abs=1e-5)


def test_a_decision_at_least() -> None:
    """The same band from the other side; without uncertainty there is no band, and the limit itself is held."""
    assert [decide(x, 1.0, ">=", 10.0, 1.645) for x in (8.3, 9.0, 11.6, 11.7)] == [
        "reject",
        "cannot-tell",
        "cannot-tell",
        "accept",
    ]
    assert [decide(x, 0.0, ">=", 10.0, 1.645) for x in (9.999, 10.0)] == ["reject", "accept"]
    assert [decide(x, 1.0, ">=", 10.0, 0.0) for x in (9.999, 10.0)] == ["reject", "accept"]


def test_probability_of_a_reading_between_two_limits() -> None:
    """JCGM 106:2012, 7.4, example: reading 13.6, u 1.8, limits 12.5 to 16.3 (inputs seen, 0.66 from memory)."""
    inside = probability_above(13.6, 1.8, 12.5) - probability_above(13.6, 1.8, 16.3)
    assert inside == pytest.approx(0.66, abs=0.006)
    assert probability_above(1.0, 0.0, 1.0) == 1.0


def test_an_eccentricity_about_zero_steps_one_way_only() -> None:
    """Own arithmetic: leakage goes with 1 + 1.5 ε². At ε = 0 with u = 0.3 the step down would leave the limits; the
    step up alone gives 1.5 · 0.09 = 13.5 %. Two-sided it would be exactly nothing."""
    answer = calc(
        "annular-leakage",
        diameter="13 mm",
        clearance="6 µm",
        length="3 mm",
        pressure_drop="140 bar",
        viscosity="27 mPa·s",
        eccentricity="0 ± 0.6 (k=2)",
    )
    assert answer.spreads["leakage"].u / answer.value == pytest.approx(0.135, rel=1e-12)


@pytest.mark.parametrize(("x", "low_in"), [(0.25, True), (0.25, False), (9.5, True), (9.9, False)])
def test_a_step_that_ends_at_a_limit_is_scaled(x: float, low_in: bool) -> None:
    """Of a straight line the uncertainty is slope times u wherever the step had to end."""
    limit = Limit(0.0, 10.0, low_in, low_in, "")
    seen: list[float] = []

    def line(values: Any) -> dict[str, float]:
        seen.append(values["x"])
        return {"y": 3.0 * values["x"] + 1.0}

    found = propagate(line, {"x": x}, [leaf("x", 1.0, None, limit)])
    assert found["y"].u == pytest.approx(3.0, rel=1e-9)
    assert all(limit.holds(one) for one in seen)


def test_where_one_step_has_no_value_the_other_is_taken() -> None:
    """Own arithmetic: at x = 0.1 with u = 0.2 the root has a value only upwards: √0.3 - √0.1."""
    found = propagate(lambda v: {"root": math.sqrt(v["x"])}, {"x": 0.1}, [leaf("x", 0.2)])
    assert found["root"].u == pytest.approx(math.sqrt(0.3) - math.sqrt(0.1), rel=1e-12)


def test_where_no_step_has_a_value_nothing_is_said() -> None:
    """The other results keep theirs."""

    def model(v: Any) -> dict[str, float]:
        return {"y": v["y"]} | ({"x": v["x"]} if v["x"] == 0.1 else {})

    found = propagate(model, {"x": 0.1, "y": 1.0}, [leaf("x", 0.2), leaf("y", 0.1)])
    assert set(found) == {"y"}
    assert found["y"].u == pytest.approx(0.1)


def test_readings_of_one_instrument_move_together() -> None:
    """Its error drops out of a difference and doubles in a sum; of two instruments it adds by squares (definition)."""

    def model(v: Any) -> dict[str, float]:
        return {"difference": v["a"] - v["b"], "sum": v["a"] + v["b"]}

    values = {"a": 5.0, "b": 3.0}
    one = propagate(model, values, [leaf("a", 0.1, "G3"), leaf("b", 0.1, "G3")])
    assert one["difference"].u == pytest.approx(0.0, abs=1e-15)
    assert one["sum"].u == pytest.approx(0.2)
    assert one["sum"].contributions[0].label == "G3"
    two = propagate(model, values, [leaf("a", 0.1, "G3"), leaf("b", 0.1, "G4")])
    assert [two[name].u for name in ("difference", "sum")] == pytest.approx([0.1 * math.sqrt(2)] * 2)


def test_one_meter_for_two_resistances_through_the_door() -> None:
    """Own arithmetic: T = R2/R1 (k + T1) - k. One meter that reads 1 % of each: the ratio does not move at all."""
    same = {"uncertainty": "1 % (k=2)", "instrument": "M1"}
    other = {"uncertainty": "1 % (k=2)", "instrument": "M2"}
    cold, hot = {"value": "50 Ω"}, {"value": "64 Ω"}
    one = calc(
        "winding-temperature-from-resistance",
        cold_resistance=cold | same,
        hot_resistance=hot | same,
        cold_temperature="20 °C",
    )
    two = calc(
        "winding-temperature-from-resistance",
        cold_resistance=cold | same,
        hot_resistance=hot | other,
        cold_temperature="20 °C",
    )
    assert one.spreads["winding_temperature"].u == pytest.approx(0.0, abs=1e-9)
    expected = 64 / 50 * (234.5 + 20) * 0.005 * math.sqrt(2)
    assert two.spreads["winding_temperature"].u == pytest.approx(expected, rel=1e-4)


def test_a_cell_of_a_list_has_its_own_uncertainty() -> None:
    """A leaf inside a row moves that cell only, and the rows given stay as they are."""
    rows = ({"v": 1.0}, {"v": 4.0})
    found = propagate(
        lambda values: {"sum": values["rows"][0]["v"] + values["rows"][1]["v"]},
        {"rows": rows},
        [Leaf(("rows", 1, "v"), 0.5, None, None)],
    )
    assert found["sum"].u == pytest.approx(0.5)
    assert found["sum"].contributions[0].label == "rows 2 v"
    assert rows == ({"v": 1.0}, {"v": 4.0})


def test_without_uncertain_entries_nothing_is_said() -> None:
    answer = calc("coil-current", coil_voltage="36 V", resistance="48 Ω")
    assert answer.spreads == {} and answer.expanded("current") is None
