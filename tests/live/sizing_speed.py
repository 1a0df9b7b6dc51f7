"""How long the phone's script judges 200 valves in eight movements: `python -m tests.live.sizing_speed`.

No test: times depend on what else runs. The first figure is what a tap waits for, with nothing compiled yet; a
throttled browser multiplies it.
"""

import tempfile
from pathlib import Path
from statistics import median

from tests.live.sizing import ask_inner
from tests.live.sizing_plain import plainly
from valvecalc.demo import SIZE
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import read_duty
from valvecalc.selection.stock import read_stock

_TIMES = """
const timesOf = (valves, duty) => Array.from({ length: 40 }, () => {
  const start = performance.now();
  rankValves(valves, demandOf(duty));
  return performance.now() - start;
});
"""


def main() -> None:
    """Print the times of one node process."""
    shelves = read_stock(SIZE / "stock.csv")[0]
    valves = [one._replace(name=f"{one.name} {turn}", price=float(turn)) for turn in range(10) for one in shelves]
    duty = read_duty(SIZE / "baler.toml")
    duty = duty._replace(cylinders=duty.cylinders * 4)
    with tempfile.TemporaryDirectory() as folder:
        question = ["timesOf", plainly(valves), plainly(duty)]
        (answer,) = ask_inner(Path(folder), ["timesOf"], [question], _TIMES)
    times = answer["value"]
    told = f"{len(valves)} valves, {len(demand(duty).movements)} movements"
    print(f"{told}: first {times[0]:.1f} ms, median {median(times):.1f} ms")


if __name__ == "__main__":
    main()
