"""The command line in this process: exit code, stdout, stderr."""

from collections.abc import Callable
from typing import NamedTuple

import pytest

from valvecalc.cli import main


class Told(NamedTuple):
    """What a command answered."""

    code: int
    out: str
    err: str


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Callable[..., Told]:
    """Runs one command."""

    def run(*arguments: str) -> Told:
        code = main(arguments)
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert "valvecalc itself" not in out + err, "the last net was needed"
        return Told(code, out, err)

    return run
