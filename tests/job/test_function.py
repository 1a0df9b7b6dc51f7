"""What each port does: read, completed by the operator, drawn in the report; what cannot be read is told at once."""

from pathlib import Path

import pytest

from valvecalc.errors import InputError
from valvecalc.job.publish import work_job


def work(tmp_path: Path, text: str) -> dict[str, object]:
    (tmp_path / "job.toml").write_text(f'id = "7"\n[function]\n{text}', "utf-8")
    found: dict[str, object] = work_job(tmp_path / "job.toml")["symbol"]
    return found


def test_positions_are_told_in_one_spelling(tmp_path: Path) -> None:
    told = work(tmp_path, 'operator = "spring-offset"\nrest = "b-t, p-a"\non_b = "A-T,P-B"\n')
    function = {"rest": "P-A, B-T", "on_a": "", "on_b": "P-B, A-T", "crossing_a": None, "crossing_b": None}
    assert told == {"function": function, "operator": "spring-offset", "stage": None}


def test_every_wrong_position_is_told_together(tmp_path: Path) -> None:
    with pytest.raises(InputError) as fault:
        work(tmp_path, 'rest = "P-X"\non_a = "P-A, A-T"\non_b = "shut"\n')
    assert [trouble.entry for trouble in fault.value.troubles] == ["function.rest", "function.on_a"]


def test_nothing_said_is_nothing_drawn(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text('id = "7"\n', "utf-8")
    assert work_job(tmp_path / "job.toml")["symbol"] == {}
