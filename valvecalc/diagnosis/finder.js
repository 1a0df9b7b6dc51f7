// The fault finder for the browser: the same case gives the same belief and the same next step as the Python package.
// Ported function by function, in the same order of operations, from belief.py, repair.py, policy.py, walk.py, chains.py,
// advice.py and why.py of this folder; the reasons stand there. A classic script without requests; the model comes from
// export.py. tests/diagnosis/test_finder_js.py holds both languages together on random cases.
const finder = (() => {
  "use strict";

  const STAGES = ["on-machine", "on-bench", "disassembled"];
  const LEVELS = ["none", "low", "medium", "high"];
  const BENCH_ONLY = "bench-only", AT_MACHINE = "at-machine", MACHINE_CARD = "measure-on-machine", OTHER = "other-unlisted";

  const sum = (numbers) => { let total = 0; for (const one of numbers) total += one; return total; };
  const times = (left, right) => left.map((one, place) => one * right[place]);
  // Nine digits for ranking and printing: two languages differ in the last bits, and equals are common.
  const near = (figure) => Number(figure.toPrecision(9));
  const sorted = (rows, key) => rows.map((row) => [key(row), row]).sort((a, b) => near(a[0]) - near(b[0])).map((pair) => pair[1]);
  const first = (rows, key) => rows.reduce((best, row) => (key(row) < key(best) ? row : best));
  const meet = (set, names) => names.some((name) => set.has(name));
  const own = (table, name) => Object.prototype.hasOwnProperty.call(table, name);

  // ---------------------------------------------------------------- knowledge

  // A packed table as objects that all have every field.
  function unpacked(table) {
    const records = {};
    for (const [id, row] of Object.entries(table.rows)) {
      const record = { id };
      table.fields.forEach((field, place) => { record[field] = place < row.length ? row[place] : table.empty[place]; });
      records[id] = record;
    }
    return records;
  }

  function knowledge(packed) {
    const model = { ...packed };
    for (const name of ["symptoms", "causes", "checks", "roots", "hazards", "gates", "repair_groups"]) model[name] = unpacked(packed[name]);
    const causes = Object.keys(model.causes);
    const patterns = packed.patterns.map((pair) => pair.map((column) => column.map((place) => packed.numbers[place])));
    model.links = {};
    for (const [check, [standard, linked]] of Object.entries(packed.likelihoods)) {
      model.links[check] = { "": patterns[standard] };
      for (const [place, pattern] of Object.entries(linked)) model.links[check][causes[place]] = patterns[pattern];
    }
    return model;
  }

  // P(outcome | cause) by outcome; `again`: discounted for a further check of its evidence group.
  const likelihood = (model, check, cause, again = 0) => (model.links[check][cause] || model.links[check][""])[again];

  // ---------------------------------------------------------------- belief

  // profile: every tag that may be true, null for "not described yet".
  function scope(model, symptom, profile = null, situation = AT_MACHINE, counts = null) {
    const record = model.symptoms[symptom];
    const tags = new Set(profile === null ? Object.keys(model.tags) : [...profile, "all"]);
    const weights = priorOf(model, record, tags, counts);
    const causes = Object.keys(weights);
    const rows = {}, again = {};
    for (const check of Object.values(model.checks)) {
      if (!meet(tags, check.applies_to) || own(record.already_known, check.id)) continue;
      const outcomes = Object.keys(check.outcomes);
      rows[check.id] = outcomes.map((_, place) => causes.map((cause) => likelihood(model, check.id, cause)[place]));
      again[check.id] = outcomes.map((_, place) => causes.map((cause) => likelihood(model, check.id, cause, 1)[place]));
    }
    return { model, symptom, situation, profile: tags, causes, prior: Object.values(weights), rows, again };
  }

  function priorOf(model, symptom, tags, counts) {
    let weights = { ...symptom.candidates };
    if (counts && Object.keys(counts).length) {
      const share = model.scale.repair.file_cases / 100;
      for (const cause in weights) weights[cause] *= share;
      for (const cause in counts) weights[cause] = (weights[cause] || 0) + counts[cause];
    }
    weights = Object.fromEntries(Object.entries(weights).filter(([cause]) => meet(tags, model.causes[cause].applies_to)));
    const total = sum(Object.values(weights));
    for (const cause in weights) weights[cause] /= total;
    return weights;
  }

  // Whether a valve of this description can show the complaint at all.
  function fits(model, symptom, profile) {
    const tags = new Set(profile === null ? Object.keys(model.tags) : [...profile, "all"]);
    const record = model.symptoms[symptom];
    return meet(tags, record.applies_to) && Object.keys(record.candidates).some((cause) => meet(tags, model.causes[cause].applies_to));
  }

  function outcomeRow(scope, check, outcome, repeats) {
    return (repeats ? scope.again : scope.rows)[check][Object.keys(scope.model.checks[check].outcomes).indexOf(outcome)];
  }

  function normalised(weights) {
    const total = sum(weights);
    return total > 0 ? weights.map((weight) => weight / total) : weights;
  }

  const confirmed = (scope, probability) => probability >= scope.model.scale.repair.confirmed;

  // ---------------------------------------------------------------- repair

  function jobs(scope) {
    const members = new Map();
    scope.causes.forEach((name, place) => {
      const cause = scope.model.causes[name];
      const away = scope.situation === BENCH_ONLY && cause.side === "machine";
      const job = away ? MACHINE_CARD : cause.repair_group || name;
      members.set(job, [...(members.get(job) || []), place]);
    });
    const figures = scope.model.scale.repair, parts = scope.model.scale.part_minutes;
    return [...members].map(([id, causes]) => {
      const records = causes.map((place) => scope.model.causes[scope.causes[place]]);
      const card = id === MACHINE_CARD;
      const work = card ? figures.machine_card_minutes : Math.max(...records.map((row) => row.remedy_minutes + (parts[row.repair_class] || 0)));
      return { id, causes, minutes: work + figures.retest_minutes, opened: !card && records.some((row) => row.opened) };
    });
  }

  const openingMinutes = (scope, stage) => sum(STAGES.slice(STAGES.indexOf(stage) + 1).map((later) => scope.model.scale.stage_minutes[later]));

  function repairOrder(weights, todo, opening) {
    const chance = new Map(todo.map((job) => [job, sum(job.causes.map((place) => weights[place]))]));
    const ranked = sorted(todo, (job) => -chance.get(job) / job.minutes);
    const inside = ranked.filter((job) => job.opened);
    let best = 0, count = 0, chances = 0, minutes = opening;
    inside.forEach((job, place) => {
      chances += chance.get(job);
      minutes += job.minutes;
      if (chances / minutes > best) { best = chances / minutes; count = place + 1; }
    });
    const block = new Set(inside.slice(0, count));
    let together = [...block];
    const order = [];
    for (const job of ranked) {
      if (block.has(job)) continue;
      if (together.length && chance.get(job) / job.minutes < best) { order.push(...together); together = []; }
      order.push(job);
    }
    return order.concat(together);
  }

  function prices(todo, causes) {
    const places = new Array(causes).fill(0);
    todo.forEach((job, place) => job.causes.forEach((cause) => { places[cause] = place; }));
    const minutes = todo.map((job) => job.minutes);
    return { jobOf: places, minutes, rate: minutes.map((cost) => 1 / cost), opened: todo.map((job) => job.opened) };
  }

  function expectedMinutes(weights, price, opening) {
    const { jobOf, minutes, rate, opened } = price;
    const chance = new Array(minutes.length).fill(0);
    for (let place = 0; place < jobOf.length; place++) chance[jobOf[place]] += weights[place];
    let left = sum(chance), total = 0;
    const worth = chance.map((one, job) => one * rate[job]);
    const ranked = worth.map((_, job) => job).sort((a, b) => worth[b] - worth[a]);
    if (!opening) {
      for (const job of ranked) { total += left * minutes[job]; left -= chance[job]; }
      return total;
    }
    let best = 0, block = 0, chances = 0, cost = opening;
    const inside = ranked.filter((job) => opened[job]);
    inside.forEach((job, place) => {
      chances += chance[job];
      cost += minutes[job];
      if (chances > best * cost) { best = chances / cost; block = place + 1; }
    });
    const together = inside.slice(0, block);
    const open = () => {
      block = 0;
      total += left * opening;
      for (const one of together) { total += left * minutes[one]; left -= chance[one]; }
    };
    for (const job of ranked) {
      if (opened[job] && together.includes(job)) continue;
      if (block && worth[job] < best) open();
      total += left * minutes[job];
      left -= chance[job];
    }
    if (block) open();
    return total;
  }

  // ---------------------------------------------------------------- policy

  function hazardOf(scope, check) {
    const record = scope.model.checks[check];
    const told = scope.profile.size < Object.keys(scope.model.tags).length;
    return told && scope.profile.has("above-50-v") && record.hazards.includes("live") ? "high" : record.hazard;
  }

  function possible(scope, position, check) {
    const record = scope.model.checks[check];
    if (!own(scope.rows, check) || position.skipped.has(check) || meet(position.unmet, record.needs)) return false;
    if (scope.situation === BENCH_ONLY && record.where === STAGES[0] && !record.at_bench) return false;
    const pressed = record.needs.some((need) => scope.model.pressure.includes(need));
    if (position.noPressure && pressed) return false;
    const lookFirst = scope.model.symptoms[scope.symptom].look_first;
    return !(lookFirst.length && !meet(position.answered, lookFirst) && pressed);
  }

  function wayTo(scope, position, check) {
    const known = scope.model.symptoms[scope.symptom].already_known;
    const way = [];
    const add = (name) => {
      if (position.answered.has(name) || own(known, name) || way.includes(name)) return true;
      if (!possible(scope, position, name)) return false;
      for (const earlier of scope.model.checks[name].after) {
        if (!add(earlier) && !scope.model.checks[earlier].may_be_missed) return false;
      }
      way.push(name);
      return true;
    };
    return add(check) ? way : null;
  }

  function wayMinutes(scope, way, stage) {
    const scale = scope.model.scale;
    let total = 0, place = STAGES.indexOf(stage);
    for (const name of way) {
      const record = scope.model.checks[name];
      total += record.minutes + scale.hazard_minutes[hazardOf(scope, name)];
      total += record.intrusive ? scale.penalty_minutes.intrusive : 0;
      total += record.destroys_evidence ? scale.penalty_minutes.destroys_evidence : 0;
      const there = STAGES.indexOf(record.where);
      total += sum(STAGES.slice(place + 1, there + 1).map((later) => scale.stage_minutes[later]));
      place = Math.max(place, there);
    }
    return [total, STAGES[place]];
  }

  function bits(belief, rows) {
    let gain = 0;
    for (const row of rows) {
      const joint = times(belief, row), chance = sum(joint);
      if (chance > 0) {
        gain -= chance * Math.log2(chance);
        let inner = 0;
        for (let place = 0; place < joint.length; place++) if (joint[place] > 0) inner += joint[place] * Math.log2(row[place]);
        gain += inner;
      }
    }
    return gain;
  }

  const rowsOf = (scope, position, check) => (position.groups.has(scope.model.checks[check].evidence_group) ? scope.again : scope.rows)[check];

  function offered(scope, position) {
    const found = [], early = (name) => scope.model.checks[name].never_first && !position.answered.size;
    for (const check of Object.keys(scope.rows)) {
      if (position.answered.has(check) || early(check)) continue;
      const gain = bits(position.belief, rowsOf(scope, position, check));
      const way = gain > scope.model.figures.tie ? wayTo(scope, position, check) : null;
      if (way && way.length && !early(way[0])) {
        found.push({ check, way, minutes: wayMinutes(scope, way, position.stage)[0], bits: gain, expected: 0 });
      }
    }
    const lower = found.filter((one) => one.way.length === 1 && hazardOf(scope, one.check) !== "high");
    const most = Math.max(0, ...lower.map((one) => one.bits));
    return found.filter((one) => hazardOf(scope, one.way[0]) !== "high" || most < one.bits / 2);
  }

  function choose(scope, position, steps = 2) {
    const price = prices(position.todo, scope.causes.length);
    const opening = openingMinutes(scope, position.stage);
    const now = expectedMinutes(position.belief, price, opening);
    const order = repairOrder(position.belief, position.todo, opening);
    if (position.todo.length < 2) return { option: null, now, order, options: [] };
    const figures = scope.model.figures;
    const byWorth = (one) => -one.bits / one.minutes, byMinutes = (one) => one.expected;
    const ranked = sorted(offered(scope, position), byWorth).slice(0, figures.screened);
    let priced = sorted(ranked.map((one) => oneStep(scope, position, one, price)), byMinutes);
    if (steps > 1) {
      const follow = priced.slice(0, figures.followers / 2);
      for (const one of sorted(priced, byWorth)) if (follow.length < figures.followers && !follow.includes(one)) follow.push(one);
      const deep = priced.slice(0, figures.deepened).map((one) => twoSteps(scope, position, one, price, follow));
      priced = sorted(deep.concat(priced.slice(figures.deepened)), byMinutes);
    }
    const paying = priced.filter((one) => one.expected < now - figures.pays);
    const like = paying.filter((one) => one.expected <= paying[0].expected * figures.like_worth + figures.tie);
    const option = like.length ? first(like, (one) => LEVELS.indexOf(hazardOf(scope, one.way[0]))) : null;
    return { option, now, order, options: priced };
  }

  function oneStep(scope, position, option, price) {
    const opening = openingMinutes(scope, wayMinutes(scope, option.way, position.stage)[1]);
    const after = sum(rowsOf(scope, position, option.check).map((row) => expectedMinutes(times(position.belief, row), price, opening)));
    return { ...option, expected: option.minutes + after };
  }

  function twoSteps(scope, position, option, price, follow) {
    const stage = wayMinutes(scope, option.way, position.stage)[1], opening = openingMinutes(scope, stage);
    const groups = new Set(position.groups).add(scope.model.checks[option.check].evidence_group);
    const ways = [];
    for (const one of follow) {
      const left = one.way.filter((name) => !option.way.includes(name));
      if (left.length && one.check !== option.check) {
        const [minutes, end] = wayMinutes(scope, left, stage);
        ways.push([minutes, openingMinutes(scope, end), rowsOf(scope, { groups }, one.check)]);
      }
    }
    let total = option.minutes;
    const repaired = price.jobOf.map((job) => price.minutes[job]);
    for (const row of rowsOf(scope, position, option.check)) {
      const joint = times(position.belief, row), chance = sum(joint), least = sum(times(joint, repaired));
      let best = expectedMinutes(joint, price, opening);
      for (const [minutes, later, rows] of ways) {
        if (!(minutes * chance + least < best)) continue;
        let value = minutes * chance;
        for (const inner of rows) {
          value += expectedMinutes(times(joint, inner), price, later);
          if (value > best) break;
        }
        best = Math.min(best, value);
      }
      total += best;
    }
    return { ...option, expected: Math.min(option.expected, total) };
  }

  function leading(scope, belief, most = 3) {
    const ranked = sorted(belief.map((_, place) => place), (place) => -belief[place]).slice(0, most);
    return ranked.filter((place) => belief[place] > 0).map((place) => [scope.causes[place], belief[place]]);
  }

  function outcomeViews(scope, position, check) {
    const rows = rowsOf(scope, position, check);
    const views = Object.keys(scope.model.checks[check].outcomes).map((outcome, place) => {
      const joint = times(position.belief, rows[place]);
      return [outcome, sum(joint), leading(scope, normalised(joint))];
    });
    return sorted(views, (view) => -view[1]);
  }

  // ---------------------------------------------------------------- walk

  function start(scope) {
    const stage = scope.situation === BENCH_ONLY ? STAGES[1] : STAGES[0];
    return { belief: scope.prior, answered: new Set(), groups: new Set(), skipped: new Set(), unmet: new Set(), stage, noPressure: false, todo: jobs(scope) };
  }

  function answered(scope, position, check, outcome) {
    const record = scope.model.checks[check], group = record.evidence_group;
    return {
      ...position,
      belief: normalised(times(position.belief, outcomeRow(scope, check, outcome, position.groups.has(group)))),
      answered: new Set(position.answered).add(check),
      groups: new Set(position.groups).add(group),
      stage: wayMinutes(scope, [check], position.stage)[1],
      noPressure: position.noPressure || record.no_pressure_after.includes(outcome),
    };
  }

  function notCured(position, job) {
    const belief = normalised(position.belief.map((part, place) => (job.causes.includes(place) ? 0 : part)));
    return { ...position, belief, todo: position.todo.filter((other) => other.id !== job.id), stage: job.opened ? STAGES[2] : position.stage };
  }

  // The case that a state tells: {symptom, profile, situation, counts, steps}. A step that cannot be taken is left out and
  // told in `faults`; the complaint and the valve must have been looked at before (see `fits`).
  function replay(model, state) {
    const { symptom, profile = null, situation = AT_MACHINE, counts = null, steps = [] } = state;
    const made = scope(model, symptom, profile, situation, counts);
    const now = { scope: made, position: start(made), ticks: new Set(), answers: [], afterwards: [], tried: [], cured: "", killer: null, faults: [] };
    for (const step of steps) {
      const fault = faultOf(model, now, step);
      if (fault) now.faults.push({ step, fault });
      else take(model, now, step);
    }
    return now;
  }

  // Why a step cannot be taken: [id of a sentence, what came], null when it can.
  function faultOf(model, now, step) {
    if ("check" in step) {
      const name = step.check;
      if (!own(model.checks, name)) return ["no-check", name];
      if (now.position.answered.has(name) || now.afterwards.some(([asked]) => asked === name) || now.position.skipped.has(name)) return ["twice", name];
      if ("skipped" in step) return null;
      if (!own(model.checks[name].outcomes, step.outcome)) return ["no-outcome", step.outcome];
      const known = own(model.symptoms[now.scope.symptom].already_known, name);
      if (known && !now.cured) return ["known", name];
      return own(now.scope.rows, name) || known ? null : ["other-valve", name];
    }
    if ("need" in step) return own(model.needs, step.need) ? null : ["no-need", step.need];
    if ("repair" in step) {
      const job = now.position.todo.find((one) => one.id === step.repair);
      if (now.cured || !job) return ["no-repair", step.repair];
      return "cause" in step && !job.causes.some((place) => now.scope.causes[place] === step.cause) ? ["no-cause", step.cause] : null;
    }
    return now.cured && (step.killer === null || own(model.causes, step.killer)) ? null : ["no-killer", step.killer];
  }

  function take(model, now, step) {
    const position = now.position;
    if ("need" in step) {
      const unmet = new Set(position.unmet);
      if (step.ticked) { now.ticks.add(step.need); unmet.delete(step.need); } else { now.ticks.delete(step.need); unmet.add(step.need); }
      now.position = { ...position, unmet };
    } else if ("repair" in step) {
      const job = position.todo.find((one) => one.id === step.repair);
      now.ticks = new Set();
      now.tried.push(job.id);
      if (!step.cured) { now.position = notCured(position, job); return; }
      now.cured = step.cause || now.scope.causes[first(job.causes, (place) => -position.belief[place])];
      const opened = job.opened || model.causes[now.cured].repair_class === "scrap";
      now.position = { ...position, stage: opened ? STAGES[2] : position.stage };
    } else if ("killer" in step) {
      now.killer = step.killer || "";
    } else if ("skipped" in step) {
      now.position = { ...position, skipped: new Set(position.skipped).add(step.check) };
    } else {
      for (const need of model.checks[step.check].needs) for (const gone of model.clears[need] || []) now.ticks.delete(gone);
      if (now.cured) { now.afterwards.push([step.check, step.outcome]); return; }
      const row = outcomeRow(now.scope, step.check, step.outcome, position.groups.has(model.checks[step.check].evidence_group));
      now.position = answered(now.scope, position, step.check, step.outcome);
      now.answers.push({ check: step.check, outcome: step.outcome, row });
    }
  }

  // [answer, its chance in the light of the others], the most surprising first.
  function surprises(now) {
    const found = now.answers.map((answer) => {
      let weights = now.scope.prior;
      for (const other of now.answers) if (other !== answer) weights = times(weights, other.row);
      return [answer, sum(times(normalised(weights), answer.row))];
    });
    return sorted(found, (pair) => pair[1]);
  }

  const contradicting = (now) => (now.answers.length > 1 ? surprises(now).filter((pair) => pair[1] < now.scope.model.figures.contradicts) : []);

  // ---------------------------------------------------------------- chains

  function killers(now) {
    const chains = chainsOf(now), shown = new Map();
    for (const chain of chains) {
      for (const [check, outcome, later] of answersOf(now)) {
        const strength = strengthOf(now, chain, check, outcome, later);
        if (strength >= now.scope.model.figures.shows && strength > (shown.get(chain.killer) || [0])[0]) shown.set(chain.killer, [strength, check, outcome]);
      }
    }
    const [ask, about] = shown.size ? ["", ""] : nextKiller(now, chains);
    const ranked = sorted([...shown], ([, [strength]]) => -strength);
    return { chains, shown: ranked.map(([killer, [, check, outcome]]) => [killer, check, outcome]), ask, about };
  }

  function chainsOf(now) {
    const { model, profile, causes } = now.scope, common = model.scale.frequency;
    const fitting = model.chains.filter((chain) =>
      chain.victim === now.cured && meet(profile, chain.applies_to) && meet(profile, model.causes[chain.killer].applies_to));
    const belief = (chain) => now.position.belief[causes.indexOf(chain.killer)] || 0;
    return sorted(sorted(fitting, (chain) => -common[model.causes[chain.killer].frequency]), (chain) => -belief(chain));
  }

  const answersOf = (now) => now.answers.map((one) => [one.check, one.outcome, false]).concat(now.afterwards.map(([check, outcome]) => [check, outcome, true]));

  function strengthOf(now, chain, check, outcome, later) {
    const model = now.scope.model;
    if (!own(model.links[check], chain.killer)) return 0;
    const place = Object.keys(model.checks[check].outcomes).indexOf(outcome);
    const told = likelihood(model, check, chain.killer)[place];
    const strength = told / likelihood(model, check, "")[place];
    return later ? strength : Math.min(strength, told / likelihood(model, check, chain.victim)[place]);
  }

  function nextKiller(now, chains) {
    if (now.afterwards.length >= now.scope.model.figures.most_checks) return ["", ""];
    const asked = new Set(answersOf(now).map(([check]) => check));
    for (const chain of chains) {
      if (now.scope.situation === BENCH_ONLY && now.scope.model.causes[chain.killer].side === "machine") continue;
      const telling = tellingChecks(now, chain);
      if (telling.filter((check) => asked.has(check)).length >= now.scope.model.figures.enough) continue;
      for (const check of telling) {
        if (asked.has(check)) continue;
        const way = killerWay(now, check, asked);
        if (way.length) return [way[0], chain.killer];
      }
    }
    return ["", ""];
  }

  function tellingChecks(now, chain) {
    const model = now.scope.model, found = [];
    for (const check of Object.keys(model.links)) {
      if (!own(model.links[check], chain.killer) || check === chain.prove) continue;
      const told = likelihood(model, check, chain.killer), healthy = likelihood(model, check, "");
      if (Math.max(...told.map((one, place) => one / healthy[place])) < now.scope.model.figures.clear) continue;
      const worth = sum(told.map((one, place) => one * Math.log(one / healthy[place])));
      found.push([worth / wayMinutes(now.scope, [check], now.position.stage)[0], check]);
    }
    found.sort((a, b) => near(b[0]) - near(a[0]) || (a[1] < b[1] ? 1 : -1));
    return [chain.prove, ...found.map((pair) => pair[1])];
  }

  function killerWay(now, check, asked) {
    const { scope, position } = now, where = scope.model.checks[check].where;
    if (STAGES.indexOf(where) > STAGES.indexOf(position.stage) || !possible(scope, position, check)) return [];
    if (where === STAGES[2]) return [check];
    return wayTo(scope, { ...position, answered: new Set([...position.answered, ...asked]) }, check) || [];
  }

  // ---------------------------------------------------------------- advice

  function advise(now, steps = 2) {
    const { scope, position } = now, top = leading(scope, position.belief);
    const found = {
      kind: "nothing-fits", question: null, choice: null, repairs: [], leading: top,
      confirmed: top.length > 0 && confirmed(scope, top[0][1]), killers: null, measure: [], before: [],
      contradicts: contradicting(now).map(([answer]) => [answer.check, answer.outcome]), retake: null, notes: notesOf(now),
    };
    if (now.cured) return afterCure(now, found);
    if (!top.length) return found;
    const choice = choose(scope, position, steps);
    Object.assign(found, { choice, repairs: choice.order.map((job) => repairOf(now, job)), retake: retakeOf(now) });
    if (choice.option) {
      const check = choice.option.way[0];
      return Object.assign(found, { kind: "check", question: question(now, check, check === choice.option.check ? "" : choice.option.check) });
    }
    let job = choice.order[0];
    if (job.id === OTHER && found.repairs[0].probability < scope.model.figures.mostly && choice.order.length > 1) {
      job = choice.order[1];
      found.repairs = [found.repairs[1], found.repairs[0], ...found.repairs.slice(2)];
    }
    if (job.id === MACHINE_CARD) return Object.assign(found, { kind: "machine-card", measure: machineCard(now) });
    if (job.id === OTHER) return found;
    return Object.assign(found, { kind: "repair", before: beforeOpening(now, job) });
  }

  function question(now, check, toward = "") {
    const { scope, position, ticks } = now, record = scope.model.checks[check];
    const off = scope.situation === BENCH_ONLY || position.stage !== STAGES[0];
    const onBench = Boolean(record.at_bench) && record.where === STAGES[0] && off;
    const needs = onBench ? [] : record.needs;
    return {
      check, place: onBench ? STAGES[1] : record.where, hazard: hazardOf(scope, check),
      caution: onBench ? record.at_bench : record.caution, needs, unticked: needs.filter((need) => !ticks.has(need)), toward,
      outcomes: own(scope.rows, check) ? outcomeViews(scope, position, check) : [],
    };
  }

  function machineCard(now) {
    const { scope, position } = now, model = scope.model;
    let belief = position.belief.map((part, place) => (model.causes[scope.causes[place]].side === "machine" ? part : 0));
    const total = sum(belief) || 1;
    belief = belief.map((part) => part / total);
    const atMachine = { ...scope, situation: AT_MACHINE }, free = { ...position, noPressure: false, unmet: new Set() };
    const worth = [];
    for (const check of Object.keys(scope.rows)) {
      const record = model.checks[check];
      // what can kill is not asked for in a letter, but for a gauge at a point fitted for it
      if (record.hazard === "high" && !record.needs.includes("test-point")) continue;
      if (free.answered.has(check) || record.where !== STAGES[0] || !possible(atMachine, free, check)) continue;
      worth.push([bits(belief, rowsOf(scope, position, check)) / (record.minutes + model.scale.hazard_minutes[record.hazard]), check]);
    }
    const chosen = [], groups = new Set();
    for (const [, check] of sorted(worth, (pair) => -pair[0])) {
      const group = model.checks[check].evidence_group;
      if (chosen.length < scope.model.figures.card_checks && !groups.has(group)) { chosen.push(check); groups.add(group); }
    }
    return chosen;
  }

  function afterCure(now, found) {
    const known = killers(now);
    Object.assign(found, { kind: "closed", killers: known, leading: [[now.cured, 1]] });
    return now.killer === null && known.ask ? Object.assign(found, { kind: "ask-killer", question: question(now, known.ask) }) : found;
  }

  function repairOf(now, job) {
    const belief = now.position.belief;
    const causes = sorted(job.causes, (place) => -belief[place]).filter((place) => belief[place] > 0).map((place) => [now.scope.causes[place], belief[place]]);
    return { job: job.id, causes, probability: sum(causes.map((pair) => pair[1])), minutes: job.minutes, opened: job.opened };
  }

  function beforeOpening(now, job) {
    if (!job.opened || now.position.stage === STAGES[2]) return [];
    const checks = now.scope.model.checks, known = now.scope.model.symptoms[now.scope.symptom].already_known;
    const names = new Set(Object.values(checks).filter((check) => check.destroys_evidence).flatMap((check) => check.after));
    for (const name of [...names]) for (const earlier of checks[name].after) names.add(earlier);
    // By place and then by name, so that both languages list them alike.
    const ordered = [...names].sort((a, b) => STAGES.indexOf(checks[a].where) - STAGES.indexOf(checks[b].where) || (a < b ? -1 : 1));
    return ordered.filter((name) => !now.position.answered.has(name) && !own(known, name) && !checks[name].destroys_evidence);
  }

  function retakeOf(now) {
    if (!now.tried.length || !now.answers.length) return null;
    const [answer, chance] = surprises(now)[0];
    return chance < now.scope.model.figures.retake ? [answer.check, answer.outcome] : null;
  }

  function notesOf(now) {
    const { model, symptom } = now.scope, record = model.symptoms[symptom], { position } = now, notes = [];
    if (record.out_of_service) notes.push("out-of-service");
    if (position.noPressure) notes.push("no-pressure");
    const done = (check) => position.answered.has(check.id) || own(record.already_known, check.id);
    const missed = !Object.values(model.checks).some((check) => check.may_be_missed && done(check));
    if (position.stage === STAGES[2] && missed) notes.push("as-received-missed");
    return notes;
  }

  // ---------------------------------------------------------------- words

  const filled = (template, values) => template.replace(/\{(\w+)\}/g, (whole, name) => (own(values, name) ? String(values[name]) : whole));

  function strength(scope, probability) {
    const table = scope.model.words.strength;
    if (confirmed(scope, probability)) return table.confirmed;
    return probability >= scope.model.figures.likely ? table.likely : probability >= scope.model.figures.possible ? table.possible : table.unlikely;
  }

  const causesIn = (model, names) => names.map((name) => `'${model.causes[name].title}'`).join(" / ");

  // Half to even, as Python rounds.
  function rounded(minutes) {
    const number = near(minutes);
    const low = Math.floor(number), rest = number - low;
    return rest < 0.5 ? low : rest > 0.5 ? low + 1 : low + (low % 2);
  }

  function whyCheck(now, advice) {
    const asked = advice.question, choice = advice.choice;
    if (!asked || !choice || !choice.option) return "";
    const model = now.scope.model, table = model.words.why, [left, right] = parted(now, asked.toward || asked.check);
    const sides = { left: causesIn(model, left), right: causesIn(model, right) };
    const reason = asked.toward ? filled(table.way, { title: model.checks[asked.toward].title, ...sides }) : filled(right.length ? table.first : table.one, sides);
    return `${reason} ${filled(table.worth, { now: rounded(choice.now), expected: rounded(choice.option.expected) })}`;
  }

  function parted(now, check) {
    const belief = now.position.belief, names = now.scope.causes, rows = rowsOf(now.scope, now.position, check);
    const chances = rows.map((row) => sum(times(belief, row)));
    const main = rows[first(rows.map((_, place) => place), (place) => -chances[place])], average = Math.max(...chances);
    const moved = sorted(belief.map((_, place) => place), (place) => belief[place] * (main[place] - average));
    const right = moved.slice(0, now.scope.model.figures.split).filter((place) => belief[place] > 0 && main[place] < average).map((place) => names[place]);
    const left = moved.slice(-now.scope.model.figures.split).reverse().filter((place) => belief[place] > 0 && main[place] > average).map((place) => names[place]);
    return [left.length ? left : right, left.length ? right : []];
  }

  const jobTitle = (model, job) => (model.repair_groups[job] || model.causes[job]).title;

  function headline(now, advice) {
    const model = now.scope.model, table = model.words.end;
    if (advice.kind === "repair") {
      const { job, causes } = advice.repairs[0];
      return confirmed(now.scope, causes[0][1])
        ? filled(table.confirmed, { title: model.causes[causes[0][0]].title })
        : filled(table["repair-first"], { title: jobTitle(model, job) });
    }
    if (advice.kind === "machine-card") return table["machine-card"];
    if (advice.kind === "nothing-fits") return table[advice.leading.length ? "unlisted" : "nothing-fits"];
    if (!advice.killers) return "";
    const title = model.causes[now.cured].title;
    if (advice.kind === "ask-killer") return filled(table["ask-killer"], { title, killer: model.causes[advice.killers.about].title });
    const killer = now.killer || (advice.killers.shown.length && now.killer === null ? advice.killers.shown[0][0] : "");
    if (killer) return filled(table["closed-named"], { title, killer: model.causes[killer].title });
    return filled(table[advice.killers.chains.length ? "closed-unknown" : "closed-none"], { title });
  }

  function notes(now, advice) {
    const model = now.scope.model, table = model.words.note, said = advice.notes.map((note) => table[note]);
    const tell = (id, pairs) => pairs.forEach(([check, outcome]) => {
      const record = model.checks[check];
      said.push(filled(table[id], { title: record.title, outcome: record.outcomes[outcome] }));
    });
    tell("contradicts", advice.contradicts);
    tell("retake", advice.retake ? [advice.retake] : []);
    return said;
  }

  return { knowledge, scope, fits, replay, advise, question, strength, whyCheck, headline, notes, jobTitle, choose, STAGES, AT_MACHINE, BENCH_ONLY };
})();
