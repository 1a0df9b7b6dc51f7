// Twin of selection/demand.py: a duty into what each path, port and coil of a valve has to do.

/** A pressure that a port has to bear: surely at least `low`, at the worst `high`; what would tell between them. */
const demandNeed = (low, high, lacks = []) => ({ low, high, lacks });

/** All that a duty asks, SI; null is not known. */
const demandOf = (duty) => {
  const found = movementsOf(duty);
  const relief = dutyGet(duty, "pump", "relief_pressure");
  const [hot, lacks_hot] = demandOil(duty, "hottest"), [cold, lacks_cold] = demandOil(duty, "coldest");
  const [loop, lacks_loop] = demandLoop(duty);
  const plate = dutyGet(duty, "old", "coil_kind");
  const flows = found.flatMap((one) => [one.inlet_flow, one.return_flow]).filter((flow) => flow);
  return {
    duty,
    old: demandOld(duty),
    movements: found,
    largest_flow: flows.length ? Math.max(...flows) : null,
    lacks_flow: demandAll(found.map((one) => one.lacks_flow)),
    lacks_load: demandAll(found.filter((one) => one.inlet).map((one) => one.lacks_load)),
    unsure: demandAll(found.map((one) => one.unsure)),
    ports: demandPorts(duty, relief),
    path_flows: demandPaths(found),
    tank: demandTank(duty),
    tank_pressure: dutyGet(duty, "lines", "tank_pressure"),
    hot, cold, lacks_hot, lacks_cold,
    relief,
    idle_flow: dutyGet(duty, "pump", "flow"),
    volts: dutyGet(duty, "supply", "voltage") ?? dutyGet(duty, "old", "coil_voltage"),
    kind: dutyGet(duty, "supply", "kind") ?? (["DC", "AC 50 Hz", "AC 60 Hz"].includes(plate) ? plate : null),
    loop, lacks_loop,
    holding: duty.cylinders.map((row, at) => demandHolding(duty, `cylinder ${at + 1}`, row)),
    too_fast: tooFast(duty, found),
  };
};

const demandAll = (lacks) => [...new Set(lacks.flat())];

/** Every path that some movement uses, with the largest flow that is known of it. */
const demandPaths = (found) => {
  const flows = {};
  for (const one of found) {
    for (const [path, flow] of [[one.inlet, one.inlet_flow], [one.outlet, one.return_flow]]) {
      if (path) flows[path] = Math.max(flows[path] || 0, flow || 0);
    }
  }
  return flows;
};

const demandOld = (duty) => {
  const positions = {};
  for (const name of ["rest", "on_a", "on_b", "crossing_a", "crossing_b"]) {
    positions[name] = dutyGet(duty, "old", name);
  }
  return completed(positions, dutyGet(duty, "old", "operator"));
};

const demandTank = (duty) => {
  const steady = dutyGet(duty, "lines", "tank_pressure"), surge = dutyGet(duty, "lines", "tank_surge");
  const lacks = [...lackingIf(steady, "lines.tank_pressure"), ...lackingIf(surge, "lines.tank_surge")];
  const low = (steady || 0) + (surge || 0);
  return demandNeed(low, lacks.length ? Infinity : low, lacks);
};

const demandPorts = (duty, relief) => {
  const found = {};
  for (const port of "pab") {
    found[port] = missing(relief) ? demandNeed(0, Infinity, ["pump.relief_pressure"]) : demandNeed(relief, relief);
  }
  if (!missing(relief)) {
    duty.cylinders.forEach((row, at) => demandRodPort(duty, relief, found, `cylinder ${at + 1}`, row));
  }
  return found;
};

/** What the areas of a cylinder make of the pump's pressure on a rod side whose way back may be shut. */
const demandRodPort = (duty, relief, found, name, row) => {
  const rod = (row.cap_port || "A") === "A" ? "b" : "a";
  const throttled = row.return_throttled;
  if (dutyGet(duty, "ports", "plugged") === rod.toUpperCase() || throttled === false) return;
  const areas = areasOf(row), before = found[rod];
  // A load that pulls the rod out adds to what the pump makes on a shut rod side.
  const out = row.extend_load;
  const lacksLoad = missing(out) && row.hanging !== false ? [`${name}.extend_load`] : [];
  const lacks = lackingIf(throttled, `${name}.return_throttled`);
  if (areas === null) {
    const lacksAreas = movementLacking(name, row, "bore_diameter", "rod_diameter");
    found[rod] = demandNeed(before.low, Infinity, [...before.lacks, ...lacks, ...lacksAreas]);
    return;
  }
  const shut = formula("blocked-side-pressure", {
    cap_side_pressure: relief, piston_area: areas[0], annulus_area: areas[1], load_force: Math.min(out || 0, 0),
  });
  const low = Math.max(before.low, lacks.length ? relief : shut);
  const high = lacksLoad.length ? Infinity : Math.max(before.high, shut);
  found[rod] = demandNeed(low, high, high > low ? [...before.lacks, ...lacks, ...lacksLoad] : before.lacks);
};

const demandOil = (duty, end) => {
  const grade = dutyGet(duty, "oil", "grade"), at = dutyGet(duty, "oil", end);
  const viscosity_40 = dutyGet(duty, "oil", "viscosity_40") ?? (missing(grade) ? null : Number(grade) * 1e-6);
  const lacks = [...lackingIf(viscosity_40, "oil.grade"), ...lackingIf(at, `oil.${end}`)];
  if (lacks.length) return [null, lacks];
  const given = { viscosity_40, oil_temperature: at };
  for (const key of ["viscosity_index", "density_15"]) {
    if (!missing(dutyGet(duty, "oil", key))) given[key] = dutyGet(duty, "oil", key);
  }
  let state;
  try { state = formula("oil-state", given); } catch (fault) {
    if (!(fault instanceof NoValue)) throw fault;
    return [null, [`oil.${end}`]];
  }
  const { kinematic_viscosity: viscosity, density, viscosity: dynamic } = state;
  return [{ temperature: at, viscosity, density, dynamic }, []];
};

const demandLoop = (duty) => {
  const length = dutyGet(duty, "supply", "cable_length"), area = dutyGet(duty, "supply", "cable_area");
  if (length === 0) return [0, []];
  const lacks = [...lackingIf(length, "supply.cable_length"), ...lackingIf(area, "supply.cable_area")];
  const perLength = lacks.length ? null : loopPerLength(area);
  if (missing(perLength)) return [null, lacks.length ? lacks : ["supply.cable_area"]];
  return [formula("cable-resistance", { cable_length: length, resistance_per_length: perLength }), []];
};

/** Area whose oil holds the load, and the load's pressure on it; the smaller area where either side may hold it. */
const demandHolding = (duty, name, row) => {
  const areas = areasOf(row);
  const lacks = movementLacking(name, row, "bore_diameter", "rod_diameter", "extend_load", "retract_load");
  if (areas === null) return [null, null, lacks];
  const sides = holdingSides(row).replace(dutyGet(duty, "ports", "plugged") || "", "");
  const known = [row.extend_load, row.retract_load].filter((load) => !missing(load)).map(Math.abs);
  const area = sides === (row.cap_port || "A") ? areas[0] : areas[1];
  return [area, known.length ? div(Math.max(...known), area) : null, lacks];
};
