"""The pages of checks (/do/…), causes and roots (/fault/…). Cautions stand before what they guard."""

from collections.abc import Iterable

from valvecalc.diagnosis.belief import likelihood
from valvecalc.diagnosis.knowledge import Cause, Check, Model, Root
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen import marks

#: An outcome this many times likelier with the cause than on average over all causes speaks for it, or against it.
SPEAKS = 2.0
FEW = 8  # causes named after an outcome


def check_page(model: Model, check: Check) -> str:
    """One check: caution, gates, steps, reading, what each answer means."""
    numbered = "".join(f"<li>{marks.esc(parts.sentence(step))}</li>" for step in check.steps)
    first = parts.listed(parts.check_link(model.checks[name]) for name in check.after)
    lines = [
        marks.head(check.title),
        f'<p class="id">Check <code>{check.id}</code> · {marks.esc(parts.PLACES[check.where])} · '
        f"{parts.cost(model, check)}</p>",
        parts.warning(check.caution),
        *_before(model, check, first),
        "## Stop when",
        parts.hazards(model, check.hazards) or f"<p>{marks.esc(_STOP)}</p>",
        "## How",
        f"<p>With: {marks.esc(check.tool)}.</p>",
        f"<ol>{numbered}</ol>" if check.steps else "",
        f"<p>{marks.esc(parts.sentence(check.how))}</p>",
        *_bench(check),
        "## The reading",
        _reading(check),
        "## What each answer means",
        _meanings(model, check),
        f'<p class="quiet">The words behind this are judgement. Source of the check: {marks.esc(check.source)}.</p>',
        "## Asked for",
        _asked_for(model, check),
        marks.doors([marks.door("fault/index.md", "Back to the complaints", "The fault finder names the next check.")]),
    ]
    return _page(lines)


_STOP = (
    "People describe a jet, an unexplained movement or a load that sank; a cover, a guard or a cap would have to be "
    "opened: stop, isolate first."
)


def _before(model: Model, check: Check, first: str) -> list[str]:
    if not check.needs and not first:
        return []
    lines = [
        "## Before you start",
        "<p>Tick each one, for this valve and this moment. One missing: not now.</p>",
    ]
    if first:
        lines.append(f"<p>Done first:</p>{first}")
    return [*lines, parts.gates(model, check.needs)]


def _bench(check: Check) -> list[str]:
    if not check.at_bench:
        return []
    return [
        "## With the valve on the bench, its machine out of reach",
        parts.warning(check.at_bench),
        "<p>The same steps, as far as they need no machine.</p>",
    ]


def _reading(check: Check) -> str:
    if not (check.reading or check.judged_by):
        return "<p>No figure: the answer is what was seen or heard.</p>"
    told = ""
    if check.reading:
        meaning = VOCABULARY[check.reading].meaning if check.reading in VOCABULARY else check.reading.replace("_", " ")
        told = f"<p>Write down: {marks.esc(meaning)}, with the instrument and what it can be wrong by.</p>"
    if check.judged_by:
        told += f"<p>A figure is judged by its sheet, not by eye: {parts.judge(check.judged_by)}.</p>"
    return told


def _meanings(model: Model, check: Check) -> str:
    rows = {cause: likelihood(model, check.id, cause) for cause in model.links[check.id]}
    average = likelihood(model, check.id, "")
    items = []
    for place, outcome in enumerate(check.outcomes):
        lifts = sorted(
            (
                (row[place] / average[place], cause)
                for cause, row in rows.items()
                if row[place] >= SPEAKS * average[place]
            ),
            key=lambda pair: -pair[0],
        )
        sinks = sorted(
            (
                (row[place] / average[place], cause)
                for cause, row in rows.items()
                if row[place] * SPEAKS <= average[place]
            ),
            key=lambda pair: pair[0],
        )
        told = _causes("Speaks for", model, lifts) + _causes("Speaks against", model, sinks)
        stop = "<p><strong>No pressure on this valve again</strong> before the part is replaced.</p>"
        items.append(
            f"<h3>{marks.esc(check.outcomes[outcome])}</h3>{stop if outcome in check.no_pressure_after else ''}"
            f"{told or '<p>Leaves it open.</p>'}"
        )
    return "".join(items)


def _causes(told: str, model: Model, ranked: Iterable[tuple[float, str]]) -> str:
    names = [name for _, name in ranked]
    if not names:
        return ""
    more = f" and {len(names) - FEW} more" if len(names) > FEW else ""
    return f"<p>{told}: {', '.join(parts.cause_link(model, name) for name in names[:FEW])}{more}.</p>"


def _asked_for(model: Model, check: Check) -> str:
    links = model.links[check.id]
    found = [
        symptom
        for symptom in model.symptoms.values()
        if check.id not in symptom.already_known and any(cause in links for cause in symptom.candidates)
    ]
    return parts.listed(marks.link(parts.page_of("symptom", row.id), row.title) for row in found)


def cause_page(model: Model, cause: Cause) -> str:
    """One cause: what it is, its proof, caution before remedy, roots, chains, basis."""
    proof = _telling(model, cause)
    lines = [
        marks.head(cause.title),
        f'<p class="id">Cause <code>{cause.id}</code> · {marks.esc(cause.component)}</p>',
        f"<p>{marks.esc(parts.sentence(cause.mechanism))}</p>",
        "## How it is confirmed",
        f"<p>{marks.esc(parts.sentence(cause.confirmed_by))}</p>",
        f"<p>Checks that show it: {', '.join(parts.check_link(model.checks[name]) for name in proof)}.</p>"
        if proof
        else "",
        '<section class="step">',
        f"<h2>Remedy</h2>{parts.warning(cause.caution)}"
        f'<div class="do"><p>{marks.esc(parts.sentence(cause.remedy))}</p>'
        f"<p>About {cause.remedy_minutes:g} min{', the valve is opened' if cause.opened else ''}"
        f"{_group(model, cause)}.</p></div>",
        "</section>",
        *(["## What to compute", f"<p>{parts.compute(cause)}</p>"] if parts.compute(cause) else []),
        "## What on the machine makes it",
        parts.listed(_root(model, name) for name in cause.roots),
        *(
            ["## What to tell the customer", f"<p>{marks.esc(parts.sentence(cause.tell_the_customer))}</p>"]
            if cause.tell_the_customer
            else []
        ),
        *_chains(model, cause),
        "## Complaints it hides behind",
        parts.listed(_share(model, cause)),
        f'<p class="quiet">How often: {marks.esc(cause.frequency)} ({marks.esc(cause.frequency_source)}). '
        f"Basis: {marks.esc(model.rules.basis)}.</p>",
    ]
    return _page(lines)


def _telling(model: Model, cause: Cause) -> list[str]:
    """The checks of which an outcome is far likelier with the cause than without, the most telling first."""
    ranked = []
    for check, links in model.links.items():
        if cause.id in links:
            told, healthy = likelihood(model, check, cause.id), likelihood(model, check, "")
            ranked.append((-max(one / other for one, other in zip(told, healthy, strict=True)), check))
    return [check for times, check in sorted(ranked) if -times >= SPEAKS][:FEW]


def _group(model: Model, cause: Cause) -> str:
    if not cause.repair_group:
        return ""
    return f"; one job with others: {marks.esc(model.rules.repair_groups[cause.repair_group].title.lower())}"


def _root(model: Model, name: str) -> str:
    root = model.roots[name]
    return f"{parts.root_link(model, name)}. Measure: {marks.esc(parts.sentence(root.measure))}"


def _chains(model: Model, cause: Cause) -> list[str]:
    kills = [chain for chain in model.chains if chain.killer == cause.id]
    killed = [chain for chain in model.chains if chain.victim == cause.id]
    lines = []
    if killed:
        lines.append("## What may have killed it")
        lines.append(
            parts.listed(
                f"{parts.cause_link(model, row.killer)}: {marks.esc(parts.sentence(row.note))} "
                f"Shown by: {parts.check_link(model.checks[row.prove])}."
                for row in killed
            )
        )
    if kills:
        lines.append("## What it kills")
        lines.append(
            parts.listed(
                f"{parts.cause_link(model, row.victim)}: {marks.esc(parts.sentence(row.note))}" for row in kills
            )
        )
    return lines


def _share(model: Model, cause: Cause) -> list[str]:
    found = [(row.candidates[cause.id], row) for row in model.symptoms.values() if cause.id in row.candidates]
    return [
        f"{marks.link(parts.page_of('symptom', row.id), row.title)}: about {cases:g} of 100 cases (judgement)"
        for cases, row in sorted(found, key=lambda pair: -pair[0])
    ]


def root_page(model: Model, root: Root) -> str:
    """One root: how it kills, what to measure, what to say, what it makes."""
    causes = [row.id for row in model.causes.values() if root.id in row.roots]
    lines = [
        marks.head(root.title),
        f'<p class="id">Root on the machine <code>{root.id}</code></p>',
        parts.warning(_ROOT_CAUTION),
        f"<p>{marks.esc(parts.sentence(root.how_it_kills))}</p>",
        "## What to measure",
        f"<p>{marks.esc(parts.sentence(root.measure))}</p>",
        "## What to tell the customer",
        f"<p>{marks.esc(parts.sentence(root.tell_the_customer))}</p>",
        "## What it makes",
        parts.listed(parts.cause_link(model, name) for name in causes),
        f'<p class="quiet">Basis: {marks.esc(model.rules.basis)}.</p>',
    ]
    return _page(lines)


_ROOT_CAUTION = (
    "Nothing is opened or loosened to measure. Load held, area clear, gauge points fitted at proved zero; live "
    "measurement by an authorised person. A jet goes through the glove. No point to read at: stop and call the "
    "responsible person of the site."
)


def _page(lines: Iterable[str]) -> str:
    return "\n\n".join(line for line in lines if line) + "\n"
