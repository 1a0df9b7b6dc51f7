// Twin of selection/movements.py: which path carries how much in each movement of a duty, and what the load asks.

const MOVEMENT_OTHER = { A: "B", B: "A" };

/** An entry or column to find out, if what it would tell is not known. */
const lackingIf = (value, entry) => (missing(value) ? [entry] : []);

/** Every movement of every cylinder and motor; null is not known, and what is lacking for it stands beside it. */
const movementsOf = (duty) => [
  ...duty.cylinders.flatMap((row, at) => movementCylinder(duty, `cylinder ${at + 1}`, row)),
  ...duty.motors.flatMap((row, at) => movementMotor(duty, `motor ${at + 1}`, row)),
];

const movementMake = (
  name, inlet, outlet, inlet_flow, return_flow, load, [weight_in, weight_out, tank_weight, return_ratio],
  lacks_flow, lacks_load, unsure,
) => ({
  name, inlet, outlet, inlet_flow, return_flow, load, weight_in, weight_out, tank_weight, return_ratio,
  lacks_flow, lacks_load, unsure,
});

/** Whether the rod side's oil joins the pump's in the valve: said, or told by the old valve's positions. */
const movementIsJoined = (duty, row) => {
  if (!missing(row.regenerative)) return row.regenerative;
  const working = ["on_a", "on_b"].map((key) => dutyGet(duty, "old", key));
  if (working.some((position) => position && positionJoins(position, "P", "A", "B"))) return true;
  return working.some(missing) ? null : false;
};

/** Piston and ring area of a cylinder, null if one diameter is not known. */
const areasOf = ({ bore_diameter, rod_diameter }) =>
  missing(bore_diameter) || missing(rod_diameter) ? null
    : [formula("piston-area", { bore_diameter }), formula("annulus-area", { bore_diameter, rod_diameter })];

/** The ports whose oil may hold the load: one, where the signs of the loads tell, else both. */
const holdingSides = (row) => {
  const cap = row.cap_port || "A", out = row.extend_load, back = row.retract_load;
  if (!missing(out) && out < 0 && (back || 0) >= 0) return MOVEMENT_OTHER[cap];
  if (!missing(back) && back < 0 && (out || 0) >= 0) return cap;
  return "AB";
};

const movementLacking = (name, row, ...keys) =>
  keys.filter((key) => missing(row[key])).map((key) => `${name}.${key}`);

/** Flow of pump and accumulator, what is lacking for it, and what could make it larger. */
const movementPump = (duty) => {
  const flow = dutyGet(duty, "pump", "flow");
  const present = dutyGet(duty, "accumulator", "present"), peak = dutyGet(duty, "accumulator", "peak_flow");
  if (missing(flow)) return [null, ["pump.flow"], []];
  if (present === false) return [flow, [], []];
  if (!missing(peak)) return [flow + peak, [], []];
  return [flow, [], [present ? "accumulator.peak_flow" : "accumulator.present"]];
};

const movementSpeed = (row, way) => {
  const speed = row[`${way}_speed`], time = row[`${way}_time`];
  if (!missing(speed)) return speed;
  return missing(time) || missing(row.stroke_length) ? null : row.stroke_length / time;
};

const movementCylinder = (duty, name, row) => {
  const cap = row.cap_port || "A", rod = MOVEMENT_OTHER[cap];
  const isPlugged = dutyGet(duty, "ports", "plugged") === rod;
  const joined = isPlugged ? false : movementIsJoined(duty, row);
  const sides = [cap, isPlugged ? "" : rod];
  return [
    movementOut(duty, name, row, sides, Boolean(joined), joined === null ? [`${name}.regenerative`] : []),
    movementIn(duty, name, row, sides),
  ];
};

/** Flow into the side that is filled: from the speed if that is known, else the pump's. */
const movementFlows = (duty, name, row, way, area) => {
  const speed = movementSpeed(row, way);
  if (speed !== null && area !== null) return [speed * area, [], []];
  const [flow, lacks, unsure] = movementPump(duty);
  return [flow, lacks.length ? [...lacks, `${name}.${way}_speed`] : [], unsure];
};

const movementEfficiency = () => formulaDefault("pressure-to-push", "mechanical_efficiency");

const movementLoad = (name, row, way, area) => {
  const force = row[`${way}_load`];
  if (missing(force)) return [null, [`${name}.${way}_load`]];
  if (area === null) return [null, []];
  // Friction helps to hold a load that runs ahead, so it is taken off there.
  const friction = force >= 0 ? movementEfficiency() : 1 / movementEfficiency();
  return [formula("pressure-on-area", { load_force: force, mechanical_efficiency: friction, area }), []];
};

const movementOut = (duty, name, row, [cap, rod], isJoined, unsure) => {
  const [piston, ring] = areasOf(row) || [null, null];
  const lacksAreas = movementLacking(name, row, "bore_diameter", "rod_diameter");
  const inlet = `p${cap.toLowerCase()}`;
  if (isJoined && piston !== null) {
    const rodArea = piston - ring;
    const [flow, lacks, more] = movementFlows(duty, name, row, "extend", rodArea);
    const filled =
      flow === null ? null : formula("joined-flow", { pump_flow: flow, piston_area: piston, rod_area: rodArea });
    const [load, lacksLoad] = movementLoad(name, row, "extend", rodArea);
    return movementMake(
      `${name} going out, both sides joined`, inlet, `p${rod.toLowerCase()}`, filled,
      filled === null ? null : filled - flow, load, [div(piston, rodArea), div(ring, rodArea), 0, div(ring, piston)],
      lacks, lacksLoad, more,
    );
  }
  const [flow, lacks, more] = movementFlows(duty, name, row, "extend", piston);
  const [load, lacksLoad] = movementLoad(name, row, "extend", piston);
  if (!rod) {
    const away = [...lacksLoad, ...lacksAreas];
    return movementMake(`${name} going out`, inlet, "", flow, 0, load, [1, 0, 0, 0], lacks, away, more);
  }
  const back = flow === null || piston === null ? null
    : formula("return-going-out", { pump_flow: flow, piston_area: piston, annulus_area: ring });
  const ratio = piston && ring ? ring / piston : 1;
  return movementMake(
    `${name} going out`, inlet, `${rod.toLowerCase()}t`, flow, back, load, [1, ratio, ratio, ratio],
    [...lacks, ...lacksAreas], [...lacksLoad, ...lacksAreas], [...more, ...unsure],
  );
};

const movementIn = (duty, name, row, [cap, rod]) => {
  const [piston, ring] = areasOf(row) || [null, null];
  const lacksAreas = movementLacking(name, row, "bore_diameter", "rod_diameter");
  const outlet = `${cap.toLowerCase()}t`;
  if (!rod) { // its load drives it in, through one path
    const speed = movementSpeed(row, "retract");
    const lacks = speed === null ? [`${name}.retract_speed`] : [];
    return movementMake(
      `${name} going in, by its load`, "", outlet, 0, speed === null || piston === null ? null : speed * piston,
      0, [0, 0, 0, 0], [...lacks, ...lacksAreas.filter((one) => one.includes("bore"))], [], [],
    );
  }
  const [flow, lacks, more] = movementFlows(duty, name, row, "retract", ring);
  const back = flow === null || piston === null ? null
    : formula("return-going-in", { pump_flow: flow, piston_area: piston, annulus_area: ring });
  const [load, lacksLoad] = movementLoad(name, row, "retract", ring);
  const ratio = piston && ring ? piston / ring : 1;
  return movementMake(
    `${name} going in`, `p${rod.toLowerCase()}`, outlet, flow, back, load, [1, ratio, ratio, ratio],
    [...lacks, ...lacksAreas], [...lacksLoad, ...lacksAreas], more,
  );
};

const movementMotor = (duty, name, row) => {
  const { displacement, speed, torque } = row;
  const isTimed = !missing(displacement) && !missing(speed);
  const [flow, lacksPump, more] = isTimed ? [displacement * speed, [], []] : movementPump(duty);
  const lacks = flow === null ? [...lacksPump, ...movementLacking(name, row, "displacement", "speed")] : lacksPump;
  const load = missing(torque) || missing(displacement) ? null
    : (2 * Math.PI * torque) / (displacement * movementEfficiency());
  const lacksLoad = movementLacking(name, row, "displacement", "torque");
  return [["one way", "pa", "bt"], ["the other way", "pb", "at"]].map(([way, inlet, outlet]) =>
    movementMake(`${name} going ${way}`, inlet, outlet, flow, flow, load, [1, 1, 1, 1], lacks, lacksLoad, more));
};

/** Movements that want more flow than pump and accumulator give. */
const tooFast = (duty, found) => {
  const [flow, lacks, unsure] = movementPump(duty);
  if (flow === null || lacks.length || unsure.length) return [];
  const taken = (one) =>
    one.name.includes("joined") ? one.inlet_flow - (one.return_flow || 0) : one.inlet_flow;
  return found.filter((one) => one.inlet_flow !== null && taken(one) > flow * 1.05).map((one) => one.name);
};
