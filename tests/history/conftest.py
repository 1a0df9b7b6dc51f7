"""A folder of jobs, old enough for the index, and the command line over it."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.history.making import make
from valvecalc.cli import main

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs `valvecalc history`: exit code, stdout, stderr."""

    def run(*arguments: Any) -> tuple[int, str, str]:
        code = main(["history", *map(str, arguments)])
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert "valvecalc itself" not in out + err, "the last net was needed"
        return code, out, err

    return run


@pytest.fixture
def trusting(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the index trust files that were written this moment; what it waits for is tested apart."""
    monkeypatch.setattr("valvecalc.history.index.YOUNG", 0)


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """Sixty invented jobs."""
    folder = tmp_path / "jobs"
    make(folder, 60)
    return folder


def write(folder: Path, name: str, text: str) -> Path:
    """One file of a folder."""
    path = folder / name
    os.makedirs(path.parent, exist_ok=True)
    path.write_text(text, "utf-8")
    return path
