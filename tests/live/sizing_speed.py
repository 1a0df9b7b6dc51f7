"""How long the phone's script judges 200 valves in eight movements: `python -m tests.live.sizing_speed`.

No test: times depend on what else runs. The first figure is what a tap waits for, with nothing compiled yet; a
throttled browser multiplies it.
"""

import json
import subprocess
import tempfile
from pathlib import Path

from tests.live.sizing_plain import plainly
from tests.node import need_node
from valvecalc.demo import SIZE
from valvecalc.selection.duty import read_duty
from valvecalc.selection.stock import read_stock
from valvecalc.sitegen.sizing import sizing_script

_DRIVER = """
const times = [];
for (let round = 0; round < 40; round += 1) {
  const start = performance.now();
  inner.rankValves(valves, inner.demandOf(duty));
  times.push(performance.now() - start);
}
const first = times[0].toFixed(1), median = times.sort((a, b) => a - b)[20].toFixed(1);
const told = `${valves.length} valves, ${inner.demandOf(duty).movements.length} movements`;
console.log(`${told}: first ${first} ms, median ${median} ms`);
"""


def main() -> None:
    """Print the times of one node process."""
    shelves = read_stock(SIZE / "stock.csv")[0]
    valves = [one._replace(name=f"{one.name} {turn}", price=float(turn)) for turn in range(10) for one in shelves]
    duty = read_duty(SIZE / "baler.toml")
    duty = duty._replace(cylinders=duty.cylinders * 4)
    script, mark, front = sizing_script().rpartition("// What the pages may use.")
    inner = "globalThis.inner = { rankValves, demandOf };\n"
    given = f"const valves = {json.dumps(plainly(valves))}, duty = {json.dumps(plainly(duty))};\n"
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "speed.js"
        path.write_text(script + inner + mark + front + given + _DRIVER, "utf-8")
        subprocess.run([need_node(), str(path)], check=True)


if __name__ == "__main__":
    main()
