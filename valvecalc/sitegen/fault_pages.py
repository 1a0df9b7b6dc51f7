"""The fault finder's pages: complaints by group, complaint, check, cause, root. Computed once in a run."""

from collections.abc import Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from functools import cache
from multiprocessing import get_context
from os import cpu_count
from pathlib import Path

from valvecalc.diagnosis import export
from valvecalc.diagnosis.belief import BENCH_ONLY
from valvecalc.diagnosis.knowledge import Model, knowledge
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen import find, marks
from valvecalc.sitegen.fault_records import cause_page, check_page, root_page
from valvecalc.sitegen.fault_tree import CAME_IN, main_situation, symptom_page

MOST_CORES = 4  # each takes half a second to start


@cache
def fault_pages() -> dict[str, str]:
    """Every page of the fault finder: path under the pages folder -> text, and the script that they may wake."""
    model = knowledge()
    return {
        "fault/index.md": _groups(model),
        **{path: talk.result() for path, talk in _begun().items()},
        "do/index.md": _checks(model),
        **{parts.page_of("check", row.id): check_page(model, row) for row in model.checks.values()},
        "fault/causes/index.md": _causes(model),
        **{parts.page_of("cause", row.id): cause_page(model, row) for row in model.causes.values()},
        "fault/roots/index.md": _roots(model),
        **{parts.page_of("root", row.id): root_page(model, row) for row in model.roots.values()},
        "assets/finder-data.js": export.script(model),
        "assets/finder.js": Path(export.__file__).with_name("finder.js").read_text("utf-8"),
    }


@contextmanager
def other_cores() -> Iterator[None]:
    """Lets the other cores make the pages of the complaints, half of all the work, while the rest is made here."""
    talks = _begun()
    try:
        yield
    except BaseException:  # nobody waits for pages that come to nothing
        for talk in talks.values():
            talk.cancel()
        _begun.cache_clear()
        raise


@cache
def _begun() -> dict[str, Future[str]]:
    """The pages of the complaints, each as it will be."""
    rows = knowledge().symptoms.values()
    asked = {parts.page_of("symptom", row.id): (row.id, main_situation(row)) for row in rows}
    asked |= {
        parts.page_of("symptom", f"{row.id}/bench"): (row.id, BENCH_ONLY) for row in rows if row.id not in CAME_IN
    }
    # spawn: the same on every system, and safe where threads run already
    cores = ProcessPoolExecutor(min(MOST_CORES, cpu_count() or 1), get_context("spawn"))
    talks = {path: cores.submit(_talk, *which) for path, which in asked.items()}
    cores.shutdown(wait=False)
    return talks


def _talk(symptom: str, situation: str) -> str:
    model = knowledge()
    return symptom_page(model, model.symptoms[symptom], situation)


_FIRST = (
    "Stop the machine and hold the load first. A valve that sticks can let go at any moment, and the load moves; a jet "
    "of oil goes through the glove. Keep people out of reach."
)


def _groups(model: Model) -> str:
    """Six groups to jump to, then all complaints below them."""
    jumps = "".join(
        f'<a class="door" href="#{group.id}"><strong>{marks.esc(group.title)}</strong></a>'
        for group in model.rules.groups.values()
    )
    lines = [
        marks.head("Valve misbehaves", [find.SCRIPT]),
        parts.warning(_FIRST),
        find.form(),
        f'<div class="doors groups">{jumps}</div>',
    ]
    for group in model.rules.groups.values():
        rows = [row for row in model.symptoms.values() if row.group == group.id]
        lines += [f"## {group.title} {{ #{group.id} }}", marks.doors(map(parts.symptom_door, rows))]
    lines += [
        "## All pages of the fault finder",
        marks.doors(
            [
                marks.door("do/readings.md", "Bench readings in order", "Each with its caution first."),
                marks.door("do/index.md", "Checks", f"{len(model.checks)} checks, each step by step."),
                marks.door("fault/causes/index.md", "Causes", f"{len(model.causes)} causes with proof and remedy."),
                marks.door("fault/roots/index.md", "Roots on the machine", "What kills valves."),
            ]
        ),
    ]
    return "\n\n".join(lines) + "\n"


def _checks(model: Model) -> str:
    lines = [
        marks.head("Checks"),
        parts.warning(
            "Each check opens with its caution and with what has to be true before it. One condition missing: not now."
        ),
    ]
    for place, told in parts.PLACES.items():
        rows = [row for row in model.checks.values() if row.where == place]
        doors = [
            marks.door(
                parts.page_of("check", row.id), row.title, f"{row.minutes:g} min, hazard {parts.LEVELS[row.hazard]}"
            )
            for row in rows
        ]
        lines += [f"## {told.capitalize()}", marks.doors(doors)]
    return "\n\n".join(lines) + "\n"


def _causes(model: Model) -> str:
    groups: dict[str, list[str]] = {}
    for row in model.causes.values():
        door = marks.door(parts.page_of("cause", row.id), row.title, parts.sentence(row.confirmed_by))
        groups.setdefault(row.component, []).append(door)
    lines = [
        marks.head("Causes"),
        f"<p>By part. What stands here is {marks.esc(model.rules.basis)}.</p>",
    ]
    for component, doors in groups.items():
        lines += [f"## {component[:1].upper()}{component[1:]}", marks.doors(doors)]
    return "\n\n".join(lines) + "\n"


def _roots(model: Model) -> str:
    doors = [
        marks.door(parts.page_of("root", row.id), row.title, parts.sentence(row.how_it_kills))
        for row in model.roots.values()
    ]
    told = "<p>What on the machine kills valves: asked for after every confirmed cause.</p>"
    return "\n\n".join([marks.head("Roots on the machine"), told, marks.doors(doors)]) + "\n"
