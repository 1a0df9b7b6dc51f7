"""The valve that is to take the old one's place, as the report tells it: judged from the files that the job names."""

from collections.abc import Mapping
from typing import Any

from valvecalc.errors import InputError, Trouble
from valvecalc.job.read import Job
from valvecalc.selection.charts import leaders, limit_spec, loss_spec
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import read_duty
from valvecalc.selection.ranking import rank
from valvecalc.selection.stock import read_stock
from valvecalc.selection.tell import told, told_request

#: A report shows the best in full; of the others it says how many there are.
SHOWN = 3


def replacement(job: Job) -> Mapping[str, Any] | None:
    """The plain data of `valvecalc size` for the duty (and stock list) of the job's [replacement]; None without one.

    Names of files are counted from the job file. Raises InputError with what is wrong in a duty, or where a file
    cannot be read; faults of single rows of the list stand in the data, as on the command line.
    """
    row = job.tables.get("replacement", {})
    if not row:
        return None
    if "duty" not in row:
        do = "Name the file that says what the machine asks, or leave [replacement] out."
        raise InputError(Trouble("replacement.duty", "nothing", "a duty file", do, job.path.name))
    folder, system = job.path.parent, job.shop.units
    asked = demand(read_duty(folder / row["duty"]))
    if "stock" not in row:
        return {"duty": row["duty"], **told_request(asked, system)}
    valves, problems = read_stock(folder / row["stock"])
    ranked = rank(valves, asked)
    best = leaders(ranked)
    drawn = [spec for spec in (loss_spec(asked, best, system), limit_spec(asked, best, system)) if spec]
    data = told(asked, ranked, problems, most=SHOWN, system=system)
    return {"duty": row["duty"], "stock": row["stock"], "charts": drawn, **data}
