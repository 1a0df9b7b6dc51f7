"""The index is only a cache: with it, without it, cut off or foreign, the answer is the same."""

import json
import os
import signal
import subprocess
import sys
import time
from hashlib import sha256
from pathlib import Path

import pytest

from tests.history.making import make
from valvecalc.history import index
from valvecalc.history.index import INDEX, Memory, remember
from valvecalc.writing import STALE

trusting = pytest.mark.usefixtures("trusting")


def same(folder: Path) -> Memory:
    """What the folder tells with the index, held against what it tells without."""
    told, plain = remember(folder), remember(folder, use_index=False)
    assert (told.jobs, told.skipped) == (plain.jobs, plain.skipped)
    return told


@trusting
def test_a_second_reading_reads_nothing(jobs: Path) -> None:
    assert same(jobs).read == 60
    assert same(jobs).read == 0
    (jobs / INDEX).unlink()
    assert same(jobs).read == 60


@trusting
def test_changed_added_and_removed_files(jobs: Path) -> None:
    same(jobs)
    first, second, third = sorted(jobs.rglob("*.toml"))[:3]
    first.write_text(first.read_text("utf-8").replace("Press", "Pross"), "utf-8")  # as long as before
    second.unlink()
    (jobs / "new.toml").write_text('id = "N"\n', "utf-8")
    os.rename(third, jobs / "moved.toml")
    told = same(jobs)
    assert told.read == 3
    assert "Pross" in next(job.title for job in told.jobs if job.file.endswith(first.name))
    assert {"new.toml", "moved.toml"} < {job.file for job in told.jobs}
    assert len(told.jobs) == 60


@trusting
def test_a_change_that_hides_its_time_is_seen(jobs: Path) -> None:
    """Same size, and the time set back: the time of the entry tells it (where the system keeps one)."""
    path = next(jobs.rglob("*.toml"))
    same(jobs)
    old = path.stat()
    path.write_text(path.read_text("utf-8").replace("Press", "Pross"), "utf-8")
    os.utime(path, ns=(old.st_atime_ns, old.st_mtime_ns))
    if path.stat().st_ctime_ns != old.st_ctime_ns:
        assert same(jobs).read == 1


def test_a_file_of_this_moment_is_not_trusted(jobs: Path) -> None:
    """It may change again within one tick of the disk's clock."""
    path = next(jobs.rglob("*.toml"))
    same(jobs)
    assert json.loads((jobs / INDEX).read_bytes().split(b"\n", 2)[2])[path.relative_to(jobs).as_posix()][0] is None
    assert same(jobs).read == 60


@trusting
def test_a_damaged_index_is_written_anew(jobs: Path) -> None:
    same(jobs)
    whole = (jobs / INDEX).read_bytes()
    middle = len(whole) // 2
    flipped = whole[:middle] + bytes([whole[middle] ^ 1]) + whole[middle + 1 :]
    for damaged in (
        b"",
        whole[:10],
        whole[:middle],
        whole[:-1],
        flipped,
        whole + b" ",
        b"\xff\xfe" * 40,
        b"\n\n",
        b"{}",
    ):
        (jobs / INDEX).write_bytes(damaged)
        assert same(jobs).read == 60
        assert (jobs / INDEX).read_bytes() == whole


@trusting
def test_a_foreign_index_with_a_right_digest_is_ignored(jobs: Path) -> None:
    same(jobs)
    head, _, body = (jobs / INDEX).read_bytes().split(b"\n", 2)
    rows = json.loads(body)
    name = next(iter(rows))
    stamp, job, why = rows[name]
    wrong = [
        [stamp, job[:-1], why], [stamp, job, None], ["x", job, why], [stamp[:2], job, why], [stamp, [1, *job[1:]], why],
        [stamp, {"a": 1}, why], [stamp, [*job[:-2], {"intake": "5"}, []], why], 5, [], None,
    ]  # fmt: skip
    bodies = [json.dumps(rows | {name: row}).encode() for row in wrong] + [b"[]", b"3", b"[" * 100_000, b'{"a":']
    for made in bodies:
        (jobs / INDEX).write_bytes(head + b"\n" + sha256(made).hexdigest().encode() + b"\n" + made)
        assert same(jobs).read == 60, made[:80]
    other = head.replace(b"index", b"list")
    (jobs / INDEX).write_bytes(other + b"\n" + sha256(body).hexdigest().encode() + b"\n" + body)
    assert same(jobs).read == 60


@trusting
def test_a_folder_that_takes_no_index_only_costs_time(jobs: Path) -> None:
    (jobs / INDEX).mkdir()
    assert same(jobs).read == 60
    assert same(jobs).read == 60
    assert [path.name for path in jobs.iterdir() if path.name.startswith(".")] == [INDEX]


WRITER = """
import sys
from pathlib import Path
from valvecalc.history import index
index.YOUNG = 0
number = 0
while True:
    number += 1
    Path(sys.argv[1], f"w{sys.argv[2]}.toml").write_text(f'id = "{number}"', "utf-8")
    index.remember(Path(sys.argv[1]))
    if number == 1:
        print("ready", flush=True)
"""


def writer(folder: Path, name: str) -> subprocess.Popen[str]:
    """A process that changes a job and writes the index, again and again."""
    made = subprocess.Popen([sys.executable, "-c", WRITER, str(folder), name], stdout=subprocess.PIPE, text=True)
    assert made.stdout is not None
    assert made.stdout.readline() == "ready\n"
    return made


def stop(process: subprocess.Popen[str]) -> None:
    """Kill it where it stands."""
    process.send_signal(signal.SIGKILL if hasattr(signal, "SIGKILL") else signal.SIGTERM)
    process.communicate()


CUT = """
import os, sys
from pathlib import Path
from valvecalc.history import index

class Cut:
    def __init__(self, file):
        self.file = file
    def __enter__(self):
        return self
    def __exit__(self, *told):
        self.file.close()
    def write(self, content):
        self.file.write(content[: int(float(sys.argv[2]) * len(content))])
        self.file.flush()
        os._exit(9)  # as a kill: nothing after it runs

real = Path.open
Path.open = lambda path, mode="r", *more: Cut(real(path, mode)) if mode == "xb" else real(path, mode, *more)
index.YOUNG = 0
index.remember(Path(sys.argv[1]))
"""


@trusting
@pytest.mark.parametrize("there", [False, True])
def test_killed_in_the_middle_of_writing(jobs: Path, there: bool) -> None:
    """Cut off at any place, the first byte and the last among them: an earlier index stays as it was."""
    if there:
        same(jobs)
    for place in range(11):
        (jobs / "w.toml").write_text(f'id = "{place}"', "utf-8")
        before = (jobs / INDEX).read_bytes() if there else b""
        done = subprocess.run([sys.executable, "-c", CUT, str(jobs), str(place / 10)], check=False)
        assert done.returncode == 9, "it was cut off"
        assert len(list(jobs.glob(f"{INDEX}.*.part"))) == place + 1
        assert (jobs / INDEX).exists() is there
        assert not there or (jobs / INDEX).read_bytes() == before
        assert {job.id for job in remember(jobs, use_index=False).jobs} >= {str(place)}
        if there:
            same(jobs)
    old = time.time() - STALE - 60
    for part in jobs.glob(f"{INDEX}.*.part"):
        os.utime(part, (old, old))
    (jobs / "last.toml").write_text('id = "L"', "utf-8")
    assert len(same(jobs).jobs) == 62
    assert not list(jobs.glob(f"{INDEX}.*.part")), "what a killed writer left is swept up"


@trusting
def test_killed_at_any_moment(jobs: Path) -> None:
    """Whatever stands there is whole, and the answer is right."""
    same(jobs)
    seen = set()
    for place in range(12):
        process = writer(jobs, "k")
        time.sleep(0.003 * place)
        stop(process)
        (jobs / "wk.toml").write_text(f'id = "after {place}"', "utf-8")  # the kill may have cut the job itself
        seen.add((jobs / INDEX).read_bytes())
        assert len(index._load(jobs)) >= 60, "an index in its place is whole"
        same(jobs)
    assert len(seen) > 1, "the killed processes did write"


@trusting
def test_two_writers_at_once(jobs: Path) -> None:
    one, two = writer(jobs, "1"), writer(jobs, "2")
    try:
        for _ in range(40):
            if (jobs / INDEX).exists():
                assert len(index._load(jobs)) >= 60, "never half of one and half of the other"
            assert len(remember(jobs).jobs) >= 60
    finally:
        stop(one)
        stop(two)
    for name in ("w1", "w2"):
        (jobs / f"{name}.toml").write_text(f'id = "{name}"', "utf-8")
    assert len(same(jobs).jobs) == 62


@trusting
def test_a_change_while_it_reads_shows_the_next_time(jobs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = next(jobs.rglob("*.toml"))
    parse = index.parse_toml

    def parse_and_change(data: bytes, name: str) -> dict[str, object]:
        if name == path.relative_to(jobs).as_posix():
            path.write_text('id = "changed on the way"', "utf-8")
        return parse(data, name)

    monkeypatch.setattr(index, "parse_toml", parse_and_change)
    remember(jobs)
    monkeypatch.undo()
    monkeypatch.setattr(index, "YOUNG", 0)
    assert "changed on the way" in {job.id for job in same(jobs).jobs}


def test_the_same_folder_made_twice_tells_the_same(tmp_path: Path) -> None:
    make(tmp_path / "a", 5)
    make(tmp_path / "b", 5)
    assert remember(tmp_path / "a").jobs == remember(tmp_path / "b").jobs
