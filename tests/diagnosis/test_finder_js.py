"""The browser's fault finder against the Python one: 300 random cases, every step of each."""

import json
import math
import os
import subprocess
from collections.abc import Iterable
from functools import reduce
from operator import add
from pathlib import Path
from typing import Any

import pytest

from tests.diagnosis.record_walks import walks
from tests.node import need_node
from valvecalc import diagnosis
from valvecalc.diagnosis import advice, belief, chains, export, policy, repair, walk, why

FINDER = Path(diagnosis.__file__).parent / "finder.js"
DRIVER = Path(__file__).with_name("replay_walks.js")
TOLERANCE = 1e-12


def plain_sum(numbers: Iterable[float], start: float = 0) -> float:
    """One addition after the other. Python 3.12 and later compensate `sum`, earlier ones and JavaScript do not.

    The difference is in the last bit, but it decides between two checks of exactly the same worth; so it is taken out
    here, and the comparison of choices stays exact.
    """
    return reduce(add, numbers, start)


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[dict[str, Any], list[Any], list[Any]]]:
    """(state, what Python says at each step, what JavaScript says at each step) of 300 cases, or VALVECALC_CASES."""
    program = need_node()
    folder = tmp_path_factory.mktemp("walks")
    model, asked, told = (folder / name for name in ("model.js", "asked.ndjson", "told.ndjson"))
    with pytest.MonkeyPatch.context() as patch:
        for part in (advice, belief, chains, policy, repair, walk, why):
            patch.setattr(part, "sum", plain_sum, raising=False)
        recorded = list(walks(int(os.environ.get("VALVECALC_CASES", "300"))))
        model.write_text(export.script(), "utf-8")
    asked.write_text("\n".join(json.dumps(walk["state"]) for walk in recorded), "utf-8")
    done = subprocess.run([program, DRIVER, model, FINDER, asked, told], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    theirs = [json.loads(line) for line in told.read_text("utf-8").splitlines()]
    assert len(theirs) == len(recorded)
    return [(walk["state"], walk["said"], told) for walk, told in zip(recorded, theirs, strict=True)]


def different(ours: Any, theirs: Any, place: str = "") -> str:
    """Where two sayings differ, "" where they agree: figures within the tolerance of the larger of 1 and the figure."""
    if isinstance(ours, (int, float)) and isinstance(theirs, (int, float)):
        close = math.isclose(ours, theirs, rel_tol=TOLERANCE, abs_tol=TOLERANCE)
        return "" if close else f"{place}: {ours!r} and {theirs!r}"
    if isinstance(ours, (list, tuple)) and isinstance(theirs, list) and len(ours) == len(theirs):
        pairs = ((f"{place}[{number}]", *pair) for number, pair in enumerate(zip(ours, theirs, strict=True)))
        return next((found for where, one, other in pairs if (found := different(one, other, where))), "")
    if isinstance(ours, dict) and isinstance(theirs, dict) and ours.keys() == theirs.keys():
        return next((found for key in ours if (found := different(ours[key], theirs[key], f"{place}.{key}"))), "")
    return "" if ours == theirs else f"{place}: {ours!r} and {theirs!r}"


def test_belief_and_next_step_are_the_same_in_both_languages(both: list[Any]) -> None:
    """Belief within 1e-12, the next check, its reason, the repairs and the end: the same, step by step."""
    found = []
    for state, ours, theirs in both:
        assert len(ours) == len(theirs)
        for number, (one, other) in enumerate(zip(ours, theirs, strict=True)):
            if trouble := different(one, other):
                found.append(f"{state['symptom']} after {number} of {state['steps']}: {trouble}")
    assert not found, f"{len(found)} steps differ:\n" + "\n".join(found[:5])


def test_the_cases_reach_every_kind_of_end(both: list[Any]) -> None:
    """The comparison above is worth something only where the cases come everywhere."""
    kinds = {one["advice"]["kind"] for _, ours, _ in both for one in ours}
    steps = {key for state, _, _ in both for step in state["steps"] for key in step}
    assert kinds == {"check", "repair", "machine-card", "ask-killer", "closed", "nothing-fits"}
    assert steps == {"check", "outcome", "skipped", "need", "ticked", "missing", "repair", "cured", "cause", "killer"}


def test_no_text_of_the_knowledge_can_end_the_script() -> None:
    assert "<" not in export.script()
