"""What the README shows works as it stands there."""

import re
import shlex
import shutil
from pathlib import Path

import pytest

from valvecalc.cli import main
from valvecalc.demo import JOBS, SIZE
from valvecalc.job.publish import work_job

README = (Path(__file__).parent.parent / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """The fenced blocks of a language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)


def test_the_two_commands_are_there_in_order() -> None:
    set_up, tests = blocks("sh")
    assert "venv" in set_up
    assert set_up.rstrip().endswith("valvecalc demo")
    assert tests.rstrip().endswith("-m pytest -q")


def test_the_python_block_runs() -> None:
    (code,) = blocks("python")
    names: dict[str, object] = {}

    exec(code, names)

    assert names["answer"].value == pytest.approx(97.4 / (1 + 0.00393 * 11), rel=1e-12)  # type: ignore[attr-defined]


def test_the_job_of_five_readings_gives_a_share(tmp_path: Path) -> None:
    """Worked by hand: 1 - (14.0/20.0)²·(25.1/21.6)² = 33.8 % in the weaker of the two states."""
    (text,) = blocks("toml")
    job = tmp_path / "job.toml"
    job.write_text(text, encoding="utf-8")

    told = work_job(job)

    (bench,) = [answer for answer in told["answers"] if answer["id"] == "bench-margin"]
    assert bench["result"]["value"] == pytest.approx(100 * (1 - (14.0 / 20.0) ** 2 * (25.1 / 21.6) ** 2), rel=1e-9)
    assert told["headline"]["verdict"] == "cannot tell"  # neither flow nor a hold was read


@pytest.mark.parametrize("line", re.findall(r"^    valvecalc (.*)$", README, re.MULTILINE))
def test_every_command_answers(
    line: str, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a folder that has what `valvecalc demo` leaves."""
    shutil.copytree(SIZE, tmp_path / ".build" / "demo" / "size")
    shutil.copytree(JOBS, tmp_path / ".build" / "demo" / "jobs")
    monkeypatch.chdir(tmp_path)
    assert main(shlex.split(line)) == 0
    assert capsys.readouterr().out
