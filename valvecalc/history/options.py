"""The command `valvecalc history` and its options; apart from the counting, so that the help loads none of it."""

from typing import Any


def add_history(commands: Any) -> None:
    """Add the command to those of the command line."""
    command = commands.add_parser(
        "history",
        help="what the jobs of a folder tell: list, counts, come-backs, times, trend",
        description="List and count the job files of a folder and of those below it. A file that cannot be read is "
        "named and skipped. The index that it keeps there may be deleted at any time.",
    )
    command.add_argument("folder", metavar="FOLDER")
    for option, metavar, words in (
        ("--symptom", "WORD", "complaint of the fault finder: its name, or a part of it or of its title"),
        ("--cause", "WORD", "what killed the valve, likewise"),
        ("--decision", "WORD", "repair, exchange, replace, scrap, no-fault-found or declined"),
        ("--outcome", "WORD", "held, came-back or unknown"),
        ("--customer", "TEXT", "part of the customer's name"),
        ("--machine", "TEXT", "part of the machine's name"),
        ("--text", "TEXT", "part of number, title, customer, machine or complaint"),
        ("--since", "DAY", "received on this day or later: 2026, 2026-05 or 2026-05-04"),
        ("--until", "DAY", "received on this day or before; a month or year is taken whole"),
        ("--sort", "KEY", "received (default), sent, came-back, minutes, id or customer"),
        ("--by", "PERIOD", "the trend by month, quarter or year; default: what the chart has room for"),
        ("--to", "DIR", "write a page with the chart, and the list as CSV, into this folder"),
        ("--counts", "FILE", "write the counted cases that diagnose --counts takes in"),
    ):
        command.add_argument(option, metavar=metavar, help=words)
    command.add_argument("--open", action="store_true", help="only jobs that are neither sent nor given up")
    command.add_argument("--reverse", action="store_true", help="the list the other way round")
    command.add_argument("--all", action="store_true", help="the whole list, not only its head")
    command.add_argument("--no-index", action="store_true", help="read every file, and write no index")
    command.add_argument("--json", action="store_true", help="the answer as JSON, also when it fails")
