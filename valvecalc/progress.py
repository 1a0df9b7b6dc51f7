"""A bar for long work: only on a terminal, and only once a second has passed."""

import sys
from collections.abc import Callable
from time import monotonic

#: Takes how much is done, and of how much.
Tick = Callable[[int, int], None]


def bar(what: str, began: float) -> Tick:
    """A bar on stderr once a second has passed since `began`, on a terminal only."""
    shown = sys.stderr.isatty()

    def tick(done: int, total: int) -> None:
        if shown and monotonic() - began > 1.0:
            filled = 30 * done // max(total, 1)
            end = "\n" if done >= total else ""
            print(f"\r{what} [{'#' * filled:<30}] {done} of {total}", end=end, file=sys.stderr, flush=True)

    return tick
