// Twin of selection/flow_rules.py: losses warm and cold, pump pressure, shift limit, load that runs ahead, pilot oil.

/** Power that both paths of a loss turn into heat. */
const lossHeat = (loss) =>
  formula("throttle-heat", { flow: loss.movement.inlet_flow || 0, pressure_drop: loss.drop_in }) +
  formula("throttle-heat", { flow: loss.movement.return_flow || 0, pressure_drop: loss.drop_out });

/** Standard uncertainty of what a loss costs the pump. Both curves come from one sheet of papers: they err together. */
const lossU = ({ movement, into, out }) =>
  movement.weight_in * pathLoss(into, movement.inlet_flow || 0)[1] +
  movement.weight_out * pathLoss(out, movement.return_flow || 0)[1];

/** The curve with the machine's oil. `viscosity` (kinematic) and `density` are those of the oil of its points. */
const inOil = (curve, state, viscosity, density) => {
  const thin = state.dynamic / (viscosity * density), dense = state.density / density;
  return {
    linear: curve.linear * thin, square: curve.square * dense, thick_linear: curve.thick_linear * thin,
    thick_square: curve.thick_square * dense, spread: curve.spread, largest: curve.largest,
  };
};

/** No path at all: nothing flows in the valve, nothing is lost. */
const FLOW_NO_PATH = { linear: 0, square: 0, thick_linear: 0, thick_square: 0, spread: 0, largest: Infinity };

/** Loss of a path whose curve is `inOil`, and its standard uncertainty. */
const pathLoss = (curve, flow) => {
  const drop = flow * (curve.linear + curve.square * flow);
  let half = curve.spread * drop;
  if (curve.thick_linear !== curve.linear) { // one point: how much goes with viscosity is not known
    half = Math.max(half, Math.abs(flow * (curve.thick_linear + curve.thick_square * flow) - drop));
  }
  return [drop, half / Math.sqrt(3)];
};

/** The losses of a valve in every movement of the duty, warm and cold, and what was lacking for the rest. */
const workOf = (valve, asked) => {
  const curves = valve.curves, lacks = [...asked.lacks_flow];
  let known = asked.movements, reach = 0;
  for (const path in asked.path_flows) {
    const curve = curves[path], flow = asked.path_flows[path];
    if (missing(curve)) lacks.push(`stock.drop_${path}`);
    else if (flow > reach * curve.largest) reach = flow / curve.largest;
  }
  if (missing(valve.drop_viscosity)) {
    if (Object.keys(curves).length) lacks.push("stock.drop_viscosity");
    known = [];
  } else if (lacks.length) {
    known = known.filter((one) =>
      !one.lacks_flow.length && [one.inlet, one.outlet].every((path) => !path || path in curves));
  }
  const warm = flowLosses(valve, known, asked.hot, asked.tank_pressure);
  return { warm, cold: flowLosses(valve, known, asked.cold, asked.tank_pressure), lacks, reach };
};

const flowLosses = (valve, known, state, tank) => {
  if (state === null || !known.length) return [];
  const curves = { "": FLOW_NO_PATH };
  for (const path in valve.curves) curves[path] = flowInOil(valve, path, state);
  return known.map((movement) => {
    const into = curves[movement.inlet], out = curves[movement.outlet];
    const flowIn = movement.inlet_flow || 0, flowOut = movement.return_flow || 0;
    const dropIn = flowIn * (into.linear + into.square * flowIn);
    const dropOut = flowOut * (out.linear + out.square * flowOut);
    const feltIn = movement.weight_in * dropIn, feltOut = movement.weight_out * dropOut;
    let pump = null;
    if (movement.load !== null && tank !== null && movement.inlet) {
      pump = Math.max(movement.load + movement.tank_weight * tank + feltOut, 0) + feltIn;
    }
    return { movement, drop_in: dropIn, drop_out: dropOut, felt: feltIn + feltOut, pump, into, out };
  });
};

const flowInOil = (valve, path, state) =>
  inOil(valve.curves[path], state, valve.drop_viscosity, valve.drop_density || state.density);

/** Accepted with the flow that is known: what could make it larger is asked for. */
const flowUnsure = (rule, asked) =>
  asked.unsure.length && rule.verdict === ACCEPT
    ? { ...rule, verdict: ASK, words: "more-flow", lacks: asked.unsure } : rule;

/** Lacks that make an acceptance a question; a refusal stands whatever they may be. */
const flowAsked = (found, lacks, asked) =>
  lacks.length && found.verdict !== REJECT
    ? askRule(found.rule, lacks, found.need, found.has) : flowUnsure(found, asked);

/** What the valve takes of the pump's pressure, warm, against what is allowed. */
const flowLoss = (valve, asked, work) => {
  const lacks = [...work.lacks, ...asked.lacks_hot], allowed = dutyGet(asked.duty, "allowed", "loss");
  if (!asked.movements.length) return askRule("loss", ["cylinder 1.bore_diameter"]);
  if (!work.warm.length) return askRule("loss", lacks, allowed);
  const worst = work.warm.reduce((most, one) => (one.felt > most.felt ? one : most));
  if (!missing(allowed)) return flowAsked(atMost("loss", allowed, worst.felt, lossU(worst), worst), lacks, asked);
  if (asked.relief === null || lacks.length) {
    const wanted = asked.relief === null ? ["allowed.loss", "pump.relief_pressure"] : [];
    return askRule("loss", [...lacks, ...wanted], null, worst.felt);
  }
  return flowUnsure(ruleOf("loss", ACCEPT, "no-limit", null, worst.felt, null, 0, [], worst), asked);
};

/** Pressure at P with warm oil against the relief valve, with its reserve. */
const flowPump = (valve, asked, work) =>
  flowAtP("pump", work.warm, [...work.lacks, ...asked.lacks_hot], asked, fact("relief-reserve"));

/** The same with the coldest oil and no reserve: beyond it the machine is slow until it has warmed. */
const flowCold = (valve, asked, work) => {
  const found = flowAtP("cold", work.cold, [...work.lacks, ...asked.lacks_cold], asked, 0);
  return found.verdict === REJECT ? { ...found, verdict: ASK, words: "slow" } : found;
};

const flowAtP = (rule, losses, known, asked, reserve) => {
  const lacks = [...new Set([
    ...known, ...asked.lacks_load, ...lackingIf(asked.tank_pressure, "lines.tank_pressure"),
    ...lackingIf(asked.relief, "pump.relief_pressure"),
  ])];
  let worst = null;
  for (const one of losses) if (one.pump !== null && one.pump > (worst ? worst.pump : -1)) worst = one;
  if (worst === null || asked.relief === null) {
    if (!lacks.length && asked.movements.length && !asked.movements.some((one) => one.inlet)) {
      return ruleOf(rule, ACCEPT, "no-pump");
    }
    return askRule(rule, lacks.length ? lacks : ["cylinder 1.extend_load"], asked.relief);
  }
  return flowAsked(atMost(rule, asked.relief - reserve, worst.pump, lossU(worst), worst), lacks, asked);
};

/** How far beyond the last point of its curve the valve is used. */
const flowReach = (valve, asked, work) => {
  const most = fact("path-reach");
  if (!work.reach) return askRule("reach", work.lacks.length ? work.lacks : ["pump.flow"], most);
  const found = atMost("reach", most, work.reach);
  return found.verdict === REJECT ? { ...found, verdict: ASK, words: "near", margin: null } : found;
};

/** Flow of the shift limit at a pressure: straight between its points, level below the first, unknown above. */
const limitAt = (points, pressure) => {
  if (pressure <= points[0][1]) return points[0][0];
  for (let at = 1; at < points.length; at += 1) {
    const [flow, low] = points[at - 1], [next, high] = points[at];
    if (pressure <= high) return flow + (next - flow) * (pressure - low) / (high - low);
  }
  return null;
};

/** Flow at which it still shifts at the relief pressure, against the largest flow in any path. */
const flowShift = (valve, asked) => {
  const lacks = [
    ...asked.lacks_flow, ...lackingIf(asked.relief, "pump.relief_pressure"), ...lackingOf(valve, "shift_limit"),
  ];
  const need = asked.largest_flow === null ? null : fact("size-limit-reserve") * asked.largest_flow;
  if (need === null || asked.relief === null || missing(valve.shift_limit)) {
    return askRule("shift", lacks.length ? lacks : ["pump.flow"], need);
  }
  const limit = limitAt(valve.shift_limit, asked.relief);
  if (limit === null) return askRule("shift", ["stock.shift_limit"], need, null, "beyond");
  const plugged = dutyGet(asked.duty, "ports", "plugged");
  const about = { flow: asked.largest_flow, pressure: asked.relief };
  let found;
  if (plugged === "none" || valve.limit_ports === "one") {
    found = atLeast("shift", need, limit, 0, about);
  } else {
    const oneWay = formula("one-way-limit", { limit_flow: limit });
    const half = oneWay - formula("one-way-limit", { limit_flow: limit, one_way_share: fact("size-one-way-least") });
    found = atLeast("shift", need, oneWay, half / Math.sqrt(3), about);
    if (missing(plugged)) {
      if (found.verdict !== ACCEPT && limit >= need) return askRule("shift", ["ports.plugged"], need, limit);
    } else {
      found = { ...found, words: `one-way-${found.words}` };
      if (found.verdict !== ACCEPT && missing(valve.limit_ports)) {
        return askRule("shift", ["stock.limit_ports"], need, oneWay);
      }
    }
  }
  return flowAsked(found, lacks, asked);
};

/** A load that runs ahead of the oil has to be held back: this valve's own return loss is no brake. */
const flowRunaway = (valve, asked, work) => {
  for (const one of asked.movements) {
    if (one.load !== null && one.load >= 0) continue;
    const name = one.name.split(" going")[0], number = Number(name.split(" ")[1]);
    const row = (name.startsWith("cylinder") ? asked.duty.cylinders : asked.duty.motors)[number - 1] || {};
    const held = row.held_back;
    if (one.load === null) {
      if (row.hanging !== false && held !== true && one.lacks_load.length) return askRule("runaway", one.lacks_load);
      continue;
    }
    if (held === true) continue;
    const need = one.return_ratio ? -one.load / one.return_ratio : -one.load;
    if (missing(held)) return askRule("runaway", [`${name}.held_back`], need);
    const lost = work.warm.find((loss) => loss.movement === one);
    if (!lost || lost.drop_out < need) {
      const braked = lost ? lost.drop_out : null;
      return ruleOf("runaway", REJECT, REJECT, need, braked, null, 0, [], { movement: one.name });
    }
  }
  return ruleOf("runaway", ACCEPT, ACCEPT);
};

/** Pilot pressure that is there at rest and in every movement, over that of the drain. */
const flowPilot = (valve, asked, work) => {
  if (missing(valve.stage)) return askRule("pilot", ["stock.stage"]);
  if (valve.stage === "direct") return ruleOf("pilot", ACCEPT, "direct");
  const unknown = lackingOf(valve, "pilot", "drain", "pilot_pressure_min"), need = valve.pilot_pressure_min;
  if (unknown.length) return askRule("pilot", unknown);
  if (valve.pilot === "external") {
    const old = dutyGet(asked.duty, "old", "pilot");
    if (old === "external") return ruleOf("pilot", ACCEPT, "external", need);
    return missing(old) ? askRule("pilot", ["old.pilot"], need) : askRule("pilot", [], need, null, "no-line");
  }
  const back = valve.drain === "internal" ? asked.tank : null;
  const lacks = [
    ...(back ? back.lacks : []), ...lackingIf(asked.relief, "pump.relief_pressure"), ...lackingOf(valve, "rest"),
  ];
  if (lacks.length) return askRule("pilot", lacks, need);
  let from = { pressure: asked.relief, u: 0, place: "at rest" };
  if (valve.rest && positionJoins(valve.rest, "P", "T")) {
    const open = [
      ...lackingIf(valve.curves.pt, "stock.drop_pt"), ...lackingOf(valve, "drop_viscosity"),
      ...lackingIf(asked.idle_flow, "pump.flow"), ...asked.lacks_hot,
      ...lackingIf(asked.tank_pressure, "lines.tank_pressure"),
    ];
    if (open.length) return askRule("pilot", open, need);
    const [centre, u] = pathLoss(flowInOil(valve, "pt", asked.hot), asked.idle_flow);
    from = { pressure: asked.tank_pressure + centre, u, place: "at rest, with its centre open to the tank" };
  }
  for (const one of work.warm) {
    if (one.pump !== null && one.pump < from.pressure) {
      from = { pressure: one.pump, u: lossU(one), place: one.movement.name };
    }
  }
  const against = back ? back.high : 0;
  const found = atLeast("pilot", need, from.pressure - against, from.u, { place: from.place, drain: against });
  if (found.verdict === REJECT) return found;
  const open = [...work.lacks, ...asked.lacks_load, ...asked.lacks_hot];
  if (open.length) return askRule("pilot", open, found.need, found.has);
  if (missing(valve.pilot_pressure_max)) return askRule("pilot", ["stock.pilot_pressure_max"], found.need, found.has);
  return asked.relief > valve.pilot_pressure_max
    ? ruleOf("pilot", REJECT, "too-high", valve.pilot_pressure_max, asked.relief) : found;
};

/** Where the pilot oil leaves, and the pressure that stands against it there. */
const flowDrain = (valve, asked) => {
  if (missing(valve.stage)) return askRule("drain", ["stock.stage"]);
  if (valve.stage === "direct") return ruleOf("drain", ACCEPT, "direct");
  if (missing(valve.drain)) return askRule("drain", ["stock.drain"]);
  const old = dutyGet(asked.duty, "old", "drain"), lacks = lackingIf(old, "old.drain");
  if (valve.drain === "external") {
    if (old === "external") return ruleOf("drain", ACCEPT, "external");
    return askRule("drain", lacks, null, null, lacks.length ? "ask" : "no-line");
  }
  const found = ratingRule("drain", asked.tank, valve.drain_pressure_max, "drain_pressure_max");
  return found.verdict === ACCEPT && old !== "internal" ? { ...found, verdict: ASK, words: "had-line", lacks } : found;
};

const FLOW_RULES = {
  loss: flowLoss, pump: flowPump, cold: flowCold, reach: flowReach, shift: flowShift, runaway: flowRunaway,
  pilot: flowPilot, drain: flowDrain,
};
