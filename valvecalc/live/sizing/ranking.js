// Twin of selection/ranking.py: candidates judged and ranked, and what flips.

/** Their margins cannot be large (volts) or say nothing of strength (reach): they judge, and do not rank. */
const RANKING_NOT_WEIGHED = new Set(["volts", "limit-volts", "reach"]);
const RANKING_ORDER = { [ACCEPT]: 0, [ASK]: 1, [REJECT]: 2 };

/** One valve against a duty, or by a judge of it: { valve, verdict, rules, margin, loss }. */
const judgeValve = (valve, asked) => {
  const { rules, work } = (typeof asked === "function" ? asked : judgeOf(asked))(valve);
  let verdict = ACCEPT, margin = null;
  for (const rule of rules) {
    if (rule.verdict === REJECT || (rule.verdict === ASK && verdict === ACCEPT)) verdict = rule.verdict;
    if (rule.margin !== null && (margin === null || rule.margin < margin) && !RANKING_NOT_WEIGHED.has(rule.rule)) {
      margin = rule.margin;
    }
  }
  const loss = work.warm.length ? Math.max(...work.warm.map((one) => one.felt)) : null;
  return { valve, verdict, rules, margin, loss };
};

/** The rules of a candidate with one verdict: those that refuse it, those that cannot be decided. */
const rulesWith = (candidate, verdict) => candidate.rules.filter((rule) => rule.verdict === verdict);

/** All valves, best first. */
const rankValves = (valves, asked) => {
  const judging = judgeOf(asked);
  const found = valves.map((valve) => judgeValve(valve, judging)).map((one) => ({ one, key: rankingKey(one) }));
  return found.sort(rankingOrder).map(({ one }) => one);
};

/** What fits before what asks before what is refused; of the refused those with the fewest misses first. */
const rankingKey = (one) => [
  RANKING_ORDER[one.verdict],
  one.verdict === REJECT ? rulesWith(one, REJECT).length : 0,
  one.margin === null ? Infinity : -one.margin,
  one.loss ?? Infinity,
  one.valve.price ?? Infinity,
];

const rankingOrder = (a, b) => {
  const at = a.key.findIndex((part, place) => part !== b.key[place]);
  return at < 0 ? rankingNames(a.one.valve.name, b.one.valve.name) : a.key[at] - b.key[at];
};

/** By code points, as Python orders texts. */
const rankingNames = (a, b) => {
  const [one, other] = [a, b].map((name) => Array.from(name, (mark) => mark.codePointAt(0)));
  const at = one.findIndex((mark, place) => mark !== other[place]);
  return at < 0 ? one.length - other.length : one[at] - (other[at] ?? -1);
};

/** What changes when an entry of the duty changes: whole verdicts, and single rules under one that stays. */
const flipsOf = (valves, before, after) => {
  const old = judgeOf(before), now = judgeOf(after), found = [];
  for (const valve of valves) {
    const first = judgeValve(valve, old), then = judgeValve(valve, now);
    const pairs = first.rules.map((rule, at) => [rule, then.rules[at]]).filter(([a, b]) => a.verdict !== b.verdict);
    if (pairs.length) found.push({ name: valve.name, before: first.verdict, after: then.verdict, rules: pairs });
  }
  return found;
};

/** Entries of the duty that some candidate not refused hangs on, in the order in which the rules ask. */
const toFindOut = (candidates) => {
  const open = candidates.filter((one) => one.verdict !== REJECT).flatMap((one) => rulesWith(one, ASK));
  return [...new Set(open.flatMap((rule) => rule.lacks))].filter((entry) => !entry.startsWith("stock."));
};
