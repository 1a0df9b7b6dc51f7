// Twin of selection/rules.py: all rules in the order in which they are told, each with what it reads of a valve.

const RULES_COIL = ["coil_voltage", "coil_power"];

/** [rule, all that it reads of a valve]; [] where it reads what the valve loses, which differs from row to row. */
const RULES = [
  [MATCH_RULES.load, ["function"]],
  [MATCH_RULES.interface, ["interface"]],
  [MATCH_RULES.ports, ["function"]],
  [MATCH_RULES.crossing, ["function"]],
  [MATCH_RULES.movements, ["function"]],
  [MATCH_RULES.operator, ["operator"]],
  [MATCH_RULES.fail_safe, ["function", "operator"]],
  [MATCH_RULES.unloads, ["function"]],
  [OTHER_RULES.kind, ["coil_kind"]],
  [OTHER_RULES.volts, [...RULES_COIL, "voltage_tolerance", "coil_kind"]],
  [OTHER_RULES.seals, ["seals", "fluids"]],
  [OTHER_RULES.pressure_p, ["pressure_p"]],
  [OTHER_RULES.pressure_a, ["pressure_a"]],
  [OTHER_RULES.pressure_b, ["pressure_b"]],
  [OTHER_RULES.pressure_t, ["pressure_t"]],
  [FLOW_RULES.shift, ["shift_limit", "limit_ports"]],
  [OTHER_RULES.limit_volts, [...RULES_COIL, "limit_voltage"]],
  [FLOW_RULES.loss, []],
  [FLOW_RULES.pump, []],
  [FLOW_RULES.cold, []],
  [FLOW_RULES.reach, []],
  [FLOW_RULES.runaway, []],
  [FLOW_RULES.pilot, []],
  [FLOW_RULES.drain, ["stage", "drain", "drain_pressure_max"]],
  [OTHER_RULES.thin, ["viscosity_min"]],
  [OTHER_RULES.thick, ["viscosity_max"]],
  [OTHER_RULES.hottest, ["oil_temperature_max"]],
  [OTHER_RULES.coldest, ["oil_temperature_min"]],
  [OTHER_RULES.leakage, ["leakage", "leakage_pressure", "leakage_viscosity"]],
  [OTHER_RULES.winding, [...RULES_COIL, "coil_kind", "winding_class", "limit_winding"]],
  [OTHER_RULES.protection, ["protection"]],
  [OTHER_RULES.area, ["area"]],
  [OTHER_RULES.connector, ["connector"]],
  [OTHER_RULES.shelf, ["quantity", "condition"]],
];

/** The same by what they read: [columns, places of the rules], so that rules on the same columns share one look-up. */
const RULES_READING = [...new Set(RULES.map(([, columns]) => columns.join()))].map((read) =>
  [read ? read.split(",") : [], RULES.flatMap(([, columns], at) => (columns.join() === read ? [at] : []))]);

/**
 * Judges valves against one duty: valve → { rules, work }. What it said of a column's value it says again of the next
 * valve with that value: a list of hundreds holds few different coils, seals and mounting surfaces.
 */
const judgeOf = (asked) => {
  const said = RULES_READING.map(() => new Map());
  return (valve) => {
    const work = workOf(valve, asked), rules = new Array(RULES.length);
    for (let reading = 0; reading < said.length; reading += 1) {
      const columns = RULES_READING[reading][0], places = RULES_READING[reading][1];
      const key = rulesKey(valve, columns);
      let told = columns.length ? said[reading].get(key) : undefined;
      if (told === undefined) {
        told = places.map((at) => RULES[at][0](valve, asked, work));
        if (columns.length) said[reading].set(key, told);
      }
      for (let at = 0; at < places.length; at += 1) rules[places[at]] = told[at];
    }
    return { rules, work };
  };
};

/** What stands for the values of these columns: a plain value for itself (null is no text), several as one text. */
const rulesKey = (valve, columns) => {
  const value = columns.length === 1 ? valve[columns[0]] : columns.map((column) => valve[column]);
  return typeof value === "object" && value !== null ? JSON.stringify(value) : value;
};
