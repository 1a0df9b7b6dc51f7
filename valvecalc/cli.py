"""The command line: stdout is the answer, stderr the trouble; 0 answered, 1 read but no answer, 2 cannot be read.

Every command answers in JSON with --json, also when it fails. No traceback reaches a user.
"""

import argparse
import errno
import os
import sys
from collections.abc import Callable, Sequence
from typing import Any, NoReturn

from valvecalc.diagnosis.options import add_diagnose
from valvecalc.errors import DataError, InputError, NoValue, Trouble, nearest
from valvecalc.history.options import add_history
from valvecalc.report.options import add_report
from valvecalc.selection.options import add_size

ANSWERED, NO_ANSWER, UNREADABLE = 0, 1, 2

#: Commands that the plan names and that are not built yet: told, so that nobody looks for a typing error.
LATER = ("exercise",)
#: What a system says of a disk, a quota or a file that takes no more.
FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
BUILT = ("calc", "list", "show", "diagnose", "size", "sheet", "report", "verify", "history", "site", "demo")


class _Help(argparse.HelpFormatter):
    """Help as wide as all our texts: left to ask the terminal, argparse would load archive libraries for it (3 ms)."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=80)


class _Parser(argparse.ArgumentParser):
    """An argument parser whose faults are Troubles like all others. Options are written out: --js is no --json."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings, allow_abbrev=False, formatter_class=_Help)

    def error(self, message: str) -> NoReturn:
        raise InputError(Trouble("command", message, "a command as in the help", f"See: {self.prog} --help"))


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="valvecalc",
        description="Hydraulic valves on the bench: calculations that cite their sources, and reports of bench jobs.",
        epilog="A value is a number with its unit, as in pressure_drop='160 bar' or clearance='5 µm ± 0.5 µm'.",
    )
    parser.add_argument("--version", action="store_true", help="version of the package and of its data")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)

    calc = commands.add_parser("calc", help="work one formula or sheet", description="Work one formula or sheet.")
    calc.add_argument("id", metavar="ID", help="as in valvecalc list")
    calc.add_argument("entries", nargs="*", metavar="name='value unit'")
    calc.add_argument("--in", dest="unit", metavar="UNIT", help="unit of the result")
    calc.add_argument("--solve", metavar="NAME", help="give the result as an entry and leave this one out")
    calc.add_argument("--between", nargs=2, metavar=("A", "B"), help="where to look for it; default: its limits")
    calc.add_argument(
        "--uncertainty", action="append", default=[], metavar="name='value unit'", help="limit of error of an entry"
    )
    calc.add_argument("--cite", action="store_true", help="the answer as text to paste into a report")
    calc.add_argument("--us", action="store_true", help="results in US units")

    listing = commands.add_parser(
        "list", help="formulas, sheets, tables", description="Formulas, sheets, tables: all or those with a word."
    )
    listing.add_argument("word", nargs="?", default="", metavar="WORD")

    show = commands.add_parser("show", help="what a formula or sheet takes, gives and rests on, or a whole table")
    show.add_argument("id", metavar="ID")

    add_report(commands)

    diagnose = commands.add_parser(
        "diagnose",
        help="from a complaint to the next check, the cause and its proof",
        description="Without a complaint: the list of them. Steps count in the order in which they are typed.",
    )
    add_diagnose(diagnose)
    add_size(commands)
    add_history(commands)

    site = commands.add_parser("site", help="build the site to .build/site")
    site.add_argument("--serve", action="store_true", help="and show it on this machine")
    site.add_argument("--stick", action="store_true", help="and as a folder that opens without a server, from a stick")
    site.add_argument("--to", metavar="DIR", help="new or empty folder for the stick; default: .build/stick")
    site.add_argument(
        "--shop", metavar="FILE", help="shop.toml with site, the address that citations and QR codes name"
    )

    demo = commands.add_parser("demo", help="work the demo job, build the site and show both")
    demo.add_argument("--to", metavar="DIR", help="folder for report and site; default: .build/demo")
    demo.add_argument("--no-serve", action="store_true", help="stop after writing")
    for command in (calc, listing, show, diagnose):
        command.add_argument("--json", action="store_true", help="the answer as JSON, also when it fails")
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a console that knows no µ gets a ? and no traceback
    try:
        code = _told(given)
        sys.stdout.flush()
        return code
    except BrokenPipeError:  # the reader has seen enough: `| head`, a pager left
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # else the interpreter complains at its end
        return ANSWERED


def _told(given: list[str]) -> int:
    """Run one command; whatever goes wrong is told, as JSON where that was asked for."""
    try:
        return _run(given)
    except InputError as fault:
        return _fail("--json" in given, fault.troubles, UNREADABLE)
    except NoValue as why:
        do = "Change an entry, or name the ends with --between."
        return _fail("--json" in given, (Trouble("result", str(why), "entries that have a value", do),), NO_ANSWER)
    except DataError as fault:
        need, do = "a sound installation", "Install valvecalc again."
        return _fail("--json" in given, (Trouble("valvecalc's own data", str(fault), need, do),), UNREADABLE)
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return ANSWERED
    except BrokenPipeError:
        raise
    except OSError as fault:
        need, do = "a place that can be read or written", "Check the path and its rights."
        if fault.errno in FULL:
            need, do = "room on the disk", "Make room and run it again."
        name, what = str(fault.filename or "a file"), fault.strerror or str(fault)
        return _fail("--json" in given, (Trouble(name, what, need, do),), UNREADABLE)
    except Exception as fault:  # the last net: whatever was not foreseen is one sentence too
        what = f"{type(fault).__name__}: {fault}"
        do = "Report it with this command and its files; the answer is not to be had until then."
        return _fail(
            "--json" in given, (Trouble("valvecalc itself", what, "a program without this fault", do),), UNREADABLE
        )


def _run(given: list[str]) -> int:
    if given and given[0] in LATER:
        raise InputError(
            Trouble(
                "command",
                given[0],
                "a command that is built",
                f"{given[0]} comes later; until then: {', '.join(BUILT)}.",
            )
        )
    if given and not given[0].startswith("-") and given[0] not in BUILT:
        near = ", ".join(nearest(given[0], (*BUILT, *LATER)) or BUILT)
        raise InputError(
            Trouble("command", given[0], "a command that exists", f"Nearest: {near}. See: valvecalc --help")
        )
    options = _parser().parse_args(given)
    if options.version:
        from valvecalc.version import VERSION, data_version

        print(f"valvecalc {VERSION}, data {data_version()}")
        return ANSWERED
    commands: dict[str, Callable[[Any], int]] = {
        "calc": _calc, "list": _list, "show": _show, "report": _report, "site": _site, "demo": _demo,
        "diagnose": _diagnose, "size": _size, "verify": _verify, "history": _history, "sheet": _sheet,
    }  # fmt: skip
    if options.command is None:
        _parser().print_help()
        return ANSWERED
    return commands[options.command](options)


def _fail(as_json: bool, troubles: Sequence[Trouble], code: int) -> int:
    if as_json:
        _print_json({"schema": 1, "ok": False, "errors": [trouble.as_json() for trouble in troubles]})
    else:
        for trouble in troubles:
            print(trouble, file=sys.stderr)
    return code


def _print_json(data: Any) -> None:
    import json

    print(json.dumps(data, ensure_ascii=False, indent=1))


def _pairs(texts: Sequence[str], option: str) -> dict[str, str]:
    found: dict[str, str] = {}
    troubles = []
    for text in texts:
        name, equals, value = text.partition("=")
        if not equals or not name:
            troubles.append(Trouble(option, text, "name='value unit'", "Put quotes round a value with a blank."))
        elif name in found:
            troubles.append(Trouble(name, f"{found[name]} and {value}", "one value", "Give it once."))
        else:
            found[name.strip().replace("-", "_")] = value
    if troubles:
        raise InputError(troubles)
    return found


def _calc(options: Any) -> int:
    from valvecalc.door import calc, find
    from valvecalc.quantities import VOCABULARY
    from valvecalc.units import unit_row

    card = find(options.id)
    given: dict[str, Any] = dict(_pairs(options.entries, "entry"))
    for name, text in _pairs(options.uncertainty, "--uncertainty").items():
        if name not in given:
            raise InputError(Trouble(f"--uncertainty {name}", text, "an entry that is given", f"Give {name} too."))
        given[name] = f"{given[name]} ± {text}"
    if options.solve is not None:
        from valvecalc.solving import solve_for

        between = tuple(options.between) if options.between else None
        answers = solve_for(options.id, options.solve.replace("-", "_"), between, **given)
    elif options.between:
        raise InputError(
            Trouble("--between", " ".join(options.between), "--solve NAME beside it", "Name the entry to solve for.")
        )
    else:
        answers = [calc(options.id, **given)]
    for answer in answers:
        answer.system = "us" if options.us else "metric"
        if options.unit is not None:
            name = answer.solved or answer.headline
            answer.units = {name: unit_row(options.unit, VOCABULARY[name].dimension, "--in").printed}
    if options.json:
        told = [answer.to_json() for answer in answers]
        _print_json(told[0] if len(told) == 1 else {"schema": 1, "kind": "answers", "ok": True, "answers": told})
    else:
        from valvecalc.citation import citation
        from valvecalc.report.text import answer_text

        if len(answers) > 1:
            print(f"{len(answers)} values of {options.solve} give this {card.result}:\n")
        tell = citation if options.cite else answer_text
        print("\n\n".join(tell(answer.to_json()) for answer in answers))
    return ANSWERED if all(answer.value is not None for answer in answers) else NO_ANSWER


def _list(options: Any) -> int:
    from valvecalc.catalogue import items

    rows = items(options.word)
    if options.json:
        _print_json({"items": rows})
    else:
        for row in rows:
            print(f"{row['id']:<36} {row['kind']:<8} {row['title']}")
    if not rows and not options.json:
        print(f"nothing about {options.word!r}; all of them: valvecalc list", file=sys.stderr)
    return ANSWERED if rows else NO_ANSWER


def _show(options: Any) -> int:
    from valvecalc.catalogue import show

    data, text = show(options.id)
    if options.json:
        _print_json(data)
    else:
        print(text)
    return ANSWERED


def _progress(text: str) -> None:
    print(f"… {text}", file=sys.stderr, flush=True)


def _report(options: Any) -> int:
    from valvecalc.report.console import say_report

    return say_report(options, _progress)


def _sheet(options: Any) -> int:
    from valvecalc.report.bench_console import say_sheet

    return say_sheet(options)


def _verify(options: Any) -> int:
    from valvecalc.report.console import say_verify

    return say_verify(options)


def _history(options: Any) -> int:
    from valvecalc.history.console import say

    return say(options)


def _site(options: Any) -> int:
    from pathlib import Path

    from valvecalc.serving import build_site, serve, shop_address
    from valvecalc.sitegen.stick import empty_folder, write_stick

    if options.to and not options.stick:
        raise InputError(
            Trouble("--to", options.to, "--stick beside it", "Without --stick the site is in .build/site.")
        )
    stick = empty_folder(options.to) if options.stick else None
    folder = build_site(Path(".build/site"), _progress, shop_address(options.shop))
    print(f"Site written to {folder}.")
    if stick is not None:
        write_stick(folder, stick)
        print(f"For a stick: copy {stick.resolve()} and open index.html in it.")
    if options.serve:
        serve(folder)
    return ANSWERED


def _diagnose(options: Any) -> int:
    from valvecalc.diagnosis.console import say

    given = [name for name in ("steps", "bench", "valve", "counts", "job", "tree", "ask") if getattr(options, name)]
    if options.symptom is None and given:
        raise InputError(Trouble("SYMPTOM", "none", "a complaint", "All of them: valvecalc diagnose"))
    return say(options)


def _size(options: Any) -> int:
    from valvecalc.selection.console import say

    return say(options)


def _demo(options: Any) -> int:
    from pathlib import Path

    from valvecalc.demo import run

    return run(Path(options.to) if options.to else Path(".build/demo"), not options.no_serve, _progress)
