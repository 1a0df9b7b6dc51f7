"""Whatever is typed or fed: an exit code of the contract, JSON that parses, no traceback, the last net unused."""

import json
import string
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from valvecalc.door import find, load
from valvecalc.formula import REGISTER
from valvecalc.job.fields import fields, tables

Run = Callable[..., Any]
load()
IDS = sorted(card.id for card in REGISTER.values() if not card.part)
quick = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])

numbers = st.sampled_from(["5", "-1", "0", "1e-300", "1e300", "1,5", "1,500", "1 500", "nan", "inf", "½", "٣", ""])
units = st.sampled_from(
    ["mm", "bar", "psia", "L/min", "cSt", "V", "ohm", "°C", "%", "N", "ML/min", "±", "mm ± 1 bar", "x"]
)
values = st.one_of(
    st.tuples(numbers, units).map(" ".join),
    st.tuples(numbers, units, numbers, units).map(lambda four: f"{four[0]} {four[1]} ± {four[2]} {four[3]}"),
    st.text(max_size=12),
    st.sampled_from(["[", "[1]", '[{"position": 1}]', "0 mm 5 N; 1 mm 6 N", "P", "flow", "{}"]),
)


@st.composite
def calculations(draw: st.DrawFn) -> list[str]:
    """A command on a formula or sheet that exists, with entries that mostly exist."""
    name = draw(st.sampled_from(IDS))
    entries = [*find(name).entries, *(find(name).results or (find(name).result,))]
    words = draw(st.lists(st.tuples(st.sampled_from(entries), values).map("=".join), max_size=6))
    wish = draw(st.sampled_from(["", "--us", "--in=bar", "--in=", f"--solve={draw(st.sampled_from(entries))}"]))
    ends = draw(st.sampled_from([[], ["--between", "1 mm", "2 mm"], ["--between", "1", "x"]]))
    return ["calc", name, *words, *filter(None, [wish]), *ends]


words = st.lists(
    st.one_of(
        st.sampled_from(
            [
                "calc",
                "list",
                "show",
                "diagnose",
                "--in",
                "--solve",
                "--between",
                "--us",
                "--uncertainty",
                "--",
                *IDS[:5],
            ]
        ),
        st.text(string.printable, max_size=8),
    ),
    max_size=6,
).filter(lambda given: not given or given[0] not in ("site", "demo", "report"))


def checked(run: Run, *arguments: str) -> None:
    try:
        told = run(*arguments)
    except SystemExit as end:  # --help
        assert end.code == 0
        return
    assert told.code in (0, 1, 2)
    if "--json" in arguments:
        json.loads(told.out)
        assert all(line.startswith("…") for line in told.err.splitlines())
    elif told.code == 2:
        assert told.out == ""
        assert told.err


@quick
@given(arguments=calculations())
def test_calculations(arguments: list[str], run: Run) -> None:
    checked(run, *arguments, "--json")
    checked(run, *arguments)


@quick
@given(arguments=words)
def test_any_words(arguments: list[str], run: Run) -> None:
    if "-h" not in " ".join(arguments):
        checked(run, *arguments)


@quick
@given(content=st.one_of(st.binary(max_size=200), st.text(max_size=200).map(lambda text: text.encode("utf-8"))))
def test_any_bytes_as_a_job(content: bytes, run: Run, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_bytes(content)
    checked(run, "report", str(job), "--to", str(tmp_path / "out"), "--json")


leaf = st.one_of(
    values, st.integers(-5, 5), st.floats(allow_nan=True), st.booleans(), st.just([]), st.lists(values, max_size=2),
    st.fixed_dictionaries({"value": values}, optional={"uncertainty": values, "instrument": values, "origin": values}),
)  # fmt: skip


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    """A job of keys that exist, with values that mostly do not fit."""
    job: dict[str, Any] = {}
    for table in draw(st.lists(st.sampled_from(tables("job")[1:]), max_size=4, unique=True)):
        row = draw(st.dictionaries(st.sampled_from(list(fields("job", table))), leaf, max_size=4))
        job[table] = draw(st.sampled_from([row, [row], [row, row], draw(leaf)]))
    return job


@quick
@given(job=jobs())
def test_any_job_of_known_keys(job: dict[str, Any], run: Run, tmp_path: Path) -> None:
    text = "\n".join(f"{key} = {_toml(value)}" for key, value in job.items())
    (tmp_path / "job.toml").write_text(text, "utf-8")
    checked(run, "report", str(tmp_path / "job.toml"), "--to", str(tmp_path / "out"), "--json")


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return json.dumps(value).replace("NaN", "nan").replace("Infinity", "inf")


@pytest.mark.parametrize("name", IDS)
def test_the_example_of_every_card(name: str, run: Run) -> None:
    """The line that `show` prints can be typed; a sheet whose example has rows takes them as JSON."""
    example = find(name).example
    entries = [f"{key}={value if isinstance(value, str) else json.dumps(value)}" for key, value in example.items()]
    told = run("calc", name, *entries)
    assert (told.code, told.err) == (0, "")
