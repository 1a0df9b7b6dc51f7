"""What lies in the folder: broken, hostile, foreign, none. Named and skipped, never fatal."""

import csv
import io
import json
import os
import re
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.history.conftest import Run, write
from valvecalc.cli import main
from valvecalc.diagnosis.belief import prior
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.facts import parse_toml
from valvecalc.history.entry import entry
from valvecalc.history.index import remember
from valvecalc.history.page import harmless
from valvecalc.job.finder import finder_path

HOSTILE = (
    "=cmd|' /C calc'!A0", "+1+1", "-2+3", "@SUM(A1)", "\t=1", "\r\n=1", "a;=1+1", "a,@x", "＝1",
    "<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "\u202eevil\u202c", "\x1b[31mred",
    "木工場 北", "ورشة الشمال", "मरम्मत", "e\u0301\u0302", "\U0001f469\u200d\U0001f527",
    "{0} {back}", "%s", "&lt;", "]]>", "x" * 5000, "'", "",
)  # fmt: skip
BROKEN = {
    "cut.toml": 'id = "x',
    "junk.toml": "\x00\x01",
    "deep.toml": "a = " + "[" * 9000,
    "twice.toml": 'id = "a"\nid = "b"',
    "number.toml": "id = " + "9" * 5000,
    "empty.toml": "",
    "duty.toml": 'title = "x"\n[old]\nstage = "direct"',
    "stock.toml": '[[valve]]\nname = "x"',
    "other.toml": "[tool.x]\na = 1",
}


def quoted(text: str) -> str:
    """A text as TOML writes it."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


@pytest.fixture
def nasty(tmp_path: Path) -> Path:
    """A job with a hostile text in every field that is told, for each such text."""
    folder = tmp_path / "nasty"
    for place, text in enumerate(HOSTILE):
        q = quoted(text)
        head = "".join(f"{key} = {q}\n" for key in ("id", "title", "customer", "machine", "complaint", "received"))
        rest = f"[finder]\nsymptom = {q}\n[cause]\nkiller = {q}\nroot = {q}\n[decision]\nwhat = {q}\n"
        write(folder, f"{place}.toml", f"{head}{rest}[times]\nintake = {q}\n{q} = 1\n")
    for place, name in enumerate(("=1+1", "<b>x</b>", "木", "a\u202eb", "two words", "'q\"")):
        if sys.platform != "win32" or name.isalnum():
            write(folder, f"{name}.toml", f'title = "{place}"\n')
    return folder


def test_broken_files_are_named_and_skipped(run: Run, jobs: Path) -> None:
    for name, text in BROKEN.items():
        write(jobs, name, text)
    (jobs / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    (jobs / "large.toml").write_bytes(b"#" * 4_000_001)
    (jobs / "folder.toml").mkdir()
    write(jobs, "shop.toml", "nonsense")
    write(jobs, ".hidden.toml", "nonsense")
    if hasattr(os, "mkfifo"):
        os.mkfifo(jobs / "pipe.toml")
        (jobs / "gone.toml").symlink_to("nowhere")
        (jobs / "loop").symlink_to(jobs)
    code, out, err = run(jobs)
    assert code == 0
    assert "Jobs: 60," in out
    told = {row["file"]: row["why"] for row in json.loads(run(jobs, "--json")[1])["skipped"]}
    more = {"pipe.toml", "gone.toml"} if hasattr(os, "mkfifo") else set()
    assert set(told) == {*BROKEN, "bytes.toml", "large.toml", *more}
    assert all(told.values())
    assert told["duty.toml"] == told["stock.toml"] == told["other.toml"] == "no job file"
    assert f"skipped cut.toml: {told['cut.toml']}" in err


@pytest.mark.parametrize("name", ["nowhere", "", "a\0b", "x" * 5000, "one.toml"])
def test_no_folder_is_told(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, "one.toml", 'id = "x"')
    if name == "":
        assert main(["history"]) == 2  # no folder at all
        return
    code, out, err = run(name)
    assert (code, out) == (2, "")
    assert "a folder of job files" in err
    assert ("valvecalc report one.toml" in err) is (name == "one.toml")
    assert json.loads(run(name, "--json")[1])["ok"] is False


def test_an_empty_folder_is_told(run: Run, tmp_path: Path) -> None:
    code, out, err = run(tmp_path)
    assert (code, out) == (1, "")
    assert "No job in" in err
    told = json.loads(run(tmp_path, "--json", "--to", tmp_path / "out")[1])
    assert (told["jobs"], told["counts"]["come_backs"]["known"]) == ([], 0)
    assert (tmp_path / "out" / "history.html").exists()


@pytest.mark.parametrize(
    ("option", "word", "said"),
    [
        ("--decision", "repar", "repair"),
        ("--outcome", "x", "held"),
        ("--by", "week", "month"),
        ("--sort", "date", "received"),
        ("--since", "yesterday", "2026-05-04"),
        ("--since", "2026-02-30", "a day"),
        ("--since", "٢٠٢٦", "a day"),
        ("--until", "0000", "a day"),
    ],
)
def test_nonsense_is_told(run: Run, jobs: Path, option: str, word: str, said: str) -> None:
    code, out, err = run(jobs, option, word)
    assert (code, out) == (2, "")
    assert option in err and said in err


def test_a_filter_that_fits_nothing(run: Run, jobs: Path) -> None:
    code, out, err = run(jobs, "--customer", "nobody", "--since", "2022", "--until", "2022-06")
    assert (code, out) == (1, "")
    assert "No job fits, of 60: customer nobody; since 2022-01-01; until 2022-06-30." in err
    assert run(jobs, "--since", "2023", "--until", "2022")[0] == 2


def test_a_job_that_stands_in_two_files_is_named(run: Run, tmp_path: Path) -> None:
    for name, job in (("a", "LB-1"), ("copy of a", "LB-1"), ("b", "LB-2"), ("c", ""), ("d", "")):
        (tmp_path / f"{name}.toml").write_text(f'id = "{job}"\ntitle = "x"\n', "utf-8")
    _, _, err = run(tmp_path)
    assert "job LB-1 is counted 2 times: a.toml, copy of a.toml" in err
    assert "LB-2 is counted" not in err and err.count("is counted") == 1
    assert json.loads(run(tmp_path, "--json")[1])["doubles"] == [{"id": "LB-1", "files": ["a.toml", "copy of a.toml"]}]


def test_list_and_filters_agree(run: Run, jobs: Path) -> None:
    everything = json.loads(run(jobs, "--json")[1])
    days = [row["received"] for row in everything["jobs"]]
    assert days == sorted(days, reverse=True)
    repaired = json.loads(run(jobs, "--json", "--decision", "repair", "--since", "2023")[1])
    expected = [row for row in everything["jobs"] if row["decision"] == "repair" and row["received"] >= "2023"]
    assert repaired["jobs"] == expected and repaired["counts"]["jobs"] == len(expected) > 0
    code, out, _ = run(jobs)
    assert code == 0 and "40 more" in out
    assert "more:" not in run(jobs, "--all")[1]


def test_hostile_texts_on_a_terminal(run: Run, nasty: Path) -> None:
    code, out, err = run(nasty, "--all")
    assert code == 0
    assert not [sign for sign in out + err if sign != "\n" and (ord(sign) < 32 or 0x202A <= ord(sign) <= 0x202E)]
    told = json.loads(run(nasty, "--json")[1])
    assert not told["skipped"]
    assert len(told["jobs"]) == len(list(nasty.rglob("*.toml")))


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.seen: set[str] = set()
        self.attributes: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)
        self.attributes |= {name for name, _ in attrs}


def test_hostile_texts_on_the_page(run: Run, nasty: Path, tmp_path: Path) -> None:
    assert run(nasty, "--to", tmp_path / "out")[0] == 0
    text = (tmp_path / "out" / "history.html").read_text("utf-8")
    tags = _Tags()
    tags.feed(text)
    assert not tags.seen & {"script", "img", "b", "iframe", "link", "a"}
    assert not [name for name in tags.attributes if name.startswith("on") or name in ("src", "href", "style")]
    assert "Content-Security-Policy" in text and "http:" not in text.replace("http://www.w3.org/2000/svg", "")
    assert "&lt;script&gt;" in text and "木工場 北" in text


def test_hostile_texts_in_the_list(run: Run, nasty: Path, tmp_path: Path) -> None:
    run(nasty, "--to", tmp_path / "out")
    data = (tmp_path / "out" / "history.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    text = data.decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    assert len(rows) == len(list(nasty.rglob("*.toml")))
    for divider in ",;\t|":
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=divider):
            assert not [
                cell for cell in row if re.match(r"\s*['\"]?\s*[=+\-@＝＋－＠]", cell) and not cell.startswith("'")
            ]
    assert {"木工場 北", "'=1+1"} <= {row["title"] for row in rows} | {
        row["file"].removesuffix(".toml") for row in rows
    }


@pytest.mark.parametrize("text", ["plain", "a - b", "J-0001", "5-3", "Śliwa, i Syn", "a; b"])
def test_harmless_texts_stay(text: str) -> None:
    assert harmless(text) == text


def test_softly_read() -> None:
    """A field of the wrong kind counts as not written, and its name is told."""
    raw = parse_toml(
        b'id = 0x' + b"f" * 9000 + b'\ntitle = ["x"]\nreceived = 12:00:00\ncause = "worn"\n[decision]\nwhat = "mend"\n'
        b'[dispatch]\nsent = 2026-05-04T10:00:00Z\n[feedback]\ncame_back_on = "2026-06-01"\n'
        b'[times]\nintake = "soon"\nrepair = "-5 min"\nacceptance = "1 h"\nidle = "5 min"\n',
        "x",
    )  # fmt: skip
    found = entry("sub/x.toml", raw)
    assert (found.id, found.sent, found.outcome, found.minutes) == (
        "x",
        "2026-05-04",
        "came-back",
        {"acceptance": 60.0},
    )
    told = {"id", "title", "received", "cause", "decision.what", "times.intake", "times.repair", "times.idle"}
    assert set(found.unread) == told


def test_a_corrected_value_is_the_one_that_counts() -> None:
    raw = parse_toml(b'received = { value = 2026-01-02, earlier = "2026-01-20", why = "slip" }', "x")
    assert entry("x.toml", raw).received == "2026-01-02"


def test_counts_are_what_the_finder_takes_in(run: Run, jobs: Path, tmp_path: Path) -> None:
    file = tmp_path / "counts.toml"
    told = json.loads(run(jobs, "--json", "--counts", file)[1])
    expected: dict[str, dict[str, int]] = {}
    for job in told["jobs"]:
        if not job["open"] and job["outcome"] != "came-back":
            row = expected.setdefault(job["symptom"], {})
            row[job["killer"]] = row.get(job["killer"], 0) + 1
    assert parse_toml(file.read_bytes(), "counts") == expected == told["cases"]["cases"]
    assert sum(told["cases"]["left_out"].values()) + sum(sum(row.values()) for row in expected.values()) == 60
    symptom = max(expected, key=lambda name: sum(expected[name].values()))
    answer = json.loads(_diagnose(run, symptom, "--counts", str(file), "--json"))
    cases = sum(expected[symptom].values())
    assert answer["own_cases"] == {"cases": cases, "file_cases": 30}
    model = knowledge()
    weights = prior(model, symptom, frozenset(model.rules.tags), expected[symptom])
    first = answer["belief"][0]
    assert first["probability"] == pytest.approx(weights[first["id"]])
    assert f"{cases} own cases" in _diagnose(run, symptom, "--counts", str(file))
    assert f"{cases} own cases" in _diagnose(run, symptom, "--counts", str(file), "--tree")


def _diagnose(run: Run, *arguments: str) -> str:
    from contextlib import redirect_stdout

    out = io.StringIO()
    with redirect_stdout(out):
        assert main(["diagnose", *arguments]) == 0
    return out.getvalue()


def test_counts_never_overwrite_another_file(run: Run, jobs: Path, tmp_path: Path) -> None:
    other = write(tmp_path, "job.toml", 'id = "mine"')
    code, _, err = run(jobs, "--counts", other)
    assert code == 2 and "something else" in err
    assert other.read_text("utf-8") == 'id = "mine"'
    inside = jobs / "counts.toml"
    assert run(jobs, "--counts", inside)[0] == 0
    assert run(jobs, "--counts", inside)[0] == 0
    assert not remember(jobs).skipped
    none = tmp_path / "none.toml"
    assert "No case can be counted" in run(jobs, "--open", "--counts", none)[2]
    assert not none.exists()


def test_the_bar_keeps_off_what_is_no_terminal(run: Run, jobs: Path) -> None:
    assert run(jobs)[2] == ""


def test_a_path_that_took_own_cases_in_says_so(run: Run, tmp_path: Path) -> None:
    """The [finder] table carries their number into the report; texts of the job stay as they are."""
    job = write(tmp_path, "job.toml", 'title = "a\u2028b\u0085c"\n')
    counts = write(tmp_path, "counts.toml", "[coil-burns]\ncoil-open = 12\nwrong-spring = 3\n")
    _diagnose(run, "coil-burns", "--counts", str(counts), "--job", str(job))
    raw = parse_toml(job.read_bytes(), "job.toml")
    assert (raw["title"], raw["finder"]["own_cases"]) == ("a\u2028b\u0085c", "15")
    assert "own cases (15)" in finder_path(raw["finder"])["basis"]
    _diagnose(run, "coil-burns", "--job", str(job))
    again = parse_toml(job.read_bytes(), "job.toml")["finder"]
    assert "own_cases" not in again and "not on counted cases" in finder_path(again)["basis"]


def test_places_that_cannot_be_written(run: Run, jobs: Path, tmp_path: Path) -> None:
    write(tmp_path, "file", "")
    for option, place in (("--to", "file"), ("--counts", "nowhere/counts.toml"), ("--counts", "jobs")):
        code, _, err = run(jobs, option, tmp_path / place)
        assert code == 2 and err
