"""`valvecalc diagnose`: list, next check, why, belief, tree, cause, a terminal, a job file, the shop's counts."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.cli import main
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.job.publish import work_job

Told = tuple[int, str, str]


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str]) -> Callable[..., Told]:
    """Run one command: exit code, stdout, stderr."""

    def run(*arguments: str) -> Told:
        code = main(["diagnose", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return run


def data(told: Told) -> Any:
    return json.loads(told[1])


def test_the_list_holds_every_complaint_once(say: Callable[..., Told]) -> None:
    code, out, _ = say()
    ids = [line.split()[0] for line in out.splitlines() if line.startswith("  ")]
    assert code == 0
    assert sorted(ids) == sorted(knowledge().symptoms)
    rows = data(say("--json"))["symptoms"]
    assert {"id", "title", "group"} == set(rows[0])


def test_every_complaint_has_a_first_check_with_its_caution_before_how(say: Callable[..., Told]) -> None:
    for symptom in knowledge().symptoms:
        code, out, _ = say(symptom)
        assert code == 0, symptom
        assert out.startswith("! "), symptom  # the complaint's own caution comes first
        check = out.index("Next check:")
        assert out.index("! ", check) < out.index("\nHow\n"), symptom


def test_the_contract_of_a_suggestion(say: Callable[..., Told]) -> None:
    told = data(say("coil-burns", "--valve", "ac,double-solenoid", "--json"))
    assert told["ok"] is True
    assert {"id", "cautions", "how", "why", "outcomes"} <= set(told["next"])
    assert sum(one["probability"] for one in told["next"]["outcomes"]) == pytest.approx(1.0, rel=1e-9)
    assert all(0.0 < row["probability"] <= 1.0 for row in told["belief"])


def test_an_answer_moves_the_belief_and_is_not_asked_again(say: Callable[..., Told]) -> None:
    first = data(say("coil-hums", "--json"))
    check, outcome = first["next"]["id"], first["next"]["outcomes"][0]["id"]
    after = data(say("coil-hums", "--found", f"{check}={outcome}", "--json"))
    assert after["belief"] != first["belief"]
    assert after.get("next", {}).get("id") != check


def test_a_failed_repair_is_struck_out_and_asked_on(say: Callable[..., Told]) -> None:
    told = data(say("external-leak", "--json"))
    job = told["repairs"][0]["id"]
    after = data(say("external-leak", "--not-cured", job, "--json"))
    assert job not in [repair["id"] for repair in after.get("repairs", ())]


def test_after_the_cure_the_killer_is_asked_for(say: Callable[..., Told]) -> None:
    """A job does not end on a victim: the AC armature that did not seat has killers in the chains."""
    victim = "armature-not-seating"
    killers = {chain.killer for chain in knowledge().chains if chain.victim == victim}
    group = knowledge().causes[victim].repair_group or victim
    told = data(say("coil-burns", "--valve", "ac", "--cured", f"{group}={victim}", "--json"))
    assert told["kind"] in ("ask-killer", "closed")
    assert set(told["killers"]["possible"]) <= killers
    assert told["killers"]["possible"]
    closed = data(say("coil-burns", "--valve", "ac", "--cured", f"{group}={victim}", "--killer", "unknown", "--json"))
    assert closed["kind"] == "closed"


def test_the_bench_without_its_machine_asks_nothing_at_the_machine(say: Callable[..., Told]) -> None:
    for symptom in ("dead-on-both-sides", "actuator-drifts", "bench-ok-machine-not"):
        told = data(say(symptom, "--bench", "--json"))
        if "next" in told:
            assert told["next"]["place"] != "on-machine", symptom


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("coil-bruns",), "coil-burns"),
        (("coil-burns", "--found", "listen-clik=hum"), "listen-click"),
        (("coil-burns", "--found", "listen-click=humm"), "hum"),
        (("coil-burns", "--found", "listen-click"), "check=outcome"),
        (("coil-burns", "--valve", "acdc"), "profile"),
        (("coil-burns", "--not-cured", "paint-it"), "repair"),
        (("coil-burns", "--counts", "nowhere.toml"), "a file that is there"),
        (("--cause", "coil-opn"), "coil-open"),
        (("--bench",), "a complaint"),
    ],
)
def test_what_is_not_known_names_the_nearest(say: Callable[..., Told], arguments: tuple[str, ...], says: str) -> None:
    code, out, err = say(*arguments)
    assert code == 2
    assert out == ""
    assert says in err
    assert "Traceback" not in err
    code, out, _ = say(*arguments, "--json")
    assert code == 2
    assert json.loads(out)["ok"] is False


def test_two_wrong_steps_are_told_together(say: Callable[..., Told]) -> None:
    told = data(say("coil-burns", "--found", "listen-clik=hum", "--found", "listen-click=humm", "--json"))
    assert [error["where"] for error in told["errors"]] == ["step 1", "step 2"]


def test_the_tree_ends_everywhere_in_repairs_within_seven_questions(say: Callable[..., Told]) -> None:
    def depth(node: dict[str, Any]) -> int:
        if "check" not in node:
            assert node["repairs"]
            return 0
        return 1 + max(depth(branch) for branch in node["outcomes"].values())

    assert depth(data(say("fuse-blows", "--tree", "--json"))["tree"]) <= 7
    assert "repair:" in say("fuse-blows", "--tree")[1]


def test_a_cause_is_explained_with_its_caution_before_the_remedy(say: Callable[..., Told]) -> None:
    _, out, _ = say("--cause", "coil-open")
    assert out.index("! ") < out.index("Remedy")
    assert "common practice, no source" in " ".join(out.split())


def test_the_shops_counts_lift_a_cause(say: Callable[..., Told], tmp_path: Path) -> None:
    """300 cases of its own against the file's weight of 30: the cause leads."""
    counts = tmp_path / "counts.toml"
    counts.write_text("[coil-burns]\nover-voltage = 300\n", encoding="utf-8")
    told = data(say("coil-burns", "--counts", str(counts), "--json"))
    assert told["belief"][0]["id"] == "over-voltage"


def test_asked_in_a_terminal(say: Callable[..., Told], monkeypatch: pytest.MonkeyPatch) -> None:
    """Yes to every gate, the first answer to every check, cured at the first repair: it ends and says how."""
    monkeypatch.setattr("builtins.input", lambda prompt: "yes" if "done?" in prompt or "cured?" in prompt else "1")
    code, out, _ = say("external-leak", "--ask")
    assert code == 0
    assert "is none of them" not in out
    assert "On the machine" in out or "cured" in out.lower()


def test_the_path_goes_into_the_job_file_and_the_report(say: Callable[..., Told], tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text('id = "7"\n\n[oil]\nviscosity_40 = "46 mm²/s"\n', encoding="utf-8")
    first = data(say("coil-hums", "--json"))["next"]
    step = f"{first['id']}={first['outcomes'][0]['id']}"
    for _ in range(2):  # twice: the second replaces the first
        assert say("coil-hums", "--found", step, "--job", str(job))[0] == 0
    text = job.read_text(encoding="utf-8")
    assert text.count("[finder]") == 1
    assert 'viscosity_40 = "46 mm²/s"' in text
    path = work_job(job)["finder"]
    assert path["symptom"] == knowledge().symptoms["coil-hums"].title
    assert path["steps"] == [f"{first['title']}: {first['outcomes'][0]['title']}"]


def test_a_job_file_that_cannot_be_read_is_left_alone(say: Callable[..., Told], tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text("id = ", encoding="utf-8")
    assert say("coil-hums", "--job", str(job))[0] == 2
    assert job.read_text(encoding="utf-8") == "id = "
