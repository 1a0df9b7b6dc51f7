"""Counts, shares and medians, by hand; the interval of a share against published figures."""

import random

import pytest

from valvecalc.history import told
from valvecalc.history.entry import Entry, entry
from valvecalc.history.tally import COLUMNS, Wanted, come_backs, counted, ordered, span, tallied, times, trend, wished


def job(**given: object) -> Entry:
    """A job with some fields."""
    blank = entry("a.toml", {})
    return blank._replace(**given)


@pytest.mark.parametrize(
    ("back", "known", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_span_of_a_share(back: int, known: int, low: float, high: float) -> None:
    """R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, score method without correction."""
    assert span(back, known) == (pytest.approx(low, abs=5e-5), pytest.approx(high, abs=5e-5))
    other = span(known - back, known)
    assert other == (pytest.approx(1 - high, abs=5e-5), pytest.approx(1 - low, abs=5e-5))


def test_few_jobs_say_so() -> None:
    nobody = [job(), job(outcome="unknown")]
    assert come_backs(nobody) == {"known": 0, "came_back": 0, "unknown": 2}
    assert "nothing can be said" in told.come_backs(come_backs(nobody))[0]
    few = come_backs([*nobody, *[job(outcome="held")] * 6, *[job(outcome="came-back")] * 3])
    assert (few["few"], few["share"]) == (True, pytest.approx(1 / 3))
    sentences = told.come_backs(few)
    assert "too few" in sentences[0] and "33" not in sentences[0]
    assert "2" in sentences[1]
    some = come_backs([*[job(outcome="held")] * 133, *[job(outcome="came-back")] * 15])
    assert told.come_backs(some)[0].startswith("Outcome known of 148, came back 15: 10\N{NO-BREAK SPACE}%.")
    assert "between 6 % and 16 %" in told.come_backs(some)[0].replace("\N{NO-BREAK SPACE}", " ")


def test_counts_are_ordered_and_named() -> None:
    jobs = [job(killer="spool-silted", outcome="held")] * 2 + [job(killer="gremlin")] + [job()] * 3
    rows = counted(jobs, lambda one: one.killer, {"spool-silted": "Silted"})
    assert [(row["id"], row["title"], row["jobs"], row["known"]) for row in rows] == [
        ("", "", 3, 0), ("spool-silted", "Silted", 2, 2), ("gremlin", "gremlin", 1, 0),
    ]  # fmt: skip


def test_medians() -> None:
    jobs = [
        job(received="2026-01-30", sent="2026-02-02", minutes={"intake": 10.0, "repair": 60.0}),
        job(received="2026-01-30", sent="2026-01-31", minutes={"intake": 20.0}),
        job(received="2026-01-30", sent="2026-01-29"),  # sent before it came: no time
        job(sent="2026-01-29"),
    ]
    found = times(jobs)
    assert found["days"] == {"median": 2, "jobs": 2}
    assert found["minutes"] == {"median": 45, "jobs": 2}
    assert found["stages"] == [
        {"stage": "intake", "median": 15, "jobs": 2}, {"stage": "repair", "median": 60, "jobs": 1},
    ]  # fmt: skip
    assert times([]) == {"days": {"median": None, "jobs": 0}, "minutes": {"median": None, "jobs": 0}, "stages": []}


def test_trend_fills_short_gaps_and_leaves_out_long_ones() -> None:
    days = ("2025-12-31", "2026-03-01", "2026-03-31", "9999-12-31", "0001-01-01", "")
    found = trend([job(received=day, outcome="came-back") for day in days], "month")
    assert [(row["period"], row["jobs"], row["came_back"]) for row in found["periods"]] == [
        ("0001-01", 1, 1), ("2025-12", 1, 1), ("2026-01", 0, 0), ("2026-02", 0, 0), ("2026-03", 2, 2),
        ("9999-12", 1, 1),
    ]  # fmt: skip
    assert (found["gaps"], found["no_day"]) == (2, 1)
    assert [row["period"] for row in trend([job(received="2026-04-01")], "quarter")["periods"]] == ["2026 Q2"]
    assert trend([], "")["periods"] == []


def test_trend_takes_the_finest_period_that_has_room() -> None:
    def over(years: int) -> dict[str, object]:
        months = [f"{2000 + year}-{month:02}-15" for year in range(years) for month in range(1, 13)]
        return trend([job(received=day) for day in months])

    assert [over(years)["by"] for years in (1, 2, 3, 6, 7, 40)] == ["month", "month", *["quarter"] * 2, "year", "year"]
    periods, notes = told.drawn(over(40))
    assert len(periods) == COLUMNS
    assert str((40 - COLUMNS) * 12) in notes[0]


def test_every_job_stands_in_every_count_once() -> None:
    chance = random.Random(7)
    jobs = [
        job(
            killer=chance.choice(("", "a", "b")), decision=chance.choice(("", "repair")), root=chance.choice("xyz"),
            outcome=chance.choice(("", "held", "came-back", "unknown")), received=chance.choice(("", "2026-01-01")),
        )
        for _ in range(200)
    ]  # fmt: skip
    found = tallied(jobs)
    for kind in told.KINDS:
        assert sum(row["jobs"] for row in found[kind]) == 200
    assert sum(row["jobs"] for row in found["trend"]["periods"]) + found["trend"]["no_day"] == 200
    back = found["come_backs"]
    assert back["known"] + back["unknown"] == 200
    for kind in ("symptoms", "causes", "decisions"):
        assert sum(row["came_back"] for row in found[kind]) == back["came_back"]


def test_wishes() -> None:
    one = job(
        id="A-1", symptom="coil-burns", killer="spool-silted", decision="repair", customer="ŚLIWA i Syn",
        machine="press", complaint="hums", received="2026-05-04",
    )  # fmt: skip
    other = job(id="B", received="", outcome="held")
    both = [one, other]
    for wish in (
        Wanted(symptom="coil-burns"), Wanted(cause="SILT"), Wanted(decision="repair"), Wanted(customer="śliwa"),
        Wanted(machine="res"), Wanted(text="HUMS"), Wanted(since="2026-05-04"), Wanted(until="2026-05-04"),
        Wanted(open_only=True), Wanted(outcome="unknown"),
    ):  # fmt: skip
        assert wished(both, wish) == [one], wish
    assert wished(both, Wanted(customer="s\u0301liwa")) == [one]
    assert wished(both, Wanted()) == both
    assert wished(both, Wanted(since="2026-05-05")) == []
    assert wished(both, Wanted(until="2026-05-03")) == []
    assert wished(both, Wanted(outcome="held", text="b")) == [other]


def test_order() -> None:
    rows = [
        job(file=name, id=name, received=day) for name, day in (("c", ""), ("b", "2026-01-01"), ("a", "2026-02-01"))
    ]
    assert [one.file for one in ordered(rows)] == ["a", "b", "c"]
    assert [one.file for one in ordered(rows, reverse=True)] == ["b", "a", "c"]
    assert [one.file for one in ordered(rows, "id")] == ["a", "b", "c"]


def test_open() -> None:
    assert job().open and job(decision="repair").open and job(outcome="unknown").open
    assert not any(one.open for one in (job(sent="2026-01-01"), job(decision="scrap"), job(outcome="held")))
