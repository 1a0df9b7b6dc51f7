"""The bench sheet as a form on the phone, job/sheet/: made from the same plain data as the sheet on paper.

Every step stands here with its cautions first and what is to be read, and is read so without a script. With one,
`job-form.js` puts fields in the place of each reading and keeps the answers on the device; it computes nothing,
`benchJob` of assets/job.js judges.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from valvecalc.facts import load_toml
from valvecalc.job.bench import bench_sheet, named, twice
from valvecalc.job.between import QUOTED
from valvecalc.job.fields import Field, choices, fields
from valvecalc.job.read import Job
from valvecalc.job.shop import Shop
from valvecalc.quantities import VOCABULARY, Quantity
from valvecalc.sitegen import marks
from valvecalc.sitegen.job_script import job_script, toml_script
from valvecalc.units import choices as units

Row = Mapping[str, Any]

PAGE = "job/sheet.md"
SCRIPTS = ("assets/job-kept.js", "assets/job-form.js")
STYLE = "assets/job.css"


def form_pages() -> dict[str, str]:
    """The page, the script that judges, and the reader of job files."""
    return {PAGE: _page(), "assets/job.js": job_script(), "assets/toml.js": toml_script()}


def _page() -> str:
    words = load_toml("words/phone.toml")
    blank = bench_sheet(Job({}, {}, Shop(), Path("blank.toml")))
    specs = {spec["id"]: spec for spec in load_toml("bench.toml")["steps"]}
    told = words["words"]
    head = marks.head(told["title"]).replace(
        "hide: [", f'scripts: {json.dumps(SCRIPTS)}\nstyle: {STYLE}\nhide: ["toc", ', 1
    )
    parts = [
        f'<div class="bench" data-words="{marks.esc(json.dumps(_for_script(words), ensure_ascii=False))}">',
        f'<p class="bench__about">{marks.esc(told["about"])}</p>',
        f'<p class="plain-only">{marks.esc(told["no_script"])} {marks.link("job/index.md", "How a job is kept")}.</p>',
        _open_job(told),
        f'<p class="bench__when with-script" role="group" aria-label="When it is read">{_act("found", "As found")}'
        f"{_act('left', 'As left')}</p>",
        f'<p class="bench__again with-script">{marks.esc(told["again"])}</p>',
        '<nav class="bench__stages with-script" aria-label="Stages of the job"></nav>',
        *(_before(part) for part in words["before"]),
        *(_stage(stage, specs, words) for stage in blank["stages"]),
        _own(),
        _end(told),
        "</div>",
    ]
    return "\n\n".join((head, "".join(parts))) + "\n"


def _for_script(words: Row) -> dict[str, Any]:
    keys = ("unread", "promise", "tools", "limits", "checks", "later")
    bench = load_toml("bench.toml")["words"]
    results = "|".join(choices(fields("job", "acceptance")["result"]))
    told = {key: words["words"][key] for key in keys} | {"results": results, "own": "the shop's own"}
    told |= {"noCaution": bench["no_caution"], "shopHow": bench["shop_how"]}
    return told | {"sheets": words["sheets"], "quoted": list(QUOTED)}


def _act(name: str, words: str) -> str:
    return f'<button type="button" class="act" data-do="{name}">{marks.esc(words)}</button>'


def _open_job(told: Row) -> str:
    """Which job is open, and the others on the device."""
    return (
        '<section class="bench__job with-script" aria-label="Jobs on this device">'
        '<p class="bench__name"><span>No job is open.</span> <strong></strong></p>'
        '<p class="bench__said" role="status"></p><div class="bench__sure"></div>'
        '<details class="bench__files"><summary>Jobs and files</summary>'
        f'<p class="answer__do">{_act("begin", "Begin a job")}{_act("open", "Open a file")}'
        f'{_act("save", "Save the job file")}</p><div class="bench__others"></div>'
        f'<p class="bench__stays">{marks.esc(told["stays"])}</p></details>'
        '<input type="file" hidden accept=".toml,text/plain" aria-label="A job file, or shop.toml"></section>'
    )


def _own() -> str:
    """The shop's own checks; the script makes their steps from shop.toml."""
    stage = load_toml("bench.toml")["stages"]["own"]
    return (
        f'<section class="bench__stage with-script" data-id="own"><h2 tabindex="-1">{marks.esc(stage["title"])}</h2>'
        f"<p>{marks.esc(stage['about'])}</p></section>"
    )


def _end(told: Row) -> str:
    return (
        '<section class="bench__stage with-script" data-id="end"><h2 tabindex="-1">What is judged</h2>'
        f'<p class="bench__desk">{marks.esc(told["desk"])}</p><div class="bench__judged" aria-live="polite"></div>'
        f'<p class="answer__do">{_act("save", "Save the job file")}{_act("print", "Print")}'
        f'{_act("remove", "Take this job off the device")}</p><div class="bench__left"></div></section>'
        f'<p class="bench__next with-script">{_act("back", "Back")}{_act("next", "Next")}</p>'
    )


def _before(part: Row) -> str:
    groups = "".join(
        f'<div class="step" data-step="{part["id"]}"><h3>{marks.esc(group["title"])}</h3>'
        f'<div class="step__fields">{"".join(_reading(name) for name in group["fields"])}</div></div>'
        for group in part["groups"]
    )
    return _section(part["id"], part["title"], part["about"], groups)


def _section(key: str, title: str, about: str, body: str, shut: bool = False) -> str:
    gated = " bench__stage--gated" if shut else ""
    return (
        f'<section class="bench__stage{gated}" data-id="{key}"><h2 tabindex="-1">{marks.esc(title)}</h2>'
        f"<p>{marks.esc(about)}</p>{body}</section>"
    )


def _stage(stage: Row, specs: Mapping[str, Row], words: Row) -> str:
    shut = (
        f'<div class="caution bench__shut"><p>{marks.esc(words["words"]["closed"])}</p>'
        f'<ul class="with-script"><li>{marks.esc(words["words"]["not_looked"])}</li></ul>'
        f'<ul class="plain-only">{"".join(f"<li>{marks.esc(one)}</li>" for one in stage["closed"])}</ul></div>'
        if stage["closed"]
        else ""
    )
    steps = "".join(_step(step, specs[step["id"]], words) for step in stage["steps"])
    return _section(stage["id"], stage["title"], stage["about"], shut + steps, bool(shut))


def _step(step: Row, spec: Row, words: Row) -> str:
    """Cautions, then what to do and at what, then what is read."""
    each, called = spec.get("each", ""), words["named"].get(step["id"], "")
    more = "".join(_more(name, spec, each, called) for name in words["more"].get(step["id"], ()))
    lines = zip(spec.get("readings", ()), step["readings"], strict=True)
    told = "".join(_reading(line["field"], line, row, called or _test(step, line)) for line, row in lines)
    kind = f' data-of="{spec["kind"]}"' if "kind" in spec else ""
    tool = f'<p class="step__tool">With: {marks.esc(step["tool"])}</p>' if step["tool"] else ""
    how = "".join(f"<p>{marks.esc(text)}</p>" for text in step["how"])
    return (
        f'<div class="step" data-step="{step["id"]}" data-each="{each}"{kind}><h3>{marks.esc(step["title"])}</h3>'
        f"{''.join(map(marks.caution, step['cautions']))}{how}{tool}{_set_up(spec, step)}"
        f'<div class="step__fields">{more}{told}</div></div>'
    )


def _more(name: str, spec: Row, each: str, called: str) -> str:
    """A field besides the readings: of a trial in the step's state; what it says of a path holds as left too."""
    below = name.split(".")[1:-1]
    states = [line["state"] for line in spec.get("readings", ()) if "state" in line] if below else []
    line = {"field": name} | ({"state": states[0], "kind": spec.get("kind", "")} if states else {})
    return _reading(name, line, called=called, holds=each != "coil")


def _test(step: Row, line: Row) -> str:
    """What a line of the acceptance run is called in the job file."""
    return f"{step['title']}: {line['what']}" if line["field"].startswith("acceptance.") else ""


def _set_up(spec: Row, step: Row) -> str:
    lines = zip(spec.get("at", ()), step["at"], strict=True)
    rows = "".join(
        f"<li{_figure(one)}>{marks.esc(row['what'])}: <b>{marks.esc(row['text']) or '…'}</b>{_whose(row)}</li>"
        for one, row in lines
    )
    return f'<ul class="step__at">{rows}</ul>' if rows else ""


def _whose(row: Row) -> str:
    return f" ({marks.esc(row['whose'])})" if row["text"] else ""


def _figure(one: Row) -> str:
    """What the script works out: a figure of the duty, or a value of the job."""
    key = next((key for key in ("figure", "from") if key in one), "")
    return f' data-{key}="{one[key]}"' if key else ""


# ---- a reading


def _reading(name: str, line: Row | None = None, row: Row | None = None, called: str = "", holds: bool = False) -> str:
    """One field of the job file: its name and unit for the reader, the rest for the script.

    `line` is None where it is asked before the tests, and so only once; `holds` where the work does not change it.
    """
    *path, key = name.split(".")
    field = fields("job", path[-1])[key]
    again = line is not None and path[0] != "acceptance" and twice(path[0], key)
    line = line or {}
    label = _label(field, (row or {}).get("what", "")) + _state(line.get("state", ""), path)
    told = {"field": name, "kind": field.kind, "named": called}
    told |= {"state": line.get("state", ""), "of": line.get("kind", "")}
    told |= {"worked": "yes" if "fact" in line else ""}
    told |= {"twice": "yes" if again else "", "holds": "yes" if again and holds else ""}
    if field.kind in ("quantity", "repeats"):
        told |= _units(VOCABULARY[field.words[0]])
    elif field.kind in ("choice", "word"):
        told["words"] = "|".join(choices(field))
    data = "".join(f' data-{key}="{marks.esc(value)}"' for key, value in told.items() if value)
    wanted = "; ".join(_wanted(row or {}))
    say = f"<small>{marks.esc(wanted)}</small>" if wanted else ""
    return f'<p class="reading"{data}><span>{marks.esc(label)}</span>{_unit(told)}{say}</p>'


def _units(quantity: Quantity) -> dict[str, str]:
    """The two usual units and every unit to choose from; nothing for a plain number."""
    if not quantity.metric:
        return {}
    every = dict.fromkeys((quantity.metric, quantity.us, *units(quantity.dimension)))
    return {"pair": f"{quantity.metric}|{quantity.us}", "units": "|".join(filter(None, every))}


def _label(field: Field, what: str) -> str:
    told = what or named(field)
    return told[:1].upper() + told[1:]


def _state(state: str, path: Iterable[str]) -> str:
    told = load_toml("words/report.toml")["states"].get(state, "") if "pickup" in path or "push" in path else ""
    return f", {told}" if told else ""


def _unit(told: Row) -> str:
    metric = str(told.get("pair", "")).split("|")[0]
    return f' <em class="plain-only">{marks.esc(metric)}</em>' if metric else ""


def _wanted(row: Row) -> Iterator[str]:
    """What it is held against, where that needs no figure of the job."""
    if row.get("expected"):
        yield f"Wanted: {row['expected']} ({row['whose']})" if row["whose"] else f"Wanted: {row['expected']}"
    whose = f" ({row['whose']})" if row.get("whose") else ""
    for limit in row.get("limits", ()):
        yield f"Wanted: {limit['word']} {limit['text']}{whose}"
