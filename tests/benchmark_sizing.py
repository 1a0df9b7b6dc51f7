"""Speed of the sizing: thousands of valves against one duty."""

from itertools import cycle

from tests.benchmark_table import Table, medians
from valvecalc.demo import SIZE
from valvecalc.selection import ranking
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import read_duty
from valvecalc.selection.stock import StockValve, prepared, read_stock

#: The paths that every valve of the demo's shelves has points for.
PATHS = ("pa", "pb", "at", "bt")


def sizing(told: Table) -> None:
    """Stock lists against a duty of eight points, every row with a loss curve and a limit of its own."""
    duty = read_duty(SIZE / "baler.toml")
    asked = demand(duty._replace(cylinders=duty.cylinders * 4))
    shelves = [valve for valve in read_stock(SIZE / "stock.csv")[0] if valve.drop_at and valve.shift_limit]

    def rows(number: int) -> list[StockValve]:
        made = []
        for place, valve in zip(range(number), cycle(shelves), strict=False):
            more = 1 + place * 1e-6
            points = {f"drop_{path}": tuple((q, more * p) for q, p in getattr(valve, f"drop_{path}")) for path in PATHS}
            limit = tuple((flow * more, pressure) for flow, pressure in valve.shift_limit)
            made.append(prepared(valve._replace(name=f"row {place}", shift_limit=limit, **points)))
        return made

    thousand, ten_thousand = rows(1_000), rows(10_000)
    few, many, turns = medians(
        lambda: ranking.rank(thousand, asked), lambda: ranking.rank(ten_thousand, asked), million_turns, rounds=5
    )
    beside = f"  {many * 1e6 / 10_000:.0f} µs a row, {len(asked.movements)} duty points"
    told.line("a stock of 10 000 judged and ranked, over one of 1 000", many / few, 12, beside=beside)
    told.line("the same over a million turns of an empty loop", many / turns, 50, beside=f"  {turns * 1e3:.0f} ms")
    told.line("the same in seconds", many, 1.0, "s")


def million_turns() -> None:
    """What this machine needs for nothing: so that a busy one is told from a slow program."""
    for _ in range(1_000_000):
        pass
