"""A stock list (CSV or TOML) into valves and its faults: what is good is kept, a blank is unknown and never zero."""

import csv
import io
import re
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.facts import fact_value, parse_toml
from valvecalc.formulas import paths
from valvecalc.numbers import Refused, visible
from valvecalc.primitives import fit
from valvecalc.selection.cells import Field, check_fields, columns, header_unit, is_unknown, read_cell
from valvecalc.selection.function import Function, completed


class Curve(NamedTuple):
    """Loss of one path in the oil of its points: linear·Q + square·Q², and how well it is known.

    `thick_linear`, `thick_square`: the same with the largest share that may go with viscosity, where one point alone
    cannot tell; `spread`: limit of error as a share; `largest`: flow of the last point.
    """

    linear: float
    square: float
    thick_linear: float
    thick_square: float
    spread: float
    largest: float


class StockValve(NamedTuple):
    """One row of the list in SI; None is unknown. The fields up to `area` are the columns; `curves` and `function`
    are made from them once."""

    name: str
    shelf: Any = None
    quantity: Any = None
    price: Any = None
    condition: Any = None
    interface: Any = None
    stage: Any = None
    operator: Any = None
    rest: Any = None
    on_a: Any = None
    on_b: Any = None
    crossing_a: Any = None
    crossing_b: Any = None
    pressure_p: Any = None
    pressure_a: Any = None
    pressure_b: Any = None
    pressure_t: Any = None
    flow_nominal: Any = None
    drop_pa: Any = None
    drop_pb: Any = None
    drop_at: Any = None
    drop_bt: Any = None
    drop_pt: Any = None
    drop_viscosity: Any = None
    drop_density: Any = None
    shift_limit: Any = None
    limit_voltage: Any = None
    limit_winding: Any = None
    limit_ports: Any = None
    pilot: Any = None
    drain: Any = None
    pilot_pressure_min: Any = None
    pilot_pressure_max: Any = None
    drain_pressure_max: Any = None
    coil_voltage: Any = None
    coil_kind: Any = None
    coil_power: Any = None
    voltage_tolerance: Any = None
    connector: Any = None
    protection: Any = None
    winding_class: Any = None
    seals: Any = None
    fluids: Any = None
    viscosity_min: Any = None
    viscosity_max: Any = None
    oil_temperature_min: Any = None
    oil_temperature_max: Any = None
    leakage: Any = None
    leakage_pressure: Any = None
    leakage_viscosity: Any = None
    shift_time_on: Any = None
    shift_time_off: Any = None
    override: Any = None
    area: Any = None
    curves: Any = None
    function: Any = None


class Problem(NamedTuple):
    """One fault of the list: where it stands and the four parts of every trouble."""

    row: int
    name: str
    column: str
    got: str
    need: str
    do: str

    def trouble(self, file: str) -> Trouble:
        """The same as all other troubles: `stock.csv row 4 (name): column: got …`."""
        where = f"{file} row {self.row}" + (f" ({self.name})" if self.name else "")
        return Trouble(self.column, self.got, self.need, self.do, where)


#: Told how many of how many are done.
Tick = Callable[[int, int], None]
PATHS = ("pa", "pb", "at", "bt", "pt")
#: Why a list is refused in which a carriage return stands without its line feed.
STRAY_END = "half an end of line in the midst of a row"


@lru_cache(maxsize=4096)
def curve(points: tuple[tuple[float, float], ...]) -> Curve:
    """The curve of a path from its points, or from one point and the usual share that goes with viscosity."""
    largest = points[-1][0]
    if len(points) > 1:
        found = fit([{"flow": flow, "drop": drop} for flow, drop in points], "flow", "drop")
        linear, square = found["linear"], found["square"]
        return Curve(linear, square, linear, square, fact_value("size-curve-spread"), largest)
    flow, drop = points[0]
    share = (paths.one_point_drop.__kwdefaults__ or {})["laminar_share"]
    thick = fact_value("largest-laminar-share")
    along, across = drop / flow, drop / flow**2
    spread = fact_value("size-point-spread")
    return Curve(share * along, (1 - share) * across, thick * along, (1 - thick) * across, spread, largest)


def prepared(valve: StockValve) -> StockValve:
    """The valve with its curves and its function worked out."""
    curves = {path: curve(points) for path in PATHS if (points := getattr(valve, f"drop_{path}")) is not None}
    positions = Function(valve.rest, valve.on_a, valve.on_b, valve.crossing_a, valve.crossing_b)
    function = completed(positions, valve.operator)
    return valve._replace(curves=curves, function=function)


def read_stock(path: Path, tick: Tick | None = None) -> tuple[list[StockValve], list[Problem]]:
    """The valves of a file and what is wrong in it. Raises InputError only where no list can be read at all.

    `tick` is told how many of how many rows are read, every few hundred.
    """
    try:
        data = path.read_bytes()
    except OSError as fault:
        why = "no file" if isinstance(fault, FileNotFoundError) else fault.strerror or "no access"
        raise InputError(
            Trouble(str(path), why, "a stock list", "Check the name, the folder and its rights.")
        ) from None
    if path.suffix.lower() == ".toml":
        return _from_toml(data, path.name, tick)
    return read_csv(data, path.name, tick)


def read_csv(data: bytes, file: str, tick: Tick | None = None) -> tuple[list[StockValve], list[Problem]]:
    """A stock list in CSV. Commas or semicolons part the cells; the first row that is not a comment is the header."""
    problems: list[Problem] = []
    try:
        written = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        written = data.decode("cp1252", "replace")
        do = "Save it as CSV UTF-8; until then it is read as Western European: look at µ, ² and accents."
        problems.append(Problem(1, "", "the file", "letters that are not UTF-8", "a text in UTF-8", do))
    if "\0" in written:
        raise InputError(Trouble("the file", "bytes that are no text", "a stock list", "Export it as CSV.", file))
    first = next((line for line in written.splitlines() if line.strip() and not line.startswith("#")), "")
    mark = max(",;\t", key=first.count)
    try:
        rows = list(csv.reader(io.StringIO(written), delimiter=mark, strict=True))
    except csv.Error as fault:
        need, do = "a table of cells", "Look for a quotation mark that is not closed."
        why = STRAY_END if str(fault).startswith("new-line") else str(fault)  # Python's words change with its version
        raise InputError(Trouble("the file", why, need, do, file)) from None
    numbered = [(number, cells) for number, cells in enumerate(rows, 1) if any(cell.strip() for cell in cells)]
    while numbered and numbered[0][1][0].startswith("#"):  # above the header only: a valve may be called #14
        del numbered[0]
    if not numbered:
        raise InputError(
            Trouble("the file", "nothing", "a header and one valve a row", "Start from the demo list.", file)
        )
    number, head = numbered[0]
    known = _header(number, head, problems)
    if "name" not in [field.key for field, _ in known.values()]:
        need, do = "a column called name", "Give each valve a name of its own in a column headed name."
        raise InputError(Trouble("the header", ", ".join(head)[:60], need, do, file))
    told: list[tuple[int, dict[str, tuple[Field, str, str]]]] = []
    for number, cells in numbered[1:]:
        extra = [cell for cell in cells[len(head) :] if cell.strip()]
        if extra:
            do = "Put quotation marks round a cell with the mark that parts the cells in it."
            need = f"{len(head)} cells, as the header has"
            problems.append(Problem(number, "", "the row", f"{len(cells)} cells", need, do))
            continue
        told.append(
            (number, {field.key: (field, cells[at], unit) for at, (field, unit) in known.items() if at < len(cells)})
        )
    return _valves(told, problems, tick)


def _header(row: int, head: list[str], problems: list[Problem]) -> dict[int, tuple[Field, str]]:
    """Which column stands at which place, with the unit that its header names."""
    found: dict[int, tuple[Field, str]] = {}
    for place, cell in enumerate(head):
        if not cell.strip():
            continue
        matched = re.match(r"^(.*?)(?:\[(.*)\])?\s*$", cell.strip())
        title, unit = (matched.group(1), matched.group(2)) if matched else (cell, None)
        key = "_".join(title.strip().lower().replace("-", " ").replace("_", " ").split())
        field = columns().get(key)
        if field is None:
            near = nearest(key, columns(), 1)
            do = f"Did you mean {near[0]}? The whole column is left out until then." if near else "It is left out."
            problems.append(Problem(row, "", cell.strip(), "a column of this name", "a column of a stock list", do))
        elif any(field is other for other, _ in found.values()):
            do = "The first is taken; take one of them out."
            problems.append(Problem(row, "", field.key, "the same column twice", "each column once", do))
        else:
            try:
                found[place] = (field, header_unit(field, unit) if unit else "")
            except Refused as refused:
                problems.append(Problem(row, "", field.key, visible(cell.strip()), refused.need, refused.do))
    return found


def _from_toml(data: bytes, file: str, tick: Tick | None) -> tuple[list[StockValve], list[Problem]]:
    raw = parse_toml(data, file)
    rows = raw.get("valve")
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise InputError(Trouble("the file", "no [[valve]]", "tables [[valve]]", "Write [[valve]] before each.", file))
    problems: list[Problem] = []
    told: list[tuple[int, dict[str, tuple[Field, str, str]]]] = []
    for number, row in enumerate(rows, 1):
        cells: dict[str, tuple[Field, str, str]] = {}
        for key, value in row.items():
            field = columns().get(key)
            if field is None:
                near = nearest(key, columns(), 1)
                do = f"Did you mean {near[0]}?" if near else "See the guide for the columns."
                problems.append(Problem(number, str(row.get("name", "")), key, "a key of this name", "a column", do))
            else:
                texts = [str(one) for one in value] if isinstance(value, list) else [str(value)]
                cells[key] = (field, ", ".join(texts), "")
        told.append((number, cells))
    return _valves(told, problems, tick)


def _valves(
    told: list[tuple[int, dict[str, tuple[Field, str, str]]]], problems: list[Problem], tick: Tick | None
) -> tuple[list[StockValve], list[Problem]]:
    check_fields(StockValve._fields[:-2])
    valves: list[StockValve] = []
    names: dict[str, int] = {}
    read: dict[tuple[str, str, str], Any] = {}  # cells repeat: each text is read once
    for place, (number, cells) in enumerate(told, 1):
        if tick is not None and place % 200 == 0:
            tick(place, len(told))
        name = " ".join(cells["name"][1].split()) if "name" in cells else ""
        if not name:
            do = "Name it; until then the row is left out."
            problems.append(Problem(number, "", "name", "an empty cell", "a name for each valve", do))
            continue
        if name.lower() in names:
            do = f"Row {names[name.lower()]} has it already: this row is left out until it has a name of its own."
            problems.append(Problem(number, name, "name", visible(name), "each name once", do))
            continue
        names[name.lower()] = number
        values: dict[str, Any] = {"name": name}
        for key, (field, text, unit) in cells.items():
            told_of = key, text, unit
            if told_of not in read:
                read[told_of] = _read(field, text.strip(), unit)
            value = read[told_of]
            if isinstance(value, Refused):
                problems.append(Problem(number, name, key, visible(text.strip()), value.need, value.do))
            elif value is not None and key != "name":
                values[key] = value
        for column, got, need, do in _contradictions(values):
            problems.append(Problem(number, name, column, got, need, do))
            for key in column.split(" and "):
                values.pop(key, None)
        valves.append(prepared(StockValve(**values)))
    return valves, sorted(problems, key=lambda one: one.row)


def _read(field: Field, text: str, unit: str) -> Any:
    """The value of a cell, None for unknown, or why it is refused."""
    if field.key == "name" or is_unknown(text):
        return None
    try:
        return read_cell(field, text, unit)
    except Refused as refused:
        return refused


def _contradictions(values: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    """Cells that cannot both be right; both become unknown."""
    both = "Both count as unknown until one of them is corrected."
    for low, high in (
        ("viscosity_min", "viscosity_max"),
        ("oil_temperature_min", "oil_temperature_max"),
        ("pilot_pressure_min", "pilot_pressure_max"),
        ("pressure_t", "pressure_p"),
    ):
        if low in values and high in values and values[low] > values[high]:
            yield f"{low} and {high}", "the first above the second", f"{low} not above {high}", both
    points, rating = values.get("shift_limit"), values.get("pressure_p")
    if points and rating is not None and points[-1][1] > rating * (1 + 1e-9):
        yield "shift_limit and pressure_p", "a limit above the rating of P", "a limit within the rating", both
    operator = values.get("operator")
    if operator == "spring-centred" and "" in (values.get("rest"), values.get("on_a"), values.get("on_b")):
        need = "three positions where springs centre the spool"
        yield "operator", "spring-centred, and a position that is none", need, "It counts as unknown until then."
