// Whether pressure may come on the stand, and at what a test is run: twin of bench.closed, record.gate and bench_setup.py.
const STAND_PORTS = ["p", "a", "b", "t"];
const STAND_RATED = ["rated_p", "rated_a", "rated_b"];
const said = (text, words = {}) => text.replace(/\{(\w+)\}/g, (_, name) => words[name]);
const capitals = (ports) => ports.map((port) => port.toUpperCase()).join(", ");

/** Why there is no pressure on the stand yet: [reason]; none where zero was proved and the outside lets it in. */
const closedOf = ({ once, ran }) => {
  const { gate, sheet } = DATA.say;
  const { isolation, outside: look } = once;
  const filled = (row) => row && Object.keys(row).length;
  const reasons = [];
  if (!filled(isolation)) reasons.push(sheet.no_isolation);
  else {
    const open = STAND_PORTS.filter((port) => !isEntry(isolation[`gauge_${port}`]));
    if (open.length) reasons.push(said(sheet.zero_open, { ports: capitals(open) }));
    if (isolation.dead_proved !== true) reasons.push(sheet.dead_open);
  }
  if (!filled(look)) return [...reasons, sheet.no_look];
  const against = Object.entries(DATA.sound).filter(([key, sound]) => look[key] !== sound)
    .map(([key]) => said(gate[look[key] === undefined ? `${key}_unknown` : key], { what: String(look[key]) }));
  const unknown = STAND_PORTS.filter((port) => !isEntry(look[`rated_${port}`]));
  if (unknown.length) against.push(said(gate.rating, { ports: capitals(unknown) }));
  if (against.length && ran) against.push(gate.ran);
  return [...reasons, ...against];
};

// ---- figures of the set-up: { text, note } or { needs: [place] }
class Lacking extends Error {
  constructor(...places) { super("lacking"); this.places = places; }
}
const standShown = (name, value, system) => {
  const [, dimension, metric, , us] = DATA.words[name];
  const unit = system === "us" ? us : metric;
  if (isEntry(value) && (value.unit === unit || dimension === "ratio")) return value.text;
  return valvecalc.units.show(isEntry(value) ? value.si : value, dimension, unit, 4);
};
/** A cap in the units shown, rounded down: 160 bar is 2320 psi, not 2321. */
const neverAbove = (name, si, system) => {
  const [, dimension, metric, , us] = DATA.words[name];
  const unit = system === "us" ? us : metric;
  const value = valvecalc.units.fromSi(si, unit, dimension);
  const step = value > 0 ? 10 ** (Math.floor(Math.log10(value)) - 3) : 1;
  const down = Math.floor(value / step + 1e-6) * step;
  return valvecalc.units.show(valvecalc.units.toSi(down, unit, dimension), dimension, unit, 4);
};
const standAsk = (once, table, key) => {
  const value = (once[table] || {})[key];
  if (!isEntry(value)) throw new Lacking(`${table}.${key}`);
  return value;
};
const lowestRating = (once) => {
  const look = once.outside || {};
  const unknown = STAND_RATED.filter((key) => !isEntry(look[key]));
  if (unknown.length) throw new Lacking(...unknown.map((key) => `outside.${key}`));
  return Math.min(...STAND_RATED.map((key) => look[key].si));
};
const capped = (entry, most, what, system) => {
  if (entry.si <= most) return { text: standShown("supply_pressure", entry, system) };
  const rating = neverAbove("supply_pressure", most, system);
  const note = said(DATA.say.sheet.rating_over, { what, text: standShown("supply_pressure", entry, system), rating });
  return { text: rating, note };
};
const STAND_FIGURES = {
  pressure: ({ once, system }) => capped(standAsk(once, "duty", "supply_pressure"), lowestRating(once), "The pressure", system),
  relief({ once, system }) {
    const most = lowestRating(once);
    const wanted = Math.min(standAsk(once, "duty", "supply_pressure").si, most) * (1 + DATA.facts["test-relief-above"]);
    return { text: neverAbove("supply_pressure", Math.min(wanted, most), system) };
  },
  proof({ once, system }) {
    const most = lowestRating(once);
    const wanted = standAsk(once, "duty", "supply_pressure").si * DATA.facts["static-test-share"];
    return { text: neverAbove("supply_pressure", Math.min(wanted, most), system) };
  },
  tank_rating: ({ once, system }) => ({ text: neverAbove("tank_pressure", standAsk(once, "outside", "rated_t").si, system) }),
  tank({ once, system }) {
    const needs = [["outside", "rated_t"], ["duty", "tank_pressure"]].filter(([table, key]) => !isEntry((once[table] || {})[key]));
    if (needs.length) throw new Lacking(...needs.map((one) => one.join(".")));
    return capped(once.duty.tank_pressure, once.outside.rated_t.si, "The tank pressure", system);
  },
  low_volts({ once, coil, system }) {
    const lowest = lowestVolts(flatOf(once, coil));
    if (lowest === null) throw new Lacking("supply.minimum_voltage", "coil.nominal_voltage");
    return { text: standShown("minimum_voltage", lowest, system) };
  },
  hold({ once, system }) {
    const entry = (once.duty || {}).hold_time;
    return { text: isEntry(entry) ? entry.text : standShown("hold_time", DATA.facts["dwell-time"], system) };
  },
  return_flow({ once, coil, system }) {
    const flow = standAsk(once, "duty", "pump_flow");
    const needs = ["bore_diameter", "rod_diameter"].filter((key) => !isEntry(once.duty[key])).map((key) => `duty.${key}`);
    if (!coil.cylinder_side) needs.push("coil.cylinder_side");
    if (needs.length) throw new Lacking(...needs);
    const { bore_diameter: bore, rod_diameter: rod } = flatOf(once, coil);
    const ratio = formula("area-ratio", { bore_diameter: bore.si, rod_diameter: rod.si });
    return { text: standShown("pump_flow", flow.si * (coil.cylinder_side === "rod" ? ratio : 1 / ratio), system) };
  },
};
/** One figure of the set-up: { text, note } or { needs: [field in words] }. */
const figureOf = (name, tables, coil, system) => {
  try { return STAND_FIGURES[name]({ once: tables.once, coil: coil || {}, system }); } catch (lack) {
    if (!(lack instanceof Lacking)) throw lack;
    return { needs: lack.places.map((place) => DATA.places[place]) };
  }
};
/** A value of the job as the set-up shows it; null where it is not known. */
const fromOf = (place, tables, coil, system) => {
  const [table, key] = place.split(".");
  const value = (table === "coil" ? coil || {} : tables.once[table] || {})[key];
  return isEntry(value) ? { text: standShown(DATA.fields[table][key][1], value, system) } : { needs: [DATA.places[place]] };
};
