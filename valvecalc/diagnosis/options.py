"""The options of `valvecalc diagnose`; apart from the command line because the steps of a case are told by them."""

import argparse
from typing import Any


class _Step(argparse.Action):
    """Collects the steps of a case in the order in which they stand on the line."""

    def __init__(self, **named: Any) -> None:
        self.kind = named.pop("const")
        super().__init__(**named)

    def __call__(self, parser: Any, namespace: Any, values: Any, option: str | None = None) -> None:
        setattr(namespace, self.dest, [*(getattr(namespace, self.dest) or []), (self.kind, values)])


def add_diagnose(command: argparse.ArgumentParser) -> None:
    """Give the command its options; steps go into `steps` as (kind, text), in the order typed."""
    command.add_argument("symptom", nargs="?", metavar="SYMPTOM")
    for option, kind, metavar, words in (
        ("--found", "found", "CHECK=OUTCOME", "what a check has shown"),
        ("--skip", "skip", "CHECK", "a check that cannot be done here"),
        ("--have", "have", "NEED", "a precondition that is met now"),
        ("--lack", "lack", "NEED", "a precondition that cannot be had"),
        ("--not-cured", "not-cured", "REPAIR", "a repair that did not help"),
        ("--cured", "cured", "REPAIR[=CAUSE]", "the repair that helped"),
        ("--killer", "killer", "CAUSE", "what on the machine killed it, or unknown"),
    ):
        command.add_argument(option, dest="steps", action=_Step, const=kind, metavar=metavar, help=words)
    command.add_argument("--bench", action="store_true", help="the valve is on the bench, the machine out of reach")
    command.add_argument(
        "--valve", metavar="TAG,TAG", help="what the valve is: dc, ac, double-solenoid, pilot-operated …"
    )
    command.add_argument("--counts", metavar="FILE", help="the shop's own cases: [SYMPTOM] cause = cases")
    command.add_argument("--job", metavar="JOB.toml", help="write the path into this job file")
    command.add_argument("--tree", action="store_true", help="the whole tree, computed")
    command.add_argument("--ask", action="store_true", help="ask on in the terminal")
    command.add_argument("--cause", metavar="CAUSE", help="explain a cause")
