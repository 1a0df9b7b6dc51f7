"""`valvecalc diagnose`: builds a case from the command line, a terminal or a job file, and tells what comes next."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from valvecalc.diagnosis import told, why
from valvecalc.diagnosis.advice import CHECK, KILLER, MACHINE, REPAIR, Advice, advise, as_json
from valvecalc.diagnosis.belief import AT_MACHINE, BENCH_ONLY, unknown
from valvecalc.diagnosis.knowledge import Model, knowledge
from valvecalc.diagnosis.walk import Case, replay, scope_of
from valvecalc.errors import InputError, Trouble
from valvecalc.facts import parse_toml
from valvecalc.writing import write_whole

State = dict[str, Any]


def state_of(options: Any) -> State:
    """The case that the options tell; steps keep the order in which they were typed."""
    state: State = {"symptom": options.symptom, "steps": [_step(kind, text) for kind, text in options.steps or ()]}
    if options.bench:
        state["situation"] = BENCH_ONLY
    if options.valve:
        state["profile"] = [tag.strip() for tag in options.valve.split(",") if tag.strip()]
    if options.counts:
        state["counts"] = _counts(Path(options.counts), options.symptom)
    return state


def _step(kind: str, text: str) -> State:
    if kind == "found":
        check, equals, outcome = text.partition("=")
        if not equals:
            raise InputError(Trouble("--found", text, "check=outcome", "For example --found listen-click=hum"))
        return {"check": check.strip(), "outcome": outcome.strip()}
    if kind == "have":
        return {"need": text, "ticked": True}
    if kind == "lack":
        return {"need": text, "missing": True}
    if kind == "skip":
        return {"check": text, "skipped": "not-possible"}
    if kind == "killer":
        return {"killer": None if text == "unknown" else text}
    job, _, cause = text.partition("=")
    return {"repair": job, "cured": kind == "cured"} | ({"cause": cause} if cause else {})


def _counts(path: Path, symptom: str) -> Mapping[str, float]:
    """The shop's own cases: a TOML file with a table for each complaint, cause = cases."""
    try:
        table = parse_toml(path.read_bytes(), path.name).get(symptom, {})
    except FileNotFoundError:
        raise InputError(Trouble("--counts", str(path), "a file that is there", "Check the name.")) from None
    if not isinstance(table, dict) or not all(isinstance(n, int | float) and n >= 0 for n in table.values()):
        raise InputError(Trouble("--counts", repr(table)[:60], "cause = number of cases", f"Under [{symptom}] in it."))
    return table


def diagnose(options: Any) -> tuple[Any, str, bool]:
    """(JSON form, text, answered) of one call."""
    model = knowledge()
    if options.cause:
        if options.cause not in model.causes:
            raise InputError(unknown("cause", options.cause, model.causes))
        cause = model.causes[options.cause]
        return {"schema": 1, "ok": True, "cause": _plain(cause)}, told.cause_text(model, options.cause), True
    if options.symptom is None:
        rows = [{"id": one.id, "title": one.title, "group": one.group} for one in model.symptoms.values()]
        return {"schema": 1, "ok": True, "symptoms": rows}, told.symptom_list(model), True
    state = state_of(options)
    if options.tree:
        return _tree(model, state)
    if options.ask:
        state = ask(model, state)
    case = replay(model, state)
    advice = advise(case)
    if options.job:
        write_path(Path(options.job), model, state, case, advice)
    head = told.start_text(model, options.symptom) + "\n" if not state["steps"] else ""
    data, text = suggestion_json(case, advice, state), head + told.advice_text(case, advice)
    own, said = _own_cases(model, state)
    return data | own, text + said, advice.kind != "nothing-fits"


def _own_cases(model: Model, state: State) -> tuple[dict[str, Any], str]:
    """How many own cases were weighed in, as data and in words; nothing where no counts were given."""
    if "counts" not in state:
        return {}, ""
    cases, weight = sum(state["counts"].values()), model.rules.scale["repair"]["file_cases"]
    return {"own_cases": {"cases": cases, "file_cases": weight}}, "\n\n" + told.own_cases(cases, weight)


def _tree(model: Model, state: State) -> tuple[Any, str, bool]:
    from valvecalc.diagnosis.tree import Node, cut, tree

    scope = scope_of(model, state)
    node = tree(scope)
    head = told.start_text(model, str(state["symptom"]))

    def branch(node: Node) -> dict[str, Any]:
        order = [job.id for job in node.choice.order]
        if not node.check:
            return {"reach": node.reach, "repairs": order, "cut": cut(scope, node)}
        outcomes = {outcome: branch(below) for outcome, below in node.branches}
        return {"reach": node.reach, "check": node.check, "outcomes": outcomes}

    own, said = _own_cases(model, state)
    return {"schema": 1, "ok": True, "tree": branch(node)} | own, f"{head}\n{told.tree_text(scope, node)}{said}", True


def _plain(record: Any) -> dict[str, Any]:
    return {key: list(value) if isinstance(value, tuple) else value for key, value in record._asdict().items()}


def suggestion_json(case: Case, advice: Advice, state: Mapping[str, Any]) -> dict[str, Any]:
    """The contract's answer: what comes next with its words, the belief, and the state to go on from."""
    data = {"schema": 1, "ok": True} | as_json(advice) | {"state": dict(state)}
    model = case.scope.model
    data["says"] = [text for text in (*why.notes(case, advice), why.headline(case, advice)) if text]
    if "next" in data:
        record = model.checks[data["next"]["id"]]
        data["next"] |= {
            "title": record.title,
            "how": list(record.steps or (record.how,)),
            "why": why.why_check(case, advice),
            "gates": {
                need: list(model.rules.gates[need].steps) for need in data["next"]["needs"] if need in model.rules.gates
            },
        }
        for outcome in data["next"]["outcomes"]:
            outcome["title"] = record.outcomes[outcome["id"]]
    return data


# ---------------------------------------------------------------- in a terminal


def ask(model: Model, state: State) -> State:
    """Ask on in the terminal until the case ends; an empty line ends it where it is, `back` takes a step back."""
    print(told.start_text(model, str(state["symptom"])))
    while True:
        case = replay(model, state)
        advice = advise(case)
        print("\n" + "-" * 72)
        if advice.question is not None and advice.kind in (CHECK, KILLER):
            gate = next(iter(advice.question.unticked), None)
            step = _ask_gate(case, gate) if gate else _ask_check(case, advice)
        elif advice.kind in (REPAIR, MACHINE) and advice.repairs:
            print(told.advice_text(case, advice))
            step = _ask_cure(advice)
        else:
            return state
        if step == "back":
            state = {**state, "steps": state["steps"][:-1]}
        elif step is None:
            return state
        else:
            state = {**state, "steps": [*state["steps"], step]}


def _line(prompt: str) -> str:
    try:
        return input(prompt).strip()
    except EOFError:
        return ""


def _ask_gate(case: Case, need: str) -> State | str | None:
    model = case.scope.model
    gate = model.rules.gates.get(need)
    print(gate.title if gate else model.rules.needs[need])
    for step in gate.steps if gate else (model.rules.needs[need],):
        while True:
            said = _line(f"  {step}\n  done? yes / no (cannot be had) / back: ").casefold()
            if said in ("no", "n"):
                return {"need": need, "missing": True}
            if said == "back":
                return "back"
            if said == "":
                return None
            if said in ("yes", "y"):
                break
            print("  yes, no, back, or an empty line to stop")
    return {"need": need, "ticked": True}


def _ask_check(case: Case, advice: Advice) -> State | str | None:
    asked = advice.question
    assert asked is not None
    print(told.question_text(case, asked, why.why_check(case, advice)))
    outcomes = [outcome for outcome, _, _ in asked.outcomes] or list(case.scope.model.checks[asked.check].outcomes)
    while True:
        said = _line(f"  1 to {len(outcomes)} in this order, skip, back, or an empty line to stop: ")
        if said == "":
            return None
        if said == "back":
            return "back"
        if said == "skip":
            return {"check": asked.check, "skipped": "not-possible"}
        name = said.partition("=")[2] or said
        if name.isdecimal() and 1 <= int(name) <= len(outcomes):
            name = outcomes[int(name) - 1]
        if name in outcomes:
            return {"check": asked.check, "outcome": name}
        print(f"  {said!r} is none of them")


def _ask_cure(advice: Advice) -> State | str | None:
    job = advice.repairs[0].job
    while True:
        said = _line("  cured? yes / no / back, or an empty line to stop: ").casefold()
        if said in ("", "back"):
            return said or None
        if said in ("yes", "y", "no", "n"):
            return {"repair": job, "cured": said[0] == "y"}


# ---------------------------------------------------------------- into the job file


def path_lines(model: Model, state: Mapping[str, Any]) -> list[str]:
    """The steps of a case, one text each, as the job file keeps them."""
    lines = []
    for step in state["steps"]:
        if "outcome" in step:
            lines.append(f"{step['check']}={step['outcome']}")
        elif "skipped" in step:
            lines.append(f"{step['check']}: not possible")
        elif "repair" in step:
            lines.append(f"{step['repair']}: {'cured' if step['cured'] else 'did not cure'}")
        elif "killer" in step:
            lines.append(f"killer: {step['killer'] or 'unknown'}")
    return lines


def write_path(path: Path, model: Model, state: Mapping[str, Any], case: Case, advice: Advice) -> None:
    """Write the case into a job file as its [finder] table, replacing an earlier one; the rest stays as it is."""
    import json

    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise InputError(Trouble("--job", str(path), "a job file that is there", "Check the name.")) from None
    parse_toml(text.encode(), path.name)
    lines = text.split("\n")  # splitlines would also cut at signs that may stand in a text
    if "[finder]" in lines:
        start = lines.index("[finder]")
        rest = next((i for i in range(start + 1, len(lines)) if lines[i].startswith("[")), len(lines))
        lines[start:rest] = []
    while lines and not lines[-1].strip():
        lines.pop()
    symptom = str(state["symptom"])
    table = {
        "symptom": symptom,
        "situation": str(state.get("situation", AT_MACHINE)),
        "steps": path_lines(model, state),
        "result": why.headline(case, advice) or f"Open: next check {advice.question.check if advice.question else ''}",
    }
    if own := sum(state.get("counts", {}).values()):
        table["own_cases"] = f"{own:g}"
    written = [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in table.items()]
    write_whole(path, ("\n".join([*lines, "", "[finder]", *written]) + "\n").encode())


def say(options: Any) -> int:
    """Run the command: print and return the exit code."""
    data, text, answered = diagnose(options)
    if options.json:
        import json

        print(json.dumps(data, ensure_ascii=False, indent=1))
    else:
        print(text)
    return 0 if answered else 1
