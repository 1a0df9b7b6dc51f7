"""The text of a value: what is read, what is refused, and in which words."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.errors import InputError
from valvecalc.unit_table import dimension_names
from valvecalc.units import read, to_si, unit_row

#: 1 atm = 101325 Pa and 1 psi = 0.45359237 kg · 9.80665 m/s² / (25.4 mm)², by definition.
PSI = 0.45359237 * 9.80665 / 0.0254**2


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        # decimal marks and thousands
        ("1.5 mm", "length", 1.5e-3),
        ("1,5 mm", "length", 1.5e-3),
        ("0,005 mm", "length", 5e-6),
        ("-0,005 mm", "length", -5e-6),
        ("1,25 mm", "length", 1.25e-3),
        ("1,2345 mm", "length", 1.2345e-3),
        ("1.500 mm", "length", 1.5e-3),
        (".005 in", "length", 0.005 * 0.0254),
        ("1 500 bar", "pressure", 1.5e8),
        ("1\u202f500 bar", "pressure", 1.5e8),
        ("1\u00a0500 bar", "pressure", 1.5e8),
        ("1\u2009500,5 bar", "pressure", 1.5005e8),
        ("1'500 bar", "pressure", 1.5e8),
        ("1’500 bar", "pressure", 1.5e8),
        ("1,234.5 bar", "pressure", 1.2345e8),
        ("1.234,5 bar", "pressure", 1.2345e8),
        ("1,234,567 Pa", "pressure", 1234567),
        ("1.234.567 Pa", "pressure", 1234567),
        ("1.5e-3 m", "length", 1.5e-3),
        ("1,5E-3 m", "length", 1.5e-3),
        ("1.5e−3 m", "length", 1.5e-3),
        ("+5 bar", "pressure", 5e5),
        ("−0.5 bar", "pressure", -0.5e5),
        # fractions
        ("1/2 in", "length", 0.0127),
        ("1 1/2 in", "length", 0.0381),
        ('3/4"', "length", 0.01905),
        # no blank, many blanks
        ("160bar", "pressure", 1.6e7),
        ("  160 \t bar ", "pressure", 1.6e7),
        # plain numbers
        ("0.3", "ratio", 0.3),
        ("30 %", "ratio", 0.3),
        ("30%", "ratio", 0.3),
        ("12", "count", 12),
        # spelling: exact, without regard to case, stand-in characters
        ("160 BAR", "pressure", 1.6e7),
        ("1500 PSI", "pressure", 1500 * PSI),
        ("16 MPA", "pressure", 1.6e7),
        ("20 l/min", "flow", 20e-3 / 60),
        ("20 LPM", "flow", 20e-3 / 60),
        ("20 L / min", "flow", 20e-3 / 60),
        ("5 gpm", "flow", 5 * 231 * 0.0254**3 / 60),
        ("5 US gpm", "flow", 5 * 231 * 0.0254**3 / 60),
        ("5 imp gal/min", "flow", 5 * 4.54609e-3 / 60),
        ("5 um", "length", 5e-6),
        ("5 \u03bcm", "length", 5e-6),
        ("5 thou", "length", 5 * 25.4e-6),
        ("19 ohm", "resistance", 19),
        ("19 \u2126", "resistance", 19),
        ("30 mPa*s", "dynamic_viscosity", 0.03),
        ("30 mPa.s", "dynamic_viscosity", 0.03),
        ("30 mPa s", "dynamic_viscosity", 0.03),
        ("30 mPas", "dynamic_viscosity", 0.03),
        ("32 mm2/s", "kinematic_viscosity", 32e-6),
        ("32 mm^2/s", "kinematic_viscosity", 32e-6),
        ("32 mm**2/s", "kinematic_viscosity", 32e-6),
        ("32 cSt", "kinematic_viscosity", 32e-6),
        ("9 Nm", "torque", 9),
        ("80 in-lb", "torque", 80 * 0.0254 * 0.45359237 * 9.80665),
        ("0.00393 1/K", "per_kelvin", 0.00393),
        ("0.393 %/K", "per_kelvin", 0.00393),
        ("4 ohm/1000 ft", "resistance_per_length", 4 / 304.8),
        ("69°", "angle", 69 * 3.141592653589793 / 180),
        # pressures: gauge, absolute, difference
        ("5 psig", "pressure", 5 * PSI),
        ("5 barg", "pressure", 5e5),
        ("5 bar (g)", "pressure", 5e5),
        ("14.7 psia", "pressure_abs", 14.7 * PSI),
        ("1 bara", "pressure_abs", 1e5),
        ("1 bar", "pressure_abs", 1e5),
        ("5 psi", "pressure_difference", 5 * PSI),
        ("-14.7 psi", "pressure", -14.7 * PSI),
        # temperatures and their differences
        ("40 °C", "temperature", 313.15),
        ("104 F", "temperature", 313.15),
        ("-273.15 °C", "temperature", 0),
        ("10 K", "temperature_difference", 10),
        ("10 °C", "temperature_difference", 10),
        ("18 °F", "temperature_difference", 10),
    ],
)
def test_read(text: str, dimension: str, si: float) -> None:
    """Expected figures from the definitions of the units, worked here."""
    reading = read(text, "entry", dimension)
    assert reading.si == pytest.approx(si, rel=1e-12, abs=0)
    assert reading.half_width is None
    assert reading.text == text


def test_a_reading_keeps_what_was_typed() -> None:
    reading = read("1500 PSI", "supply_pressure", "pressure")
    assert (reading.value, reading.unit, reading.expanded) == (1500, "psi", False)


@pytest.mark.parametrize(
    ("text", "dimension", "half_width", "expanded"),
    [
        ("160 bar ± 2 bar", "pressure", 2e5, False),
        ("160 bar +- 2 bar", "pressure", 2e5, False),
        ("160 bar +/- 200 kPa", "pressure", 2e5, False),
        ("160 bar ±2 %", "pressure", 3.2e5, False),
        ("-0.5 bar ± 2 %", "pressure", 0.01e5, False),
        ("160 bar ± 2 bar (k=2)", "pressure", 2e5, True),
        ("160 bar ± 2 % (K = 2)", "pressure", 3.2e5, True),
        ("80 % ± 2 %", "ratio", 0.02, False),
        ("0.8 ± 0.02", "ratio", 0.02, False),
        ("0.8 ± 2 %", "ratio", 0.016, False),
        ("40 °C ± 1 K", "temperature", 1, False),
        ("40 °C ± 1 °C", "temperature", 1, False),
        ("104 °F ± 9 °F", "temperature", 5, False),
        ("0,5 mL/(min·bar) ± 0,1 mL/(min·bar)", "leakage_per_pressure", 1e-7 / 60e5, False),
    ],
)
def test_plus_minus(text: str, dimension: str, half_width: float, expanded: bool) -> None:
    reading = read(text, "entry", dimension)
    assert reading.half_width == pytest.approx(half_width, rel=1e-12)
    assert reading.expanded is expanded


@pytest.mark.parametrize(
    ("text", "dimension", "message"),
    [
        # no unit, wrong dimension, unknown unit
        ("1200", "pressure", "need a unit as well. 1200 what? For example 83 bar or 1200 psi."),
        ("12 mm", "pressure", "need a pressure. mm is a length; write for example 83 bar or 1200 psi."),
        ("3 bar", "count", "need a whole number. bar is a pressure; write for example 3."),
        ("2.5", "count", "need a whole number"),
        ("5 baar", "pressure", "Did you mean bar"),
        ("5 %1", "ratio", "Did you mean %?"),
        ("5 qwxz", "pressure", "in bar, mbar, Pa, kPa, MPa, GPa, psi, ksi or kgf/cm²"),
        # two readings
        ("1,500 psi", "pressure", "one way only: 1500 or 1.500. Write 1500 if"),
        ("12,500", "ratio", "one way only: 12500 or 12.500"),
        ("1234,567 mm", "length", "one way only: 1234567 or 1234.567"),
        ("3 ML/min", "flow", "Write mL/min if that is meant"),
        ("16 mpa", "pressure", "Write MPa if that is meant"),
        ("5 MOHM", "resistance", "Write mΩ or MΩ if that is meant"),
        ("5 nm", "length", "need µm, mm or thou"),
        ("5 mil", "length", "need thou or µm"),
        ("5 MIL", "length", "need thou or µm"),
        ("2 tenths", "length", "Write 0.1 mm or 0.0001 in"),
        # gauge, absolute, difference: 5 psi - 101325 Pa = -9.696 psi; 5 bar + 1.01325 bar
        ("5 psia", "pressure", "need a gauge pressure. 5 psia is -9.696 psi gauge: enter -9.696 psi."),
        ("5 bara", "pressure", "5 bara is 3.987 bar gauge"),
        ("5 psig", "pressure_abs", "need an absolute pressure. 5 psig is 19.70 psi absolute: enter 19.70 psi."),
        ("5 barg", "pressure_abs", "5 barg is 6.013 bar absolute"),
        ("5 psia", "pressure_difference", "A difference has no reference: write psi."),
        ("5 psig", "pressure_difference", "A difference has no reference: write psi."),
        ("5 barg", "pressure_difference", "A difference has no reference: write bar."),
        ("5 bara", "pressure_difference", "A difference has no reference: write bar."),
        ("5 bar ± 1 barg", "pressure", "A difference has no reference: write bar."),
        # viscosities
        ("30 cSt", "dynamic_viscosity", "need a dynamic viscosity. cSt is a kinematic viscosity: multiply mm²/s by"),
        ("30 cP", "kinematic_viscosity", "need a kinematic viscosity. cP is a dynamic viscosity: divide mPa·s by"),
        ("150 SUS", "kinematic_viscosity", "Saybolt seconds convert by a formula"),
        ("150 SSU", "dynamic_viscosity", "Saybolt seconds convert by a formula"),
        ("ISO VG 46", "kinematic_viscosity", "the ISO VG grade is an entry of its own"),
        ("VG46", "dynamic_viscosity", "the ISO VG grade is an entry of its own"),
        ("46 ISO VG", "kinematic_viscosity", "the ISO VG grade is an entry of its own"),
        ("12 drops/min", "flow", "a drop has no fixed size"),
        # not a number
        ("", "pressure", "got '', need a number, for example 83 bar."),
        ("   ", "pressure", "leave the entry out if there is no reading"),
        ("--", "pressure", "need a number first, then its unit"),
        ("bar", "pressure", "need a number first, then its unit"),
        ("nan bar", "pressure", "need a finite number. Leave the entry out"),
        ("-inf", "ratio", "need a finite number. Leave the entry out"),
        ("1e400 bar", "pressure", "need a finite number. Check the exponent"),
        ("1e308 GPa", "pressure", "need a finite number"),
        ("1 bar ± 1e308 GPa", "pressure", "need a finite number"),
        ("1e200 bar ± 1e200 %", "pressure", "need a finite number"),
        ("٣ bar", "pressure", "need the digits 0 to 9"),
        ("5 bar ± ٣ bar", "pressure", "need the digits 0 to 9"),
        ("\x00\x07\x1b[31m", "pressure", r"got '\x00\x07\x1b[31m', need a number first"),
        ("5 \x00", "pressure", r"got '5 \x00', need a pressure in bar"),
        ("\ud800", "pressure", r"got '\ud800', need a number first"),
        ("x" * 90, "pressure", f"got '{'x' * 59}…', need a number first"),
        ("9" * 200 + " bar", "pressure", "Shorten the entry to the form 83 bar"),
        ("1/0 in", "length", "Correct the number below the line"),
        # not one number
        ("12 34 mm", "length", "need one number, then its unit"),
        ("1 5000 bar", "pressure", "need one number, then its unit"),
        ("1.2.3 mm", "length", "need one number, then its unit"),
        ("12,34,567 Pa", "pressure", "need one number"),
        ("1-2 bar", "pressure", "need one number, then its unit"),
        ("0.5 1", "ratio", "need one number"),
        # below what can exist
        ("-300 °C", "temperature", "Nothing is colder than absolute zero"),
        ("-460 °F", "temperature", "Nothing is colder than absolute zero"),
        ("-1 K", "temperature", "Nothing is colder than absolute zero"),
        ("-2 bar", "pressure", "cannot lie below a perfect vacuum"),
        ("-1 psia", "pressure_abs", "Zero absolute is a perfect vacuum"),
        # after the ±
        ("160 bar ± 2", "pressure", "need a unit after ± as well. Write it like 160 bar ± 2 bar."),
        ("160 bar ± -2 bar", "pressure", "need a limit of error of 0 or more"),
        ("160 bar ± 2 mm", "pressure", "need a pressure difference. mm is a length"),
        ("160 bar ± 2 bar ± 1 bar", "pressure", "need one ± only"),
        ("160 bar ±", "pressure", "need a number, for example ± 2 %"),
        ("± 2 bar", "pressure", "need a number, for example 83 bar"),
        ("160 bar ± 2 bar (k=3)", "pressure", "an expanded uncertainty marked (k=2)"),
        ("160 bar ± 2 bar (k=)", "pressure", "an expanded uncertainty marked (k=2)"),
        ("160 bar ± 1 % FS", "pressure", "Multiply by the full scale first"),
        ("40 °C ± 2 %", "temperature", "the limit of a temperature in K, °C or °F"),
    ],
)
def test_refused(text: str, dimension: str, message: str) -> None:
    """Each names the entry, what came, what is needed and what to do."""
    with pytest.raises(InputError, match=re.escape(message)) as caught:
        read(text, "the_entry", dimension)
    (trouble,) = caught.value.troubles
    assert trouble.entry == "the_entry"
    assert trouble.got and trouble.need and trouble.do.endswith((".", "?"))
    assert caught.value.__cause__ is None


def test_a_refused_unit_alone() -> None:
    """As in `--in UNIT` and a column's header."""
    assert unit_row("psig", "pressure").printed == "psi"
    with pytest.raises(InputError, match=r"--in: got 'mpa', need the unit in its exact letters"):
        unit_row("mpa", "pressure", "--in")
    with pytest.raises(InputError, match="the entry says what it is measured from"):
        to_si(5, "psia", "pressure")


@given(text=st.text(max_size=80), dimension=st.sampled_from(dimension_names()))
def test_any_text_is_read_or_refused(text: str, dimension: str) -> None:
    """Never anything but a finite reading or an InputError."""
    try:
        reading = read(text, "entry", dimension)
    except InputError as error:
        assert all(ord(c) >= 32 for c in str(error))
    else:
        assert abs(reading.si) < float("inf")


@given(
    text=st.text(alphabet="0123456789 .,'/+-−eE±%()k=2 barmMpPsi°CµΩ", max_size=30),
    dimension=st.sampled_from(("pressure", "temperature", "ratio", "per_kelvin", "length")),
)
def test_any_near_miss_is_read_or_refused(text: str, dimension: str) -> None:
    """The same with the characters that the grammar is made of."""
    try:
        reading = read(text, "entry", dimension)
    except InputError:
        return
    assert abs(reading.si) < float("inf")
    assert reading.half_width is None or 0 <= reading.half_width < float("inf")


@given(
    whole=st.integers(0, 10**7),
    part=st.integers(0, 9999),
    grouping=st.sampled_from(
        [(" ", "."), (" ", ","), ("'", "."), ("’", ","), (",", "."), (".", ","), ("", "."), ("\u202f", ",")]
    ),
)
def test_every_way_of_grouping_gives_one_number(whole: int, part: int, grouping: tuple[str, str]) -> None:
    """Against Python's own reading of the same digits."""
    group, mark = grouping
    text = f"{whole:,}".replace(",", group) + mark + f"{part:04d}"
    assert read(f"{text} mm", "entry", "length").value == float(f"{whole}.{part:04d}")
