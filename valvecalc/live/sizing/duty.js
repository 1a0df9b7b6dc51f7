// A duty file: what the machine asks of the valve. Twin of duty.py; it leaves out what is wrong and tells all of it.
const DUTY_REPEATED = ["cylinder", "motor"];
const DUTY_TABLES = Object.keys(DATA.duty);

/** A duty from plain data, tables of texts: { duty: { tables, cylinders, motors }, troubles }. */
const dutyFrom = (raw, file) => {
  const troubles = [];
  const tables = {};
  const repeated = { cylinder: [], motor: [] };
  for (const [name, value] of Object.entries(raw)) {
    if (!DUTY_TABLES.includes(name)) {
      const [near] = nearestWords(name, DUTY_TABLES, 1);
      const action = near ? `Did you mean [${near}]?` : `The tables: ${DUTY_TABLES.join(", ")}.`;
      troubles.push(trouble(name, "a table of this name", "a table of a duty file", action, file));
    } else if (DUTY_REPEATED.includes(name)) {
      const rows = Array.isArray(value) ? value : [value];
      repeated[name] = rows.map((row, at) => dutyTable(name, `${name} ${at + 1}`, row, file, troubles));
    } else tables[name] = dutyTable(name, name, value, file, troubles);
  }
  const duty = { tables, cylinders: repeated.cylinder, motors: repeated.motor };
  troubles.push(...dutyContradictions(duty, file));
  if (!Object.keys(raw).length) {
    troubles.push(trouble("the file", "nothing", "a duty file", "Start from one of the demo's duties.", file));
  }
  return { duty, troubles };
};

// The text of an entry that a file may give as a number or as true and false.
const dutyText = (given) => (typeof given === "boolean" ? (given ? "yes" : "no") : textOf(given));
const dutyTable = (name, label, value, file, troubles) => {
  if (!textTable(value)) {
    const got = textCut(textRepr(value), 60);
    troubles.push(trouble(label, got, `a table [${name}]`, `Write [${name}] before it.`, file));
    return {};
  }
  const known = DATA.duty[name];
  const found = {};
  for (const [key, given] of Object.entries(value)) {
    const entry = `${label}.${key}`;
    if (!Object.hasOwn(known, key)) {
      const [near] = nearestWords(key, Object.keys(known), 1);
      const action = near ? `Did you mean ${near}?` : `Its entries: ${Object.keys(known).join(", ")}.`;
      troubles.push(trouble(entry, "an entry of this name", `an entry of [${name}]`, action, file));
      continue;
    }
    if (typeof given === "object" && given !== null) {
      const got = textCut(textRepr(given), 60);
      troubles.push(trouble(entry, got, "one value", "Write it as one text with its unit.", file));
      continue;
    }
    const text = dutyText(given);
    if (isUnknown(text)) continue;
    try { found[key] = readCell(known[key], textStrip(text)); } catch (refused) {
      if (!(refused instanceof Refused)) throw refused;
      troubles.push(trouble(entry, visibleText(text), refused.need, refused.do, file));
    }
  }
  return found;
};

const dutyContradictions = (duty, file) => {
  const found = [];
  const fault = (...told) => found.push(trouble(...told, file));
  duty.cylinders.forEach((cylinder, at) => {
    const name = `cylinder ${at + 1}`;
    const { bore_diameter: bore, rod_diameter: rod } = cylinder;
    if (!missing(bore) && !missing(rod) && rod >= bore) {
      fault(`${name}.rod_diameter`, "a rod as thick as the bore", "a rod thinner than the bore", "Measure again.");
    }
    for (const way of ["extend", "retract"]) {
      if (`${way}_speed` in cylinder && `${way}_time` in cylinder) {
        fault(`${name}.${way}_time`, "speed and time", "one of them", "Leave the less certain one out.");
      }
    }
  });
  const coldest = dutyGet(duty, "oil", "coldest"), hottest = dutyGet(duty, "oil", "hottest");
  if (coldest !== null && hottest !== null && coldest > hottest) {
    fault("oil.coldest", "a coldest oil above the hottest", "the colder of the two", "Exchange them.");
  }
  if (dutyGet(duty, "oil", "grade") !== null && dutyGet(duty, "oil", "viscosity_40") !== null) {
    fault("oil.viscosity_40", "grade and viscosity", "one of them", "Keep the viscosity of its data sheet.");
  }
  const area = dutyGet(duty, "supply", "cable_area");
  if (area !== null && loopPerLength(area) === null) {
    const sizes = DATA.tables["cable.csv"].map((row) => textFigures(row.cable_area * 1e6)).join(", ");
    fault("supply.cable_area", `${textFigures(area * 1e6)} mm²`, "a size of the table", `The sizes: ${sizes} mm².`);
  }
  return found;
};

/** An entry, null if it is not known. */
const dutyGet = (duty, table, key) => duty.tables[table]?.[key] ?? null;

/** Largest resistance per length of one flexible core of this size, null if the cable table has no row for it. */
const loopPerLength = (area) => {
  const row = DATA.tables["cable.csv"].find((one) => Math.abs(one.cable_area - area) < 1e-12);
  return row ? row.class_5_plain : null;
};

/** Every entry that is known, as "table.key" or "cylinder 1.key". */
const dutyEntries = (duty) => {
  const named = [
    ...Object.entries(duty.tables),
    ...duty.cylinders.map((row, at) => [`cylinder ${at + 1}`, row]),
    ...duty.motors.map((row, at) => [`motor ${at + 1}`, row]),
  ];
  return Object.fromEntries(named.flatMap(([name, row]) =>
    Object.entries(row).map(([key, value]) => [`${name}.${key}`, value])));
};

/** The duty with one entry changed, or taken out (null). Throws InputError. */
const changedDuty = (duty, entry, text) => {
  const [label, key] = dutyParted(entry, ".");
  const [kind, number] = dutyParted(label, " ");
  const list = Object.hasOwn(DUTY_LISTS, kind) ? DUTY_LISTS[kind] : null;
  const place = /^[0-9]+$/.test(number) ? Number(number) - 1 : 0;
  if (!entry.includes(".") || !DUTY_TABLES.includes(kind) || (list && !duty[list][place])) {
    const need = 'an entry as "pump.flow" or "cylinder 1.extend_load"';
    throw new InputError([trouble("entry", entry, need, `The tables: ${DUTY_TABLES.join(", ")}.`)]);
  }
  const troubles = [];
  const { [key]: gone, ...others } = (list ? duty[list][place] : duty.tables[kind]) || {};
  const made = { ...others, ...dutyTable(kind, label, { [key]: missing(text) ? "unknown" : text }, null, troubles) };
  if (troubles.length) throw new InputError(troubles);
  const turned = list ? { ...duty, [list]: duty[list].map((row, at) => (at === place ? made : row)) }
    : { ...duty, tables: { ...duty.tables, [kind]: made } };
  const against = dutyContradictions(turned, null);
  if (against.length) throw new InputError(against);
  return turned;
};
const DUTY_LISTS = { cylinder: "cylinders", motor: "motors" };
const dutyParted = (text, mark) => {
  const at = text.indexOf(mark);
  return at < 0 ? [text, ""] : [text.slice(0, at), text.slice(at + mark.length)];
};

/** What an entry is and how it is found out. */
const dutyMeaning = (entry) => {
  const [label, key] = dutyParted(entry, ".");
  const { meaning, how } = DATA.duty[dutyParted(label, " ")[0]][key];
  return [meaning || key.replace(/_/g, " "), how];
};

/** The text of a duty file for tables of texts, as `valvecalc size` reads it; a blank entry is left out. */
const dutyToml = (raw) => {
  const table = (head, row) => {
    const entries = Object.entries(row).filter(([, given]) => textStrip(dutyText(given)));
    return [head, ...entries.map(([key, given]) => `${dutyKey(key)} = ${dutyQuoted(dutyText(given))}`)].join("\n");
  };
  const tables = Object.entries(raw).flatMap(([name, given]) => {
    const key = dutyKey(name);
    return Array.isArray(given) ? given.map((row) => table(`[[${key}]]`, row)) : [table(`[${key}]`, given)];
  });
  return `${tables.join("\n\n")}\n`;
};
const dutyKey = (key) => (/^[A-Za-z0-9_-]+$/.test(key) ? key : dutyQuoted(key));
const dutyQuoted = (text) => JSON.stringify(text).replace(/\x7f/g, "\\u007f"); // TOML's escapes are JSON's and this one
