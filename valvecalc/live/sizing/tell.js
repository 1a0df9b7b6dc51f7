// The sizing as plain data: twin of selection/tell.py, the same keys, texts letter by letter.
const tellHead = (duty) => ({
  schema: 1,
  kind: "size",
  ok: true,
  version: DATA.version,
  data_version: DATA.data_version,
  title: dutyGet(duty, "duty", "title") || "",
  machine: dutyGet(duty, "duty", "machine") || "",
});
// A function as it is drawn, a position by its text: "" where there is none, null where it is not known.
const tellSymbol = ({ rest, on_a, on_b, crossing_a, crossing_b }, operator, stage) => (
  { function: { rest, on_a, on_b, crossing_a, crossing_b }, operator, stage }
);
const tellOld = ({ duty, old }) => tellSymbol(old, dutyGet(duty, "old", "operator"), dutyGet(duty, "old", "stage"));
const tellFirstCautions = () => ["hold-first", "zero-first"].map((key) => DATA.cautions[DATA.words.common[key]]);
const tellAs = ({ rules }, verdict) => rules.filter((rule) => rule.verdict === verdict);

/**
 * The candidates, best first, with every rule; what is wrong in the list; what an entry changed has turned.
 * `most`: how many are told, null for all; making sentences takes longer than judging. `system`: metric or us.
 */
const told = (asked, candidates, problems = [], changes = [], most = null, system = "metric") => {
  const { duty } = asked, { common } = DATA.words;
  const isWater = ["HFA", "HFB", "HFC"].includes(dutyGet(duty, "oil", "fluid"));
  return {
    ...tellHead(duty),
    old: tellOld(asked),
    cautions: tellFirstCautions(),
    headline: headlineOf(candidates, system),
    notes: [
      ...asked.too_fast.map((name) => wordsFilled(common["too-fast"], { movement: name })),
      ...(isWater ? [common["water-based"]] : []),
    ],
    candidates: (most === null ? candidates : candidates.slice(0, most)).map((one) => tellCandidate(one, asked, system)),
    judged: candidates.length,
    find_out: toFindOut(candidates).map((entry) => ({ entry, what: lackText(entry) })),
    faults: problems.map(({ row, name, column, got, need, do: action }) => ({ row, name, column, got, need, do: action })),
    flips: changes.map((flip) => ({
      id: flip.name,
      before: flip.before,
      after: flip.after,
      rules: flip.rules.map(([before, after]) => ({
        rule: after.rule, before: before.verdict, after: after.verdict, sentence: sentenceOf(after, system),
      })),
    })),
  };
};

/** The answer in a sentence: which fit, or which would once something is found out, or the nearest miss. */
const headlineOf = (candidates, system = "metric") => {
  const { common } = DATA.words, all = candidates.length;
  const fits = candidates.filter((one) => one.verdict === ACCEPT);
  const open = candidates.filter((one) => one.verdict !== ACCEPT && one.verdict !== REJECT);
  if (fits.length) {
    const more = open.length ? ` ${open.length} more may, once what they ask is found out.` : "";
    return `${fits.length} of ${all} fit${fits.length === 1 ? "s" : ""}; best: ${fits[0].valve.name}.${more}`;
  }
  if (open.length) {
    const number = tellAs(open[0], ASK).length;
    const what = `${number} thing${number > 1 ? "s" : ""} to find out`;
    const may = `${open.length} of ${all} may`;
    return `None can be said to fit yet. ${may}; first: ${open[0].valve.name}, ${what}.`;
  }
  if (!all) return `${common["no-candidate"]} The list holds no valve.`;
  const [first] = candidates;
  const misses = tellAs(first, REJECT).map((rule) => tellMiss(rule, system)).join(", ");
  return `${common["no-candidate"]} ${wordsFilled(common.nearest, { name: first.valve.name, misses })}`;
};
const tellMiss = (rule, system) => {
  const title = ruleTitle(rule), name = title[0].toLowerCase() + title.slice(1);
  if (missing(rule.need) && missing(rule.has)) return name;
  const [need, has] = [rule.need, rule.has].map((value) => valueText(rule.rule, value, system));
  return `${name} (needs ${need}, has ${has})`;
};

const tellCandidate = (one, asked, system) => {
  const { valve } = one, work = workOf(valve, asked);
  return {
    id: valve.name,
    verdict: one.verdict,
    interface: valve.interface,
    shelf: valve.shelf,
    quantity: valve.quantity,
    price: valve.price,
    symbol: tellSymbol(valve.function, valve.operator, valve.stage),
    margin: one.margin,
    loss: namedFigure("loss", one.loss, system),
    loss_unit: namedUnit("loss", system)[1],
    cautions: cautionsOf(tellAs(one, REJECT)),
    rules: one.rules.map((rule) => tellRule(rule, system)),
    movements: work.warm.map((warm) => tellMovement(warm, work.cold, system)),
  };
};

const tellRule = (rule, system) => {
  const [[need, unit], [there, other]] = [rule.need, rule.has].map((value) => unitAndValue(rule.rule, value, system));
  const shownOr = (value) => (missing(value) ? null : valueText(rule.rule, value, system));
  return {
    rule: rule.rule,
    title: ruleTitle(rule),
    need: shownOr(rule.need),
    has: shownOr(rule.has),
    margin: rule.margin,
    verdict: rule.verdict,
    sentence: sentenceOf(rule, system),
    ...(unit || other ? { figures: { need, has: there, unit: unit || other } } : {}),
    ...(rule.u ? { margin_uncertainty: 2 * rule.u } : {}),
    ...(rule.lacks.length ? { lacks: [...new Set(rule.lacks)] } : {}),
  };
};

const tellMovement = (warm, cold, system) => {
  const one = warm.movement, again = cold.find((lost) => lost.movement === one);
  return {
    movement: one.name,
    paths: [one.inlet, one.outlet].filter(Boolean),
    inlet_flow: namedFigure("flow", one.inlet_flow, system),
    return_flow: namedFigure("flow", one.return_flow, system),
    flow_unit: namedUnit("flow", system)[1],
    warm: tellCosts(warm, system),
    cold: again ? tellCosts(again, system) : null,
    pressure_unit: namedUnit("loss", system)[1],
    heat: lossHeat(warm),
    heat_unit: "W",
  };
};
const tellCosts = (one, system) => ({
  in: namedFigure("loss", one.drop_in, system),
  out: namedFigure("loss", one.drop_out, system),
  felt: namedFigure("loss", one.felt, system),
  pump: namedFigure("loss", one.pump, system),
});

/** The page for any supplier: one line a figure, what is still to be found out, the cautions first. */
const toldRequest = (asked, system = "metric") => {
  const lines = requestLines(asked, system);
  return {
    ...tellHead(asked.duty),
    old: tellOld(asked),
    cautions: tellFirstCautions(),
    headline: DATA.words.request.title,
    candidates: [],
    request: lines,
    find_out: findOut(lines).map((what) => ({ what })),
    answered: !missing(asked.largest_flow),
  };
};
