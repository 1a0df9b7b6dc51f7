// Without a stock list: the smallest mounting surface and the figures to ask any supplier for; one page, no maker. Twin
// of selection/request.py, letter by letter.

/** The page, line by line as { what, figure, lacks }; what is not known yet stands with what would tell it. */
const requestLines = (asked, system = "metric") => [
  ...requestMounting(asked, system), ...requestFunction(asked), ...requestFlows(asked, system),
  ...requestPressures(asked, system), ...requestOil(asked, system), ...requestCoil(asked, system),
];

/** What is still lacking, in words, each once. */
const findOut = (lines) => [...new Set(lines.flatMap((line) => line.lacks.map(lackText)))];

const requestLine = (what, figure, ...lacks) => ({ what, figure, lacks });
const requestKnown = (what, figure, ...lacks) =>
  figure ? requestLine(what, figure) : requestLine(what, "to be found out", ...lacks);

const requestMounting = (asked, system) => {
  const old = dutyGet(asked.duty, "old", "interface"), flow = asked.largest_flow, sizes = fact("size-interfaces");
  if (missing(flow)) return [requestKnown("Mounting surface", old, "old.interface", ...asked.lacks_flow)];
  const small = sizes.findIndex((row) => row.flow >= flow);
  const named = small < 0 ? "larger than ISO 4401-10" : sizes[small].interface;
  const told = `${named}, for ${namedText("flow", flow, system)} in its fullest path`;
  if (missing(old)) return [requestLine("Smallest mounting surface", told, "old.interface")];
  const place = sizes.findIndex((row) => row.interface === old);
  const isTight = small < 0 || (place >= 0 && place < small);
  const tail = `; its valves mostly end below that flow (${told}): ask for the limit at this pressure`;
  return [requestLine("Mounting surface", `${old}, as the plate of the old one${isTight ? tail : ""}`)];
};

const REQUEST_POSITIONS = [
  ["rest", "At rest"], ["on_a", "Coil a on"], ["on_b", "Coil b on"], ["crossing_a", "On the way to a"],
  ["crossing_b", "On the way to b"],
];
const requestFunction = ({ duty, old }) => {
  const found = [];
  for (const [name, what] of REQUEST_POSITIONS) {
    const position = old[name];
    const words = missing(position) ? null : `${positionWords(position)} (${positionText(position)})`;
    if (position !== "") found.push(requestKnown(what, words, `old.${name}`));
  }
  found.push(requestKnown("Spool without power", dutyGet(duty, "old", "operator"), "old.operator"));
  const safe = dutyGet(duty, "safety", "fail_safe");
  found.push(requestKnown("When the power goes, the cylinder has to", safe, "safety.fail_safe"));
  const hanging = [...duty.cylinders, ...duty.motors].map((row) => row.hanging);
  if (hanging.some((one) => one !== false)) {
    const told = hanging.includes(true) ? "yes: A and B not joined to T or P at rest" : null;
    found.push(requestKnown("A load hangs on it", told, "cylinder 1.hanging"));
  }
  return found;
};

const requestFlows = (asked, system) => {
  const { duty } = asked, found = [];
  for (const one of asked.movements) {
    const paths = [[one.inlet, one.inlet_flow], [one.outlet, one.return_flow]]
      .filter(([path, flow]) => path && !missing(flow))
      .map(([path, flow]) => `${path[0].toUpperCase()} to ${path[1].toUpperCase()} ${namedText("flow", flow, system)}`);
    found.push(requestKnown(`Flow, ${one.name}`, paths.join(", "), ...one.lacks_flow));
  }
  if (missing(asked.largest_flow) || missing(asked.relief)) {
    found.push(requestKnown("Has to shift", null, ...asked.lacks_flow, "pump.relief_pressure"));
  } else {
    const need = namedText("flow", fact("size-limit-reserve") * asked.largest_flow, system);
    const plugged = dutyGet(duty, "ports", "plugged");
    const use = plugged === "A" || plugged === "B" ? `with ${plugged} plugged` : "with oil flowing in and back";
    const at = namedText("pressure", asked.relief, system);
    const told = `up to ${need} at ${at}, ${use}, at 90 % of the voltage and a hot winding`;
    found.push(requestLine("Has to shift", told));
  }
  const loss = dutyGet(duty, "allowed", "loss");
  const most = missing(loss) ? null : `at most ${namedText("loss", loss, system)}, as the pump feels it`;
  found.push(requestKnown("Loss at these flows", most, "allowed.loss"));
  return found;
};

const requestBearing = ({ high }, system) => (high < Infinity ? namedText("pressure", high, system) : null);
const requestPressures = ({ duty, ports, tank }, system) => {
  const found = Object.entries({ ...ports, t: tank }).map(([port, need]) =>
    requestKnown(`Rating of ${port.toUpperCase()}, at least`, requestBearing(need, system), ...need.lacks));
  if (dutyGet(duty, "old", "stage") === "two-stage") {
    found.push(requestKnown("Pilot", dutyGet(duty, "old", "pilot"), "old.pilot"));
    found.push(requestKnown("Drain", dutyGet(duty, "old", "drain"), "old.drain"));
  }
  return found;
};

const requestOil = (asked, system) => {
  const fluid = dutyGet(asked.duty, "oil", "fluid");
  const found = [requestKnown("Fluid, and seals that bear it", fluid, "oil.fluid")];
  for (const [what, state, lacks] of [
    ["hottest", asked.hot, asked.lacks_hot], ["coldest", asked.cold, asked.lacks_cold],
  ]) {
    const told = missing(state) ? null
      : `${namedText("temperature", state.temperature, system)}, ${namedText("viscosity", state.viscosity, system)}`;
    found.push(requestKnown(`Oil at its ${what}`, told, ...lacks));
  }
  const drift = dutyGet(asked.duty, "allowed", "drift");
  if (!missing(drift) && asked.holding.length && !missing(asked.holding[0][0])) {
    const known = asked.holding.map(([area]) => area).filter((area) => !missing(area));
    const most = namedText("leakage", Math.min(...known.map((area) => drift * area)), system);
    found.push(requestLine("Leakage from a working port at rest, at most", most));
  }
  return found;
};

const requestCoil = ({ duty, volts, kind }, system) => {
  const told = missing(volts) || !kind ? null : `${namedText("supply", volts, system)} ${kind}`;
  const found = [requestKnown("Coil", told, "supply.voltage", "supply.kind")];
  for (const [what, part, key] of [["Plug", "old", "connector"], ["Protection, plug fitted", "supply", "protection"]]) {
    found.push(requestKnown(what, dutyGet(duty, part, key), `${part}.${key}`));
  }
  const ambient = dutyGet(duty, "supply", "ambient");
  const air = missing(ambient) ? null : namedText("temperature", ambient, system);
  found.push(requestKnown("Air round it, at its hottest", air, "supply.ambient"));
  const hazardous = dutyGet(duty, "safety", "hazardous_area");
  const area = missing(hazardous) ? null
    : hazardous ? "yes: the responsible person of the site names the marking" : "no";
  found.push(requestKnown("Hazardous area", area, "safety.hazardous_area"));
  return found;
};
