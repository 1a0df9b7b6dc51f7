"""Killed at any moment, disk full, two writers at once: what stands in a place is whole, old or new."""

import errno
import json
import os
import random
import signal
import sys
import time
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from valvecalc.cli import main
from valvecalc.writing import STALE, write_together, write_whole

ROUNDS = 200
forking = pytest.mark.skipif(not hasattr(os, "fork"), reason="a system that cannot fork a process")

JOB = 'schema = 1\nid = "W-1"\ntitle = "वाल्व 弁 صمام"\n' + "".join(f'[[part]]\nname = "p{n}"\n' for n in range(400))


def contents(number: int) -> dict[str, bytes]:
    """A report of three files that tell their number, each of another length."""
    return {f"R.{end}": (f"{number} " * (3000 + 17 * (number % 9))).encode() for end in ("html", "json", "txt")}


def number_of(content: bytes) -> int:
    """The number of a file; one that is not whole fails."""
    number = int(content.split(b" ", 1)[0])
    assert content in contents(number).values(), "half-written"
    return number


def child(work: Callable[[int], None], first: int = 1) -> tuple[int, int]:
    """A process that works one number after the other and tells each that is done: (process, pipe to read)."""
    read, write = os.pipe()
    process = os.fork()
    if process:
        os.close(write)
        return process, read
    try:  # from here on in the child
        for number in range(first, 10**6):
            work(number)
            os.write(write, b"%d\n" % number)
    finally:
        os._exit(1)


def killed(process: int, pipe: int) -> int:
    """Kill it where it stands; the last number that it had done, 0 for none."""
    os.kill(process, signal.SIGKILL)
    os.waitpid(process, 0)
    done = b""
    while part := os.read(pipe, 65536):
        done += part
    os.close(pipe)
    return int(done.split()[-1]) if done else 0


def number_in(job: Path) -> int:
    """The number that the finder left in a job file; all else in it must be there."""
    told = tomllib.loads(job.read_text("utf-8"))
    assert len(told["part"]) == 400 and told["title"] == "वाल्व 弁 صمام"
    return int(told.get("finder", {}).get("situation", "number 0").split()[1])


@forking
def test_killed_while_writing_two_hundred_rounds_nothing_is_lost(tmp_path: Path) -> None:
    """Report files and the job file; what was once told as done stays, and nothing is ever half there."""
    from valvecalc.diagnosis import console

    job, dice, caught, last = tmp_path / "job.toml", random.Random(8), 0, 0
    job.write_text(JOB, "utf-8")
    model = console.knowledge()
    state: dict[str, Any] = {"symptom": "coil-hums", "steps": []}
    case = console.replay(model, state)
    advice = console.advise(case)

    def work(number: int) -> None:
        write_together(tmp_path, contents(number))
        console.write_path(job, model, {**state, "situation": f"number {number}"}, case, advice)

    write_together(tmp_path, contents(0))
    for _ in range(ROUNDS):
        process, pipe = child(work, last + 1)
        time.sleep(dice.random() * 0.006)
        done = last = max(killed(process, pipe), last)
        numbers = [number_of((tmp_path / name).read_bytes()) for name in contents(0)]
        assert all(done <= number <= done + 1 for number in numbers), "what was done is there, or the next"
        assert done <= number_in(job) <= done + 1
        left = [path for path in tmp_path.iterdir() if path.suffix == ".part"]
        caught += bool(left)
        for path in left:
            path.unlink()
    assert caught > 10, "some were killed in the middle of writing"


@forking
def test_two_writers_at_once(tmp_path: Path) -> None:
    """Each reads and writes the same files; a third never sees half of one or one that is not there."""
    write_together(tmp_path, contents(0))
    writers = [child(lambda number: void(write_together(tmp_path, contents(number))), first) for first in (1, 500_000)]
    seen = set()
    end = time.monotonic() + 1.0
    while time.monotonic() < end:
        seen |= {number_of((tmp_path / name).read_bytes()) for name in contents(0)}
    done = [killed(*one) for one in writers]
    assert all(done), "both wrote"
    assert any(number >= 500_000 for number in seen) and any(0 < number < 500_000 for number in seen)


def void(_: object) -> None:
    """For a callable that answers nothing."""


@pytest.fixture
def full(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A disk that takes the bytes and then says that it is full."""

    def refuse(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", refuse)
    yield


@pytest.mark.usefixtures("full")
@pytest.mark.parametrize("as_json", [False, True])
def test_a_full_disk_leaves_the_old_file_and_says_what_to_do(
    as_json: bool, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.toml"
    job.write_text(JOB, "utf-8")
    (tmp_path / "job-report").mkdir()
    (tmp_path / "job-report" / "W-1.html").write_text("old", "utf-8")
    more = ["--json"] if as_json else []
    for command in (
        ["diagnose", "coil-hums", "--job", str(job)],
        ["report", str(job)],
        ["report", str(job), "--estimate"],
    ):
        assert main([*command, *more]) == 2
        out, err = capsys.readouterr()
        told = json.loads(out)["errors"][0] if as_json else {}
        words = " ".join(told.values()) if as_json else err
        for word in ("No space left", "what stood there is as it was", "Make room", "Traceback"):
            assert (word in words) is (word != "Traceback"), (command, words)
    assert job.read_text("utf-8") == JOB
    assert [path.name for path in (tmp_path / "job-report").iterdir()] == ["W-1.html"]
    assert (tmp_path / "job-report" / "W-1.html").read_text("utf-8") == "old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job-report", "job.toml"]


@pytest.mark.skipif(sys.platform == "win32", reason="a system without limits on the size of a file")
@forking
def test_a_system_that_takes_no_more_bytes(tmp_path: Path) -> None:
    """Not patched: the system itself refuses to let a file grow beyond a limit."""
    import resource

    path = tmp_path / "job.toml"
    path.write_text(JOB, "utf-8")
    if not (process := os.fork()):
        try:
            resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
            write_whole(path, JOB.encode() * 2)
        except OSError as fault:
            os._exit(7 if fault.filename == str(path) else 8)
        finally:
            os._exit(9)
    assert os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]) == 7
    assert path.read_text("utf-8") == JOB
    assert [one.name for one in tmp_path.iterdir()] == ["job.toml"]


def test_none_is_in_place_before_all_are_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_together(tmp_path, contents(1))
    real, calls = os.fsync, iter(range(9))
    monkeypatch.setattr(os, "fsync", lambda file: real(file) if next(calls) < 2 else real(999_999))
    with pytest.raises(OSError, match=r"R\.txt"):
        write_together(tmp_path, contents(2))
    assert {number_of(path.read_bytes()) for path in tmp_path.iterdir()} == {1}


@pytest.mark.skipif(sys.platform == "win32", reason="links and rights of another kind")
def test_a_link_stays_a_link_and_rights_stay(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    real.write_text("old", "utf-8")
    real.chmod(0o600)
    link.symlink_to(real)
    write_whole(link, b"new")
    assert link.is_symlink() and real.read_bytes() == b"new"
    assert real.stat().st_mode & 0o777 == 0o600


def test_what_a_killed_writer_left_is_swept_up_and_a_young_part_is_not(tmp_path: Path) -> None:
    old, young, other = (tmp_path / name for name in (".a.toml.0f.part", ".a.toml.1f.part", ".b.toml.0f.part"))
    for part in (old, young, other):
        part.write_bytes(b"")
    for part in (old, other):
        os.utime(part, (time.time() - STALE - 60,) * 2)
    write_whole(tmp_path / "a.toml", b"new")
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted((young.name, other.name, "a.toml"))
