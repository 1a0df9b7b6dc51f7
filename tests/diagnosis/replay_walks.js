// node replay_walks.js MODEL FINDER ASKED TOLD: replays each state of ASKED (one JSON a line), every beginning of its steps,
// and writes what the browser's finder says, in the shape of record_walks.py. Both scripts run as the page runs them.
const fs = require("fs"), vm = require("vm");
const [model, script, asked, told] = process.argv.slice(2);
for (const file of [model, script]) vm.runInThisContext(fs.readFileSync(file, "utf8"), { filename: file });
const { finder, finderModel } = vm.runInThisContext("({ finder, finderModel })");
const known = finder.knowledge(finderModel);

const causes = (pairs) => pairs.map(([id, probability]) => ({ id, probability }));

function plain(advice) {
  const { kind, question, choice, repairs, measure, before, retake, killers } = advice;
  const said = { kind, belief: causes(advice.leading), confirmed: advice.confirmed, notes: advice.notes };
  said.contradicts = advice.contradicts.map(([check, outcome]) => ({ check, outcome }));
  if (question) {
    const { check, toward, place, hazard, caution, needs, unticked, outcomes } = question;
    said.next = { id: check, toward, place, hazard, cautions: [caution], needs, unticked };
    said.next.outcomes = outcomes.map(([id, probability, after]) => ({ id, probability, belief: causes(after) }));
  }
  if (choice) said.minutes = { now: choice.now, with_check: choice.option ? choice.option.expected : null };
  if (repairs.length) said.repairs = repairs.map((one) => ({ id: one.job, probability: one.probability, minutes: one.minutes, causes: causes(one.causes) }));
  if (measure.length) said.measure = measure;
  if (before.length) said.before = before;
  if (retake) said.retake = { check: retake[0], outcome: retake[1] };
  if (killers) {
    const shown = killers.shown.map(([id, check, outcome]) => ({ id, check, outcome }));
    said.killers = { possible: killers.chains.map((chain) => chain.killer), shown, asked_for: killers.about };
  }
  return said;
}

function says(state) {
  const now = finder.replay(known, state);
  if (now.faults.length) return { faults: now.faults };
  const advice = finder.advise(now);
  return {
    causes: now.scope.causes,
    belief: now.position.belief,
    advice: plain(advice),
    why: finder.whyCheck(now, advice),
    headline: finder.headline(now, advice),
    notes: finder.notes(now, advice),
    strength: advice.leading.map(([, chance]) => finder.strength(now.scope, chance)),
  };
}

const out = fs.readFileSync(asked, "utf8").split("\n").filter(Boolean).map((line) => {
  const state = JSON.parse(line);
  return JSON.stringify(Array.from({ length: state.steps.length + 1 }, (_, length) => says({ ...state, steps: state.steps.slice(0, length) })));
});
fs.writeFileSync(told, out.join("\n"));
