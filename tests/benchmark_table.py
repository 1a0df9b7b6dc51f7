"""What the benchmarks share: their table, and medians taken in turn."""

import gc
import statistics
import timeit
from collections.abc import Callable, Sequence
from typing import Any


class Table:
    """The lines printed, and how many goals were missed."""

    def __init__(self) -> None:
        self.over = 0

    def line(self, what: str, value: float, goal: float, unit: str = "×", beside: str = "") -> None:
        """One figure against its goal."""
        met = value <= goal
        self.over += not met
        verdict = "ok" if met else "OVER"
        print(f"{what:<66} {value:>9.4g} {unit:<2}  goal ≤ {goal:>6g} {unit:<2}  {verdict:<5}{beside}", flush=True)

    def none(self, what: str, found: Sequence[str]) -> None:
        """A list that must be empty."""
        self.over += bool(found)
        print(f"{what:<66} {', '.join(found) or 'none':>12}  goal none       {'OVER' if found else 'ok'}", flush=True)


def medians(*calls: Callable[[], Any], rounds: int = 15) -> list[float]:
    """Median seconds of each call, measured in turn so that a slow spell of the machine meets all of them."""
    for call in calls:
        call()  # what the first call alone pays (imports, tables, compiling) is told by the processes
    numbers = [max(1, int(0.004 / max(timeit.timeit(call, number=1), 1e-7))) for call in calls]
    taken: list[list[float]] = [[] for _ in calls]
    gc.collect()
    for _ in range(rounds):
        for times, call, number in zip(taken, calls, numbers, strict=True):
            times.append(timeit.timeit(call, number=number) / number)
    return [statistics.median(times) for times in taken]
