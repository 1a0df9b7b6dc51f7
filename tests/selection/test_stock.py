"""A stock list with fifteen planted faults: each is named by row and column, and what is good is kept."""

from pathlib import Path

import pytest

from valvecalc.errors import InputError
from valvecalc.selection.cells import columns, fluids
from valvecalc.selection.function import ALL_SHUT
from valvecalc.selection.stock import StockValve, read_csv, read_stock

FAULTY = Path(__file__).parent / "faulty.csv"

#: (row as a spreadsheet counts it, column, what the sentence must hold)
PLANTED = [
    (1, "pressure_t", "need a pressure. L/min is a flow"),
    (1, "presure_a", "Did you mean pressure_a?"),
    (3, "name", "need a name for each valve"),
    (4, "name", "Row 2 has it already"),
    (5, "drop_pa", "need pairs with their units"),
    (6, "pressure_p", "L/min is a flow"),
    (7, "pressure_p", "4500 or 4.500"),
    (8, "on_a", "need each port once"),
    (9, "rest", "need the ports P, A, B and T"),
    (10, "drop_pa", "need a loss that rises with the flow"),
    (11, "shift_limit and pressure_p", "need a limit within the rating"),
    (12, "coil_voltage", "need a figure above 0 V"),
    (13, "operator", "Did you mean spring-centred?"),
    (14, "interface", "need a mounting surface"),
    (15, "quantity", "need a whole number"),
    (16, "viscosity_min and viscosity_max", "need viscosity_min not above viscosity_max"),
]


def test_every_planted_fault_is_named_by_row_and_column_and_no_other() -> None:
    _, problems = read_stock(FAULTY)
    assert [(one.row, one.column) for one in problems] == [(row, column) for row, column, _ in PLANTED]
    assert len(PLANTED) >= 15
    for problem, (row, column, words) in zip(problems, PLANTED, strict=True):
        said = str(problem.trouble(FAULTY.name))
        assert said.startswith(f"faulty.csv row {row}"), said
        assert f": {column}: got " in said
        assert words in said, said


def test_what_is_good_is_kept_and_what_is_faulty_is_unknown() -> None:
    valves, _ = read_stock(FAULTY)
    assert [valve.name for valve in valves] == [
        "good", "no unit", "wrong unit", "two readings", "port twice", "no port", "falls", "limit high", "zero", "word",
        "plate", "half a valve", "crossed",
    ]  # fmt: skip
    by_name = {valve.name: valve for valve in valves}
    assert by_name["good"].pressure_p == 315e5
    assert by_name["good"].interface == "ISO 4401-03"
    assert by_name["good"].rest == ALL_SHUT
    assert by_name["good"].protection == "IP65"
    for name, column in (
        ("no unit", "drop_pa"), ("wrong unit", "pressure_p"), ("two readings", "pressure_p"), ("port twice", "on_a"),
        ("no port", "rest"), ("falls", "drop_pa"), ("limit high", "shift_limit"), ("limit high", "pressure_p"),
        ("zero", "coil_voltage"), ("word", "operator"), ("plate", "interface"), ("half a valve", "quantity"),
        ("crossed", "viscosity_min"), ("crossed", "viscosity_max"),
    ):  # fmt: skip
        assert getattr(by_name[name], column) is None, (name, column)
        assert by_name[name].shelf


def test_a_blank_is_unknown_and_never_zero() -> None:
    blanks = ",".join("" for _ in columns())[len("name") - 4 :]
    written = ",".join(columns()) + "\n" + "bare" + blanks + "\nasked" + ",unknown,?,don't know\n"
    valves, problems = read_csv(written.encode(), "list.csv")
    assert not problems
    for valve in valves:
        assert set(valve[1:-2]) == {None}
        assert valve.curves == {}


def test_semicolons_a_mark_of_order_and_comments_are_read() -> None:
    written = "\ufeff# ours\nName;Pressure P [MPa];Price\nx;31,5;85,50 EUR\n\ny;4500 psi;\n"
    (x, y), problems = read_csv(written.encode(), "list.csv")
    assert not problems
    assert x.pressure_p == pytest.approx(315e5)
    assert y.pressure_p == pytest.approx(4500 * 6894.757293168361)
    assert (x.price, y.price) == (85.5, None)


def test_a_comment_stands_above_the_header_only() -> None:
    valves, problems = read_csv(b"# ours\n# all of them\nname,quantity\n#14,2\n#15,-\n", "list.csv")
    assert [(valve.name, valve.quantity) for valve in valves] == [("#14", 2), ("#15", None)]
    assert not problems


def test_a_row_with_too_many_cells_is_left_out_and_named() -> None:
    valves, problems = read_csv(b"name,rest\nx,P-A, B-T\ny,shut\n", "list.csv")
    assert [valve.name for valve in valves] == ["y"]
    assert (problems[0].row, problems[0].column) == (2, "the row")


@pytest.mark.parametrize(
    ("written", "words"),
    [(b"", "got nothing"), (b"shelf,rest\nx,shut\n", "need a column called name"), (b'name\n"x\n', "quotation mark")],
)
def test_what_is_no_list_is_refused(written: bytes, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_csv(written, "list.csv")


def test_the_same_list_in_toml(tmp_path: Path) -> None:
    written = """[[valve]]
name = "x"
pressure_p = "315 bar"
quantity = 2
fluids = ["HLP", "HVLP"]
rest = "shut"
[[valve]]
name = "y"
pressure_p = "315"
colour = "red"
"""
    path = tmp_path / "list.toml"
    path.write_text(written, "utf-8")
    (x, y), problems = read_stock(path)
    assert (x.pressure_p, x.quantity, x.fluids) == (315e5, 2, ("HLP", "HVLP"))
    assert y.pressure_p is None
    assert [(one.row, one.column) for one in problems] == [(2, "colour"), (2, "pressure_p")]


def test_the_record_of_a_valve_has_the_documented_columns() -> None:
    assert StockValve._fields[:-2] == tuple(columns())
    assert all(field.meaning for key, field in columns().items())
    assert "HFDR" in fluids()


@pytest.mark.parametrize(
    ("spelling", "size"),
    [
        ("ISO 4401-05", "05"), ("4401-05-04-0-05", "05"), ("NG10", "05"), ("ng 6", "03"), ("D03", "03"), ("D5", "05"),
        ("ISO 4401-10", "10"), ("NG32", "10"), ("ISO 4401-08-08-0-05:2005", "08"),
    ],
)  # fmt: skip
def test_names_of_one_mounting_surface(spelling: str, size: str) -> None:
    (valve,), problems = read_csv(f"name,interface\nx,{spelling}\n".encode(), "list.csv")
    assert not problems
    assert valve.interface == f"ISO 4401-{size}"
