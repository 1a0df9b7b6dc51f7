"""Whatever is not known: never a crash, never an acceptance that the missing figure would have taken back."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.demo import SIZE
from valvecalc.errors import InputError
from valvecalc.selection.cells import columns
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, duty_from, entries, read_duty
from valvecalc.selection.ranking import judge
from valvecalc.selection.stock import StockValve, prepared, read_csv, read_stock
from valvecalc.selection.words import sentence

DUTIES = {name: read_duty(SIZE / f"{name}.toml") for name in ("baler", "press", "tipping-trailer")}
SHELVES = read_stock(SIZE / "stock.csv")[0]
#: Blank, they fall back on something else that is known, by design: the machine's oil, the limit of either port use.
FALLS_BACK = {"drop_density", "limit_ports", "fluids"}


def blanked(valve: StockValve, names: list[str]) -> StockValve:
    return prepared(valve._replace(**dict.fromkeys(names), curves=None, function=None))


@pytest.mark.parametrize("name", DUTIES)
def test_blanks_never_turn_a_refusal_into_an_acceptance(name: str) -> None:
    rng = random.Random(name)
    asked = demand(DUTIES[name])
    cells = [key for key in columns() if key not in FALLS_BACK | {"name"}]
    for valve in SHELVES:
        whole = {rule.rule: rule for rule in judge(valve, asked).rules}
        for _ in range(6):
            gone = rng.sample(cells, rng.randint(1, 12))
            for rule in judge(blanked(valve, gone), asked).rules:
                assert sentence(rule)
                assert (whole[rule.rule].verdict, rule.verdict) != ("reject", "accept"), (valve.name, rule, gone)


#: Entries without which another one that is known answers: the pump for a speed, the plate for the supply, the relief
#: valve for a loss that nobody limited, no drift asked for.
ANSWERED = {
    "supply.voltage", "supply.kind", "allowed.loss", "allowed.drift", "cylinder 1.retract_time",
    "cylinder 1.stroke_length",
}  # fmt: skip


@pytest.mark.parametrize("name", DUTIES)
def test_unknown_entries_never_turn_a_refusal_into_an_acceptance(name: str) -> None:
    rng = random.Random(f"entries {name}")
    duty = DUTIES[name]
    known = [entry for entry in entries(duty) if entry not in ANSWERED and not entry.startswith("duty.")]
    whole = {valve.name: {rule.rule: rule for rule in judge(valve, demand(duty)).rules} for valve in SHELVES}
    for _ in range(25):
        gone = rng.sample(known, rng.randint(1, 8))
        lacking = duty
        for entry in gone:
            lacking = changed(lacking, entry, None)
        asked = demand(lacking)
        for valve in rng.sample(SHELVES, 5):
            for rule in judge(valve, asked).rules:
                assert sentence(rule)
                assert (whole[valve.name][rule.rule].verdict, rule.verdict) != ("reject", "accept"), (rule, gone)


def test_a_duty_with_one_entry_alone_never_accepts() -> None:
    for duty in DUTIES.values():
        for entry in entries(duty):
            bare = duty
            for other in entries(duty):
                if other != entry:
                    bare = changed(bare, other, None)
            for valve in SHELVES[:3]:
                assert judge(valve, demand(bare)).verdict != "accept", entry


@given(st.binary(max_size=300))
@settings(max_examples=150, deadline=None)
def test_any_bytes_are_a_list_or_are_refused(data: bytes) -> None:
    try:
        valves, problems = read_csv(b"name,pressure_p,drop_pa,rest\n" + data, "list.csv")
    except InputError as fault:
        assert fault.troubles
    else:
        assert all(valve.name for valve in valves)
        assert all(str(one.trouble("list.csv")) for one in problems)


LEAVES = st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12)
KEYS = st.sampled_from(["flow", "grade", "bore_diameter", "rod_diameter", "rest", "y"])
THINGS = st.recursive(LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner), max_leaves=6)


@given(st.dictionaries(st.sampled_from(["pump", "oil", "cylinder", "old", "x"]), THINGS))
@settings(max_examples=150, deadline=None)
def test_any_table_is_a_duty_or_is_refused(raw: dict[str, object]) -> None:
    try:
        duty = duty_from(raw)
    except InputError as fault:
        assert fault.troubles
    else:
        judge(SHELVES[0], demand(duty))
