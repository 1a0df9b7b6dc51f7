// Twin of selection/judging.py: what a rule of the sizing says, and the few ways to come to a verdict.

const ACCEPT = "accept", REJECT = "reject", ASK = "ask";
const JUDGING_NOTHING = Object.freeze({});
const JUDGING_GUARD = fact("decision-factor");

/**
 * One rule on one valve; numbers in SI, null where there is nothing to tell. `margin` is what is in hand as a share of
 * the need, `u` the standard uncertainty of that share, `lacks` what to find out. `about` is what the sentence tells
 * beside need and has: names with values, or the loss of a movement (then its `movement` is an object).
 */
const ruleOf = (
  rule, verdict, words, need = null, has = null, margin = null, u = 0, lacks = [], about = JUDGING_NOTHING,
) => ({ rule, verdict, words, need, has, margin, u, lacks, about });

/** The rule cannot be decided: what is lacking stands in it. */
const askRule = (rule, lacks, need = null, has = null, words = "ask") =>
  ruleOf(rule, ASK, words, need, has, null, 0, lacks);

/** Those of these columns that are not known of this valve. */
const lackingOf = (valve, ...columns) =>
  columns.filter((column) => missing(valve[column])).map((column) => `stock.${column}`);

/** `has` has to reach `need`; u is the standard uncertainty of `has`. Too near to tell is asked about. */
const atLeast = (rule, need, has, u = 0, about = JUDGING_NOTHING) => judgingTold(rule, has - need, need, has, u, about);

/** `has` must not pass `need`. */
const atMost = (rule, need, has, u = 0, about = JUDGING_NOTHING) => judgingTold(rule, need - has, need, has, u, about);

/** uncertainty.decide, and what it says: `distance` is what is in hand, with a guard band round zero. */
const judgingTold = (rule, distance, need, has, u, about) => {
  const guard = JUDGING_GUARD * u;
  const margin = need ? distance / need : null, share = need ? u / need : 0;
  if (distance >= guard) return ruleOf(rule, ACCEPT, ACCEPT, need, has, margin, share, [], about);
  if (distance < -guard || u === 0) return ruleOf(rule, REJECT, REJECT, need, has, margin, share, [], about);
  return ruleOf(rule, ASK, "near", need, has, margin, share, [], about);
};

/** A rating against a need that may be known between two ends only. */
const ratingRule = (rule, need, has, column) => {
  if (missing(has)) return askRule(rule, [`stock.${column}`, ...need.lacks], need.low || null);
  const told = (verdict, end) => ruleOf(rule, verdict, verdict, end, has, end ? (has - end) / end : null);
  if (has >= need.high) return told(ACCEPT, need.high);
  return has < need.low ? told(REJECT, need.low) : askRule(rule, need.lacks, need.low || null, has);
};

/** Two words that must match. */
const sameRule = (rule, need, has, entry, column) => {
  if (missing(need) || missing(has)) {
    return askRule(rule, [...lackingIf(need, entry), ...lackingIf(has, `stock.${column}`)], need, has);
  }
  const verdict = need === has ? ACCEPT : REJECT;
  return ruleOf(rule, verdict, verdict, need, has);
};
