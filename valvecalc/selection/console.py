"""`valvecalc size`: reads duty and stock, judges with a bar past a second, tells it as text or as plain data."""

import sys
from collections.abc import Mapping
from pathlib import Path
from textwrap import wrap
from time import monotonic
from typing import Any

from valvecalc.errors import InputError, Trouble
from valvecalc.facts import load_toml
from valvecalc.progress import bar
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, read_duty
from valvecalc.selection.ranking import flips, rank
from valvecalc.selection.stock import read_stock
from valvecalc.selection.tell import told, told_request

WIDTH = 80
MARKS = {"accept": "[ fits ]", "ask": "[ ask  ]", "reject": "[ no   ]"}
#: The leaders are told rule by rule, the others by what they miss; a text ends somewhere, --json tells all.
IN_FULL = 3
MOST = 40


def size(
    duty_file: str, stock_file: str | None, change: str | None, most: int | None = None, system: str = "metric"
) -> tuple[dict[str, Any], bool]:
    """(plain data, answered) of one call. The faults of the list stand on stderr, its good rows are judged."""
    duty = read_duty(Path(duty_file))
    asked = demand(duty)
    after = None
    if change is not None:
        entry, equals, text = change.partition("=")
        if not equals:
            need = "ENTRY='value unit'"
            raise InputError(Trouble("--if", change, need, "For example --if pump.flow='60 L/min'."))
        after = demand(changed(duty, entry.strip(), text.strip()))
    if stock_file is None:
        page = told_request(after or asked, system)
        return page, bool(page["answered"])
    path = Path(stock_file)
    began = monotonic()
    reading = bar("reading", began)
    valves, problems = read_stock(path, reading)
    reading(len(valves), len(valves))
    for problem in problems:
        print(problem.trouble(path.name), file=sys.stderr)
    judging = bar("judging", began)
    ranked = rank(valves, after or asked, judging)
    judging(len(valves), len(valves))
    turned = flips(valves, asked, after) if after is not None else []
    data = told(after or asked, ranked, problems, turned, most, system)
    return data, any(one.verdict == "accept" for one in ranked)


def _fit(text: str, first: str = "", rest: str = "") -> list[str]:
    return wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest)


def _cautions(title: str, texts: list[str]) -> list[str]:
    if not texts:
        return []
    return [f"! {title}", *(line for text in texts for line in _fit(text, "! ", "! ")), ""]


def size_text(data: Mapping[str, Any]) -> str:
    """The result for a terminal: cautions, the answer, the leaders rule by rule, the others by their misses."""
    lines = _cautions("BEFORE ANY VALVE IS CHANGED", data["cautions"])
    lines += [*_fit(" · ".join(filter(None, (data["title"], data["machine"])))), *_fit(data["headline"]), ""]
    lines += [line for note in data["notes"] for line in (*_fit(note), "")]
    for place, row in enumerate(data["candidates"]):
        lines += _candidate(row, in_full=place < IN_FULL and row["verdict"] != "reject")
    more = data["judged"] - len(data["candidates"])
    if more:
        lines += [*_fit(f"{more} more do no better; --json tells all."), ""]
    if data["find_out"]:
        lines += ["To be found out about the machine:"]
        lines += [line for row in data["find_out"] for line in _fit(row["what"], "  - ", "    ")] + [""]
    turned = [flip for flip in data["flips"] if flip["before"] != flip["after"]]
    if data["flips"]:
        more = len(data["flips"]) - len(turned)
        lines += [f"What the changed entry turns ({more} more change in single rules only):"]
        for flip in turned:
            lines += _fit(f"{flip['id']}: {_verdict(flip['before'])}, now {_verdict(flip['after'])}", "  ", "    ")
            for rule in flip["rules"]:
                lines += _fit(rule["sentence"], "    - ", "      ")
        lines += [""]
    return "\n".join(lines).rstrip()


def _verdict(word: str) -> str:
    return {"accept": "fits", "ask": "asks", "reject": "does not fit"}[word]


def _candidate(row: Mapping[str, Any], in_full: bool) -> list[str]:
    about = [row["id"], f"shelf {row['shelf']}" if row["shelf"] else "", row["interface"] or "mounting not known"]
    if row["margin"] is not None and row["verdict"] != "reject":
        about.append(f"smallest margin {100 * row['margin']:.0f} %")
    if row["loss"] is not None and row["verdict"] != "reject":
        about.append(f"costs the pump {row['loss']:.1f} {row['loss_unit']}")
    if row["price"] is not None and row["verdict"] != "reject":
        about.append(f"price {row['price']:g}")
    lines = _fit(f"{MARKS[row['verdict']]} " + ", ".join(filter(None, about)), "", "         ")
    loud = [rule for rule in row["rules"] if rule["verdict"] == "reject" and rule["sentence"].startswith("REFUSED")]
    if loud:
        lines += [line for text in row["cautions"][:1] for line in _fit(text, "  ! ", "  ! ")]
    shown = row["rules"] if in_full else [rule for rule in row["rules"] if rule["verdict"] == row["verdict"]]
    if row["verdict"] == "accept" and not in_full:
        shown = []
    mark = {"accept": "  + ", "ask": "  ? ", "reject": "  - "}
    for rule in shown:
        lines += _fit(rule["sentence"], mark[rule["verdict"]], "    ")
    return [*lines, ""]


def request_text(page: Mapping[str, Any]) -> str:
    """The request on one page; no maker in it."""
    words = load_toml("words/size.toml")["request"]
    lines = [*_fit(words["hold"], "! ", "! "), "", *_fit(words["title"]), "=" * len(words["title"])]
    lines += [*_fit(page["machine"] or page["title"]), ""]
    for row in page["request"]:
        lines += _fit(f"{row['what']}: {row['figure']}", "  ", "    ")
    if page["find_out"]:
        lines += ["", *_fit(words["open"])]
        lines += [line for row in page["find_out"] for line in _fit(row["what"], "  - ", "    ")]
    return "\n".join(lines)


def say(options: Any) -> int:
    """Run the command; 0 something fits (or the request could be made), 1 nothing does."""
    data, answered = size(
        options.duty, options.stock, options.change, None if options.json else MOST, "us" if options.us else "metric"
    )
    if options.json:
        import json

        print(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        print(request_text(data) if "request" in data else size_text(data))
    return 0 if answered else 1
