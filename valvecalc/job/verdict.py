"""Words for shares in hand: the bands, the headline, and what must be put right."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from valvecalc.answer import Answer
from valvecalc.drawing.rounding import MINUS
from valvecalc.facts import load_toml
from valvecalc.job import alternating
from valvecalc.job.compute import Budget, Findings
from valvecalc.judge import limit_of, verdicts
from valvecalc.meaning import meanings
from valvecalc.units import show

SIGN_OFF, WORKS, ERRATIC, FAILS, CANNOT = "sign-off", "works", "erratic", "will not shift", "cannot tell"
#: Share of the drive that a spring may take before it is named; state by state where an AC coil is looked at first.
SPRING_MOST = 0.6
AC_ORDER = ("no-pressure", "blocked", "flow", "dwell", "duty")
RANKED = (FAILS, ERRATIC, CANNOT, WORKS, SIGN_OFF)


def say(group: str, key: str, **fields: str) -> str:
    """A sentence of data/words/report.toml with its figures."""
    return str(load_toml("words/report.toml")[group][key]).format(**fields)


def label(name: str) -> str:
    """Short words for an entry or a term of the budget."""
    return str(load_toml("words/report.toml")["labels"].get(name, name.replace("_", " ")))


def band(share: float, own: Mapping[str, float]) -> str:
    """The band of a share in hand."""
    limits = dict(own)
    if share >= limit_of("margin-sign-off", limits):
        return SIGN_OFF
    if share >= limit_of("margin-works", limits):
        return WORKS
    return ERRATIC if share >= limit_of("margin-fails", limits) else FAILS


def bands(own: Mapping[str, float]) -> list[dict[str, Any]]:
    """The bands as a margin bar shows them."""
    limits = dict(own)
    return [
        {"to": limit_of("margin-fails", limits), "label": FAILS},
        {"to": limit_of("margin-works", limits), "label": ERRATIC},
        {"to": limit_of("margin-sign-off", limits), "label": WORKS},
        {"to": 1.0, "label": SIGN_OFF},
    ]


def percent(value: float) -> str:
    """A share as whole percent."""
    return show(value, "ratio", "%", 2).replace("-", MINUS)


def newton(answer: Answer, value: float) -> str:
    """A force in the unit of the report."""
    return show(value, "force", answer.unit("margin"), 3).replace("-", MINUS)


def length(answer: Answer, value: float) -> str:
    """A place of the stroke in the unit of the report."""
    return show(value, "length", answer.unit("margin_position"), 3)


def place(budget: Budget) -> str:
    """Where the least is in hand, in words."""
    worst = budget.energise.results["worst"][0]["position"]
    valve = budget.case.valve
    if worst <= 0.35e-3 and worst < valve.overlap:
        return say("place", "start")
    if worst > valve.overlap and worst <= valve.overlap + 2.0 * budget.energise.results["corner_opening"]:
        return say("place", "opening")
    return say("place", "end") if worst == valve.stroke else say("place", "between")


def headline(found: Findings, own: Mapping[str, float]) -> dict[str, Any]:
    """Verdict word, sentences and actions: from the budgets, else from the pick-up readings, else cannot tell."""
    words = [pair for budget in found.budgets.values() for pair in _budget_words(budget, own)]
    words += [
        _bench_words(name, bench, own)
        for name, bench in found.benches.items()
        if name not in found.budgets and "margin_share" in bench.results
    ]
    words += [_go_words(coil, trials) for coil, trials in alternating.by_coil(found.go).items()]
    if not words:
        return {"verdict": CANNOT, "sentence": say("verdict", "cannot tell"), "actions": actions(found, own)}
    words.sort(key=lambda pair: RANKED.index(pair[0]))
    return {"verdict": words[0][0], "sentence": " ".join(text for _, text in words), "actions": actions(found, own)}


def without_pressure(head: Mapping[str, Any], found: Findings, reasons: Sequence[str], scrap: str) -> dict[str, Any]:
    """The headline of a valve that got no pressure: why, and no advice that would need any."""
    told = [one for one in head["actions"] if one not in _read_next(found)]
    told = [say("actions", "scrap", parts=scrap) if scrap else say("actions", "no_pressure"), *told]
    sentence = say("verdict", "no_pressure", reasons=" ".join(reasons))
    if head["verdict"] != CANNOT:
        return {**head, "sentence": f"{sentence} {head['sentence']}", "actions": told}
    return {"verdict": CANNOT, "sentence": sentence, "actions": [one for one in told if one != say("actions", "none")]}


def word_of(budget: Budget, own: Mapping[str, float]) -> str:
    """The band of a budget: as found or at the lowest voltage it must bear, whichever is worse.

    Cannot tell where the flow-force factor alone decides it.
    """
    shares = [budget.energise.results["margin_share"]]
    if budget.hopeful is not None and band(budget.hopeful, own) != band(shares[0], own):
        return CANNOT
    if budget.lowest is not None:
        shares.append(budget.lowest[1])
    return band(min(shares), own)


def _budget_words(budget: Budget, own: Mapping[str, float]) -> list[tuple[str, str]]:
    share = budget.energise.results["margin_share"]
    word = word_of(budget, own)
    if word == CANNOT and budget.hopeful is not None:
        text = say("verdict", "uncalibrated", coil=budget.coil, low=percent(share), high=percent(budget.hopeful))
    else:
        want = percent(limit_of("margin-sign-off", dict(own)))
        found_word = band(share, own)
        found_word = "erratic_lacks" if found_word == ERRATIC and share < 0.0 else found_word
        text = say("verdict", found_word, coil=budget.coil, share=percent(share), lack=percent(-share), want=want)
    if budget.lowest is not None and word != CANNOT and (word != band(share, own) or word in (SIGN_OFF, WORKS)):
        voltage, there = budget.lowest
        text += " " + say("verdict", "lowest", voltage=show(voltage, "voltage", "V", 3), share=percent(there))
    back = budget.release.results["margin"]
    if back >= 0.0:
        return [(word, text)]
    return [
        (word, text),
        (FAILS, say("verdict", "release_fails", coil=budget.coil, margin=newton(budget.release, -back))),
    ]


def _bench_words(name: str, bench: Answer, own: Mapping[str, float]) -> tuple[str, str]:
    share = bench.results["margin_share"]
    word = band(share, own)
    proved = "proved_share" in bench.results or word in (ERRATIC, FAILS)
    voltage = show(bench.values["minimum_voltage"], "voltage", "V", 3)
    state = state_words(bench.results["weakest_state"])
    text = say(
        "verdict", "bench" if proved else "unproved", coil=name, share=percent(share), state=state, voltage=voltage
    )
    return (word if proved else CANNOT, text)


def state_words(state: str) -> str:
    """A state of the bench in words: after a hold, with the ports plugged."""
    return say("states", state) if state else ""


def at_volts(row: Mapping[str, Any]) -> str:
    """The voltage of a trial, if it was written down."""
    return f" at {row['voltage']}" if row["voltage"] else ""


def _go_words(coil: str, trials: Sequence[alternating.Go]) -> tuple[str, str]:
    """An AC coil: where it did not shift, where it did, and whether flow and a hold were tried."""
    did = {
        shifted: _listed(
            [f"{state_words(row['state'])}{at_volts(row)}".strip() for row in trials if row["shifted"] is shifted]
        )
        for shifted in (True, False)
    }
    if alternating.fails(trials):
        text = say("verdict", "ac_fails", coil=coil, states=did[False])
        return FAILS, text + (" " + say("verdict", "ac_shifts", states=did[True]) if did[True] else "")
    if alternating.proved(trials):
        return WORKS, say("verdict", "ac_works", coil=coil, states=did[True])
    return CANNOT, say("verdict", "ac_unproved", coil=coil, states=did[True])


def words_by_coil(found: Findings, own: Mapping[str, float]) -> dict[str, str]:
    """The verdict on each coil: by its budget, else by its pick-up readings, else by its trials."""
    words = {coil: _go_words(coil, trials)[0] for coil, trials in alternating.by_coil(found.go).items()}
    words |= {
        name: _bench_words(name, bench, own)[0]
        for name, bench in found.benches.items()
        if "margin_share" in bench.results
    }
    return words | {name: word_of(budget, own) for name, budget in found.budgets.items()}


def _listed(texts: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(texts[:-1]), *texts[-1:])))


def actions(found: Findings, own: Mapping[str, float]) -> list[str]:
    """What must be put right, largest share of the force first, then coil, supply, wear."""
    told: list[tuple[float, str]] = []
    for name, budget in found.budgets.items():
        share = budget.energise.results["margin_share"]
        worst = budget.energise.results["worst"][0]
        drive = worst["drive"]
        for term, key, least in (
            ("silt_force", "silt", 0.1),
            ("dry_friction", "dry", 0.1),
            ("lateral_friction", "lateral", 0.1),
            ("flow_force", "flow", 0.25),
        ):
            if band(share, own) != SIGN_OFF and worst[term] > least * drive and budget.case.bases[term] != "default":
                told.append(
                    (worst[term] / drive, say("actions", key, force=newton(budget.energise, worst[term]), coil=name))
                )
        spring = worst["spring_force"]
        if band(share, own) in (FAILS, ERRATIC) and spring > SPRING_MOST * drive:
            figures = {"force": newton(budget.energise, spring), "drive": newton(budget.energise, drive)}
            told.append((spring / drive, say("actions", "spring_stiff", **figures)))
    for name, bench in found.benches.items():
        for result, key in (("added_silt", "silt"), ("added_lateral", "lateral")):
            if name not in found.budgets and bench.results.get(result, 0.0) > 0.15:
                told.append(
                    (bench.results[result], say("actions", key, force=percent(bench.results[result]) + " of the force"))
                )
    for name, answer in found.coils.items():
        told += [(0.05, text) for text in _coil_actions(name, answer, own)]
    for one in found.windings:
        if one.verdict == "reject":
            weight = 0.065 if one.key == "open" else 0.06
            told.append(
                (weight, say("actions", f"winding_{one.key}", coil=one.coil, why=one.sentence.partition(";")[0]))
            )
    if found.fit is not None and found.fit.verdict == "reject":
        told.append((0.045, say("actions", "fit_worn", read=found.fit.read.text, new=found.fit.new.text)))
    for path, answer in found.leaks.items():
        if verdicts(answer, dict(own)).get("wear_verdict") == "reject":
            low, high = (
                show(answer.results[key], "length", answer.unit(key), 3)
                for key in ("clearance_touching", "clearance_centred")
            )
            told.append((0.04, say("actions", "worn", path=path, low=low, high=high)))
    told += [(0.03, text) for name, answer in found.spots for text in _spot_actions(name, answer, own)]
    told.sort(key=lambda pair: -pair[0])
    texts = _go_actions(found) + [text for _, text in told] + _read_next(found)
    return list(dict.fromkeys(texts)) or [say("actions", "none")]


def _go_actions(found: Findings) -> list[str]:
    """Of an AC coil the first state in which it does not shift tells where to look."""
    texts = []
    for coil, trials in alternating.by_coil(found.go).items():
        failed = [row["state"] for row in trials if not row["shifted"]]
        first = next((state for state in AC_ORDER if state in failed), None)
        if failed:
            texts.append(say("actions", "ac_burns"))
            texts += [say("actions", f"ac_{first}", coil=coil)] if first else []
    return texts


def _read_next(found: Findings) -> list[str]:
    """What to read next where the readings do not carry a verdict."""
    texts = []
    for name, bench in found.benches.items():
        if name not in found.budgets and "proved_share" not in bench.results:
            lacking = [
                state for state, key in (("flow", "share_flow"), ("dwell", "share_dwell")) if key not in bench.results
            ]
            texts.append(
                say("actions", "read_next", coil=name, states=_listed([state_words(state) for state in lacking]))
            )
    for name, budget in found.budgets.items():
        if budget.hopeful is not None:
            texts.append(say("actions", "read_next", coil=name, states=state_words("flow")))
    for coil, trials in alternating.by_coil(found.go).items():
        if not alternating.fails(trials) and not alternating.proved(trials):
            texts.append(say("actions", "ac_next", coil=coil))
    if not (found.budgets or found.benches or found.go):
        texts.append(say("actions", "read_first_ac" if found.only_ac else "read_first"))
    return texts


def _spot_actions(name: str, answer: Answer, own: Mapping[str, float]) -> Iterator[str]:
    """What a reading that was judged alone and rejected means, in the words of its sheet."""
    for result, verdict in verdicts(answer, dict(own)).items():
        known = meanings(answer.card).get(result)
        if verdict == "reject" and known:
            side = ("-low" if answer.results[result] < 0.0 else "-high") if known["sided"] else ""
            yield f"{name[:1].upper()}{name[1:]}: {known['verdicts'][f'{verdict}{side}']['means']}"


def _coil_actions(name: str, answer: Answer, own: Mapping[str, float]) -> list[str]:
    judged = verdicts(answer, dict(own))
    texts = []
    if judged.get("resistance_deviation") == "reject":
        off = answer.results["resistance_deviation"]
        text = say("actions", "coil_high" if off > 0.0 else "coil_low", coil=name, deviation=percent(abs(off)))
        ratio = answer.results["resistance_20"] / answer.results["expected_resistance_20"]
        texts.append(f"{text} {say('actions', 'coil_times')}" if ratio > 3.0 or ratio < 0.35 else text)
    if judged.get("supply_deviation") == "reject":
        off = answer.results["supply_deviation"]
        voltage = show(answer.values["plug_voltage"] or answer.results["plug_voltage_expected"], "voltage", "V", 3)
        texts.append(
            say(
                "actions",
                "supply" if off < 0.0 else "supply_high",
                coil=name,
                voltage=voltage,
                deviation=percent(abs(off)),
            )
        )
    return texts
