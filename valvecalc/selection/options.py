"""The command `valvecalc size` and its options; apart from the sizing, so that the help loads none of it."""

from typing import Any


def add_size(commands: Any) -> None:
    """Add the command to those of the command line."""
    command = commands.add_parser(
        "size",
        help="which valve of a stock list fits a machine, or what to ask a supplier for",
        description="Judge a stock list against a duty, rule by rule. Without a list: a request of one page.",
    )
    command.add_argument("duty", metavar="DUTY.toml")
    command.add_argument("--stock", metavar="FILE", help="stock list in CSV or TOML")
    command.add_argument("--if", dest="change", metavar="ENTRY='value unit'", help="change one entry: what flips")
    command.add_argument("--us", action="store_true", help="results in US units")
    command.add_argument("--json", action="store_true", help="the answer as JSON, also when it fails")
