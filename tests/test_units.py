"""The unit table against pint and published figures; Quantities in and out; printing."""

import json
import subprocess
import sys
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.errors import DataError, InputError
from valvecalc.unit_table import dimension_names, dimension_row
from valvecalc.units import (
    Unit,
    choices,
    dimension_of,
    figure,
    from_quantity,
    from_si,
    read,
    registry,
    show,
    standard_uncertainty,
    table_for_javascript,
    to_quantity,
    to_si,
    unit_row,
)

ROWS = [unit for name in dimension_names() for unit in dimension_row(name).units]
EXACT = pint.UnitRegistry(non_int_type=Fraction)
FLOAT = pint.UnitRegistry()


def name_of(unit: Unit) -> str:
    return f"{unit.dimension}-{unit.printed or 'none'}"


@pytest.mark.parametrize("unit", ROWS, ids=name_of)
def test_factor_and_offset_are_right_to_the_last_bit(unit: Unit) -> None:
    """Against pint's definitions in exact fractions (pint carries π to more digits than a float has)."""
    si = dimension_row(unit.dimension).pint
    zero = EXACT.Quantity(Fraction(0), unit.pint).to(si).magnitude
    one = EXACT.Quantity(Fraction(1), unit.pint).to(si).magnitude
    assert unit.offset == float(zero)
    assert unit.factor == float(one - zero)


@pytest.mark.parametrize("unit", ROWS, ids=name_of)
@pytest.mark.parametrize("value", [0.37, 42.0, 7250.0])
def test_each_row_converts_as_pint_does(unit: Unit, value: float) -> None:
    """Both ways, in floats, at a small, a middling and a large figure."""
    si = FLOAT.Quantity(value, unit.pint).m_as(dimension_row(unit.dimension).pint)
    assert to_si(value, unit.printed, unit.dimension) == pytest.approx(si, rel=1e-12, abs=0)
    back = FLOAT.Quantity(si, dimension_row(unit.dimension).pint).m_as(unit.pint)
    # Where the zero shifts, subtracting loses digits of the shift, not of the figure.
    lost = 4e-16 * unit.offset / unit.factor
    assert from_si(si, unit.printed, unit.dimension) == pytest.approx(back, rel=1e-12, abs=2 * lost)


def test_known_temperatures() -> None:
    """Fixed points by definition: 0 °C = 273.15 K = 32 °F, 100 °C = 212 °F, both scales meet at -40."""
    assert to_si(0, "°C", "temperature") == 273.15
    assert to_si(32, "°F", "temperature") == pytest.approx(273.15, rel=1e-15)
    assert to_si(212, "°F", "temperature") == pytest.approx(373.15, rel=1e-15)
    assert to_si(-40, "°F", "temperature") == pytest.approx(to_si(-40, "°C", "temperature"), rel=1e-15)
    assert to_si(9, "°F", "temperature_difference") == pytest.approx(5.0, rel=1e-15)


@pytest.mark.parametrize(
    ("value", "unit", "dimension", "printed", "into", "last_digit"),
    [
        (1, "lbf", "force", 4.448221615, "N", 1e-9),
        (1, "kW", "power", 3412.141633, "Btu/h", 1e-6),
        (1, "cP", "dynamic_viscosity", 1.45038e-07, "lbf·s/in²", 1e-12),
        (1, "Btu", "energy", 1055.0558526, "J", 1e-7),
        (1, "kW", "power", 1.34102209, "hp", 1e-8),
        (1, "psi", "pressure", 6.894757293, "kPa", 1e-9),
        (1, "in²", "area", 6.4516, "cm²", 1e-12),
    ],
)
def test_printed_factors(value: float, unit: str, dimension: str, printed: float, into: str, last_digit: float) -> None:
    """All printed digits of a public unit sheet with exact-derived factors (scribd document 372231054); the definitions
    are those of NIST SP 811, appendix B."""
    assert from_si(to_si(value, unit, dimension), into, dimension) == pytest.approx(printed, abs=last_digit / 2, rel=0)


def test_gauge_and_absolute_as_a_text_book_does_them() -> None:
    """-5 psig is 9.7 psia and -34 kPa gauge is 67 kPa absolute (A. Esposito, Fluid Power with Applications, worked
    examples 2.7 and 2.16, p. 51, read in FOSSEE Python-Textbook-Companions, Chapter2PhysicalPropertiesofHydraulicFluids
    .ipynb, commit d34b2ae7e5e6). The book's atmosphere is 14.7 psi and 101 kPa, ours 101.325 kPa: the message must give
    the book's figure once that difference is taken off."""
    ours = to_si(1, "bar", "pressure") * 1.01325
    for text, unit, book, atmosphere in (("-5 psig", "psi", 9.7, 14.7), ("-34 kPag", "kPa", 67.0, 101.0)):
        with pytest.raises(InputError, match="absolute: enter") as caught:
            read(text, "inlet_pressure_abs", "pressure_abs")
        advised = float(str(caught.value).rsplit("enter ", 1)[1].split()[0])
        shift = from_si(ours, unit, "pressure") - atmosphere
        assert advised - shift == pytest.approx(book, abs=0.005, rel=0)


def test_factors_that_follow_from_definitions() -> None:
    """231 in³ to the US gallon, 25.4 mm to the inch, 550 ft·lbf/s to the horsepower, all exact."""
    gpm = to_si(1, "gpm", "flow")
    psi = to_si(1, "psi", "pressure")
    assert from_si(gpm, "L/min", "flow") == pytest.approx(3.785411784, rel=1e-14)
    assert gpm == pytest.approx(6.30901964e-05, rel=1e-14)
    assert to_si(1, "hp", "power") / (psi * gpm) == pytest.approx(396000 / 231, rel=1e-14)
    ft = to_si(1, "ft", "length")
    assert ft**3 / gpm == pytest.approx(12**3 * 60 / 231, rel=1e-14)
    assert gpm / to_si(1, "in²", "area") / to_si(1, "ft/s", "velocity") == pytest.approx(231 / 720, rel=1e-14)
    assert from_si(1e5, "psi", "pressure") == pytest.approx(14.503774, abs=5e-7, rel=0)
    assert to_si(1, "imp gal/min", "flow") / gpm == pytest.approx(4.54609 / 3.785411784, rel=1e-14)


def test_orifice_constant_of_the_handbooks() -> None:
    """k in gpm = k·Cd·A[in²]·√(Δp[psi]/SG). Our own figure with 62.4 lb/ft³ is 37.98; 38.06 (Sullivan 5.4) and
    38.1 (Esposito 8-4) are printed: both are 0.2 to 0.3 % high, so only the neighbourhood is compared."""
    water = to_si(62.4, "lb/ft³", "density")
    speed = (2 * to_si(1, "psi", "pressure") / water) ** 0.5
    k = from_si(to_si(1, "in²", "area") * speed, "gpm", "flow")
    assert k == pytest.approx(37.98, abs=0.005, rel=0)
    assert 1.001 < 38.06 / k < 38.1 / k < 1.004


@pytest.mark.parametrize("name", dimension_names())
def test_dimension_is_whole(name: str) -> None:
    """SI unit in the table, no spelling twice, examples that read, no row hidden by a trap or by tidying."""
    row = dimension_row(name)
    spellings = [spelling for unit in row.units for spelling in unit.spellings]
    assert len(spellings) == len(set(spellings))
    assert (unit_row(row.si, name).factor, unit_row(row.si, name).offset) == (1, 0)
    for example in row.examples:
        assert read(example, "entry", name).si > 0
    for unit in row.units:
        for spelling in unit.spellings:
            assert unit_row(spelling, name) == unit


def test_unknown_dimension_is_a_fault_of_ours() -> None:
    with pytest.raises(DataError, match=r"no dimension 'presure'; nearest: pressure"):
        dimension_row("presure")


# --- Quantities


def test_quantities_of_any_registry_and_unit() -> None:
    """Also units that the table lacks, and registries that are not the application's."""
    for quantities in (registry(), pint.UnitRegistry(), FLOAT):
        q = quantities.Quantity
        assert from_quantity(q(2, "furlong"), "length", "length") == pytest.approx(402.336, rel=1e-5)
        assert from_quantity(q(160, "bar"), "p", "pressure") == 16e6
        assert from_quantity(q(40, "degC"), "t", "temperature") == pytest.approx(313.15, rel=1e-15)
        assert from_quantity(q(9, "delta_degF"), "rise", "temperature_difference") == pytest.approx(5, rel=1e-12)
        assert from_quantity(q(1, "m**3/s"), "flow", "flow") == 1


def test_equal_units_of_two_registries_are_not_taken_for_each_other() -> None:
    """A user's registry may define a unit its own way."""
    mine, yours = pint.UnitRegistry(), pint.UnitRegistry()
    mine.define("stick = 1 m")
    yours.define("stick = 2 m")
    assert from_quantity(mine.Quantity(1, "stick"), "length", "length") == 1
    assert from_quantity(yours.Quantity(1, "stick"), "length", "length") == 2


@pytest.mark.parametrize(
    ("magnitude", "unit", "dimension", "message"),
    [
        (3, "mm", "pressure", r"p: got '3 millimeter', need a pressure\. Convert it first"),
        (60, "rpm", "frequency", "need a frequency or rate"),
        (30, "degree", "ratio", "need a plain number or a percentage"),
        (30, "", "angle", "need an angle"),
        (10, "degC", "temperature_difference", "delta_degC or kelvin"),
        (10, "delta_degC", "temperature", "need a temperature"),
        (-1, "kelvin", "temperature", "absolute zero"),
        (float("nan"), "bar", "pressure", "finite number"),
        ([1.0, 2.0], "bar", "pressure", "a Quantity with one number"),
    ],
)
def test_quantity_refused(magnitude: float, unit: str, dimension: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        from_quantity(FLOAT.Quantity(magnitude, unit), "p", dimension)


@pytest.mark.parametrize("unit", ROWS, ids=name_of)
def test_quantities_go_out_and_come_back(unit: Unit) -> None:
    q = to_quantity(to_si(42.5, unit.printed, unit.dimension), unit.dimension, unit.printed)
    assert q.magnitude == pytest.approx(42.5, rel=1e-12)
    assert from_quantity(q, "entry", unit.dimension) == pytest.approx(
        to_si(42.5, unit.printed, unit.dimension), rel=1e-12
    )


def test_quantity_out_in_si_and_in_a_unit_of_pint_alone() -> None:
    assert str(to_quantity(0.5, "length").units) == "meter"
    assert to_quantity(201.168, "length", "furlong").magnitude == pytest.approx(1, rel=1e-5)
    with pytest.raises(InputError, match=r"unit: got 'bar', need a length"):
        to_quantity(1.0, "length", "bar")


def test_reading_a_text_loads_no_pint() -> None:
    code = (
        "import sys; from valvecalc.units import read, show; read('160 bar', 'p', 'pressure');"
        "show(1.0, 'flow', 'L/min');"
        "print([m for m in ('pint', 'numpy', 'dataclasses', 'inspect') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


# --- Printing


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (1.91449, 4, "1.914"),
        (0.029, 3, "0.0290"),
        (160.0, 4, "160.0"),
        (12340.0, 4, "12340"),
        (99996.0, 4, "100000"),
        (0.125, 2, "0.13"),
        (-0.125, 2, "-0.13"),
        (12345.0, 4, "12350"),
        (16e6, 4, "16000000"),
        (1.5e9, 4, "1.500e9"),
        (0.0001, 4, "0.0001000"),
        (0.0000123, 3, "1.23e-5"),
        (0.0, 4, "0"),
        (7.0, 1, "7"),
        (float("nan"), 4, "no value"),
        (float("-inf"), 4, "no value"),
    ],
)
def test_figure(value: float, digits: int, text: str) -> None:
    """Significant digits kept, half away from zero (0.125 and 12345 are exact halves), no needless exponent."""
    assert figure(value, digits) == text


def test_show() -> None:
    assert show(1.914e-3 / 60, "flow", "L/min") == "1.914 L/min"
    assert show(0.8, "ratio", "%") == "80.00 %"
    assert show(0.8, "ratio", "", 2) == "0.80"
    assert show(313.15, "temperature", "°C", 3) == "40.0 °C"
    assert show(1.2042771838760873, "angle", "°", 2) == "69°"
    assert show(3.0, "count", "") == "3"
    assert show(-0.0, "count", "") == "0"
    assert show(160e5, "pressure", "psi") == "2321 psi"


@given(unit=st.sampled_from(ROWS), value=st.floats(1e-6, 1e8), digits=st.integers(2, 12))
def test_what_is_shown_reads_back(unit: Unit, value: float, digits: int) -> None:
    """To half of the last digit shown."""
    if unit.dimension == "count":
        value = float(round(value))
    si = to_si(value, unit.printed, unit.dimension)
    back = read(show(si, unit.dimension, unit.printed, digits), "entry", unit.dimension)
    assert back.unit == unit.printed
    shift = 4e-16 * unit.offset / unit.factor  # subtracting the shift of °C costs this much
    assert back.value == pytest.approx(value, rel=0.5001 * 10.0 ** (1 - digits), abs=2 * shift)


@given(st.floats(-1e8, 1e8, allow_nan=False), st.integers(1, 12))
def test_figure_is_the_nearest_with_so_many_digits(value: float, digits: int) -> None:
    """Against Python's own exact rounding in Fraction: never further than half a digit."""
    if not value:
        return
    shown = Fraction(figure(value, digits))
    step = Fraction(10) ** (len(str(int(abs(value)))) if abs(value) >= 1 else 0)
    while abs(Fraction(value)) < step:
        step /= 10
    assert abs(shown - Fraction(value)) <= step * Fraction(10) ** (1 - digits) / 2


# --- What forms and JavaScript get


def test_choices_and_dimension_of() -> None:
    assert choices("flow")[:2] == ["L/min", "mL/min"]
    assert choices("pressure_difference") == choices("pressure")
    assert dimension_of("bar") == "pressure"
    assert dimension_of("mm^2/s") == "kinematic_viscosity"
    with pytest.raises(InputError, match=r"unit: got 'BARR'"):
        dimension_of("BARR")


def test_table_for_javascript_is_plain_data_and_whole() -> None:
    table = json.loads(json.dumps(table_for_javascript()))
    assert set(table["dimensions"]) == set(dimension_names())
    psi = next(unit for unit in table["dimensions"]["pressure"]["units"] if unit["printed"] == "psi")
    assert psi["factor"] == to_si(1, "psi", "pressure")
    assert "pint" not in json.dumps(table)


# --- Uncertainty


def test_standard_uncertainty() -> None:
    """JCGM 100:2008: rectangular half-width a gives a/√3 (4.3.7); expanded U with k = 2 gives U/2 (6.2.1)."""
    assert standard_uncertainty(read("160 bar", "p", "pressure")) is None
    assert standard_uncertainty(read("160 bar ± 3 bar", "p", "pressure")) == pytest.approx(1.7320508e5, rel=1e-8)
    assert standard_uncertainty(read("160 bar ± 3 bar (k=2)", "p", "pressure")) == 1.5e5
