// Twin of selection/match_rules.py: what must match, mounting and what the ports do; and what holds without power.

const MATCH_WORKING = ["rest", "on_a", "on_b"];

/** Whether a position is known and there is one: "" says that the valve has none. */
const matchIsPosition = (position) => !missing(position) && position !== "";

const matchOne = (position) => (missing(position) ? "not known" : positionText(position));

const matchTold = (fn) => MATCH_WORKING.map((name) => `${name}: ${matchOne(fn[name])}`).join("; ");

const matchUnknown = (old, there, positions) => [
  ...positions.flatMap((name) => lackingIf(old[name], `old.${name}`)),
  ...positions.flatMap((name) => lackingIf(there[name], `stock.${name}`)),
];

/** Mounting surface. */
const matchInterface = (valve, asked) =>
  sameRule("interface", dutyGet(asked.duty, "old", "interface"), valve.interface, "old.interface", "interface");

/** What the spool does without power. */
const matchOperator = (valve, asked) =>
  sameRule("operator", dutyGet(asked.duty, "old", "operator"), valve.operator, "old.operator", "operator");

/** What each port does at rest, on a and on b, against the old valve. */
const matchPorts = (valve, asked) => {
  const old = asked.old, there = valve.function, outcome = compareFunctions(old, there);
  if (outcome === UNKNOWN) return askRule("function", matchUnknown(old, there, MATCH_WORKING));
  if (outcome !== DIFFERENT) {
    const about = { positions: matchTold(there) };
    const verdict = outcome === HOSES ? ASK : ACCEPT;
    return ruleOf("function", verdict, outcome, matchTold(old), matchTold(there), null, 0, [], about);
  }
  for (const position of MATCH_WORKING) {
    const hazards = matchHazards(old[position], there[position]);
    if (hazards.length) {
      const about = { position, hazards }, pair = [matchOne(old[position]), matchOne(there[position])];
      return ruleOf("function", REJECT, REJECT, ...pair, null, 0, [], about);
    }
  }
  const about = { position: "", hazards: [] };
  return ruleOf("function", REJECT, REJECT, matchTold(old), matchTold(there), null, 0, [], about);
};

const matchHazards = (need, there) => {
  if (matchIsPosition(need) && matchIsPosition(there)) return hazardsOf(need, there);
  return !missing(need) && !missing(there) && need !== there ? ["no-position"] : [];
};

/** What is joined for a moment on the way, against the old valve. */
const matchCrossing = (valve, asked) => {
  const old = asked.old, there = valve.function, outcome = compareFunctions(old, there);
  const turnedThere = asItFits(there, outcome === DIFFERENT || outcome === UNKNOWN ? EQUAL : outcome);
  const names = ["a", "b"].filter((side) => old[`on_${side}`] !== "" && there[`on_${side}`] !== "")
    .map((side) => `crossing_${side}`);
  for (const name of names) {
    const need = old[name], found = turnedThere[name];
    if (matchIsPosition(need) && matchIsPosition(found) && need !== found) {
      const about = { hazards: hazardsOf(need, found) };
      return ruleOf("crossing", REJECT, REJECT, matchOne(need), matchOne(found), null, 0, [], about);
    }
  }
  const lacks = matchUnknown(old, there, names);
  if (lacks.length) return askRule("crossing", lacks);
  const pair = names.length ? [matchOne(old[names[0]]), matchOne(turnedThere[names[0]])] : ["", ""];
  return ruleOf("crossing", ACCEPT, ACCEPT, ...pair);
};

/** Whether there is a position for every movement that the duty asks. */
const matchMovements = (valve, asked) => {
  if (!asked.movements.length) return askRule("movements", ["cylinder 1.bore_diameter"]);
  const there = valve.function, positions = MATCH_WORKING.map((name) => there[name]).filter(matchIsPosition);
  for (const { inlet, outlet } of asked.movements) {
    const groups = [inlet, outlet].filter((path) => path).map((path) => [...path.toUpperCase()]);
    const serves = (position) =>
      groups.every((group) => positionJoins(position, ...group)) && (!inlet || !positionJoins(position, "P", "T"));
    if (!positions.some(serves)) {
      const need = groups.map((group) => group.join("-")).join(", ");
      const lacks = MATCH_WORKING.flatMap((name) => lackingIf(there[name], `stock.${name}`));
      return lacks.length
        ? askRule("movements", lacks, need) : ruleOf("movements", REJECT, REJECT, need, matchTold(there));
    }
  }
  return ruleOf("movements", ACCEPT, ACCEPT);
};

/** Whether the spool at rest lets go of a load that hangs. */
const matchLoad = (valve, asked) => {
  const rows = [
    ...asked.duty.cylinders.map((row, at) => [`cylinder ${at + 1}`, row]),
    ...asked.duty.motors.map((row, at) => [`motor ${at + 1}`, row]),
  ];
  const rest = valve.function.rest, unsure = [];
  let hangs = false;
  for (const [name, { hanging, ...row }] of rows) {
    if (hanging === false) continue;
    hangs = hangs || hanging === true;
    if (!matchIsPosition(rest)) {
      if (hanging === true) {
        return missing(rest) ? askRule("load", ["stock.rest"]) : askRule("load", [], null, "none", "stays");
      }
      unsure.push(`${name}.hanging`);
      continue;
    }
    const isOpen = [...holdingSides(row)].some((port) => positionJoins(rest, port, "T"));
    const isDriven = ["A", "B"].some((port) => positionJoins(rest, "P", port));
    if (hanging === true && (isOpen || isDriven)) {
      const words = isOpen ? "float" : "driven";
      return ruleOf("load", REJECT, words, "shut", positionText(rest), null, 0, [], { load: name });
    }
    if (isOpen || isDriven) unsure.push(`${name}.hanging`);
  }
  if (unsure.length || !rows.length) return askRule("load", unsure.length ? unsure : ["cylinder 1.hanging"]);
  return ruleOf("load", ACCEPT, hangs ? "shut" : ACCEPT, null, matchOne(rest));
};

/** Whether the pump runs to tank at rest, as the machine needs it. */
const matchUnloads = (valve, asked) => {
  let need = dutyGet(asked.duty, "pump", "unloads");
  if (missing(need) && matchIsPosition(asked.old.rest)) need = positionJoins(asked.old.rest, "P", "T");
  const rest = valve.function.rest;
  if (missing(need) || missing(rest)) {
    return askRule("unloads", [...lackingIf(need, "pump.unloads"), ...lackingIf(rest, "stock.rest")]);
  }
  const isOpen = matchIsPosition(rest) && positionJoins(rest, "P", "T");
  const words = need === isOpen ? (isOpen ? "open" : "shut") : need ? "holds-pressure" : "unloads";
  return ruleOf("unloads", need === isOpen ? ACCEPT : REJECT, words, need ? "P-T" : "no P-T", matchOne(rest));
};

/** What the cylinder does when the power goes. */
const matchFailSafe = (valve, asked) => {
  const need = dutyGet(asked.duty, "safety", "fail_safe"), rest = valve.function.rest;
  const told = (fits, there) => ruleOf("fail-safe", fits ? ACCEPT : REJECT, fits ? ACCEPT : REJECT, need, there);
  if (missing(need)) return askRule("fail-safe", ["safety.fail_safe"]);
  if (missing(valve.operator)) return askRule("fail-safe", ["stock.operator"], need);
  if (need === "stay" || valve.operator === "detent") {
    return told(need === "stay" && valve.operator === "detent", valve.operator);
  }
  if (missing(rest)) return askRule("fail-safe", ["stock.rest"], need);
  if (rest === "") return told(false, "none");
  const cap = (asked.duty.cylinders.length && asked.duty.cylinders[0].cap_port) || "A", rod = MOVEMENT_OTHER[cap];
  const joins = (...ports) => positionJoins(rest, ...ports);
  const fits = {
    hold: () => !["A", "B"].some((port) => joins(port, "P") || joins(port, "T")),
    free: () => joins("A", "T") && joins("B", "T"),
    extend: () => joins("P", cap) && joins(rod, "T") && !joins("P", "T"),
    retract: () => joins("P", rod) && joins(cap, "T") && !joins("P", "T"),
  };
  return told(fits[need](), positionText(rest));
};

const MATCH_RULES = {
  load: matchLoad, interface: matchInterface, ports: matchPorts, crossing: matchCrossing, movements: matchMovements,
  operator: matchOperator, fail_safe: matchFailSafe, unloads: matchUnloads,
};
