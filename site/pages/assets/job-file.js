// A job as a file: the TOML that the command line reads, written and read. What the form does not know is kept as it was.
(function () {
  "use strict";
  const { WORDS, made, one, say, go, sure, tellJob, changed } = shop.bench;
  const jobs = shop.jobs;
  const { isTable, isMarked } = jobs;

  // ---- writing
  // Half a character, which no file can hold, becomes the sign for one.
  const wellFormed = (text) => [...text].map((sign) => (/^[\ud800-\udfff]$/.test(sign) ? "\ufffd" : sign)).join("");
  const quoted = (text) => JSON.stringify(wellFormed(text)).replace(/\x7f/g, "\\u007f");
  const keyed = (key) => (/^[A-Za-z0-9_-]+$/.test(key) ? key : quoted(key));
  // What JavaScript cannot tell from a whole number or a text is marked: { $: [kind, text] }; written again only if it is one.
  const MARKS = {
    date: /^(\d{4}-\d\d-\d\d([T ]\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:\d\d)?)?|\d\d:\d\d(:\d\d(\.\d+)?)?)$/,
    float: /^([+-]?(inf|nan)|-?\d+\.\d+(e[+-]?\d+)?|-?\d+(\.\d+)?e[+-]?\d+)$/, int: /^-?\d+$/,
  };
  function inline(value) {
    if (isMarked(value)) {
      const [kind, text] = value.$;
      return MARKS[kind] && MARKS[kind].test(text) ? text : quoted(String(text));
    }
    if (Array.isArray(value)) return `[${value.map(inline).join(", ")}]`;
    if (isTable(value)) return `{ ${Object.entries(value).map(([key, each]) => `${keyed(key)} = ${inline(each)}`).join(", ")} }`.replace("{  }", "{}");
    return typeof value === "string" ? quoted(value) : String(value);
  }
  const lines = (row) => Object.entries(row).map(([key, value]) => `${keyed(key)} = ${inline(value)}`);
  const plainTable = (value) => isTable(value) && !isMarked(value);
  const tables = (value) => Array.isArray(value) && value.length > 0 && value.every(plainTable);
  function toToml(raw, notes = []) {
    const { schema, ...rest } = raw;
    const entries = Object.entries(rest);
    const head = entries.filter(([, value]) => !plainTable(value) && !tables(value));
    const body = entries.filter(([, value]) => plainTable(value) || tables(value)).flatMap(([key, value]) =>
      (Array.isArray(value) ? value : [value]).map((row) => [Array.isArray(value) ? `[[${keyed(key)}]]` : `[${keyed(key)}]`, ...lines(row)].join("\n")));
    const top = [...notes.map((note) => `# ${note.replace(/[\x00-\x1f\x7f]+/g, " ")}`), ...lines({ schema: schema === undefined ? 1 : schema, ...Object.fromEntries(head) })];
    return `${[top.join("\n"), ...body].join("\n\n")}\n`;
  }

  // The file leaves out what cannot be read, and says so in its first lines: a desk then reads all the rest.
  function exported(raw) {
    const copy = JSON.parse(JSON.stringify(raw));
    const left = [];
    const out = (row, key, where) => {
      left.push(`${where}: ${jobs.plain(row[key]) ?? ""}`);
      delete row[key];
    };
    benchJob.read(copy, [], {}, shop.kept("checks") || []).faults.forEach(({ at, key, table, row }) => out(at, key, `${table} ${row + 1} ${at.when === "as-left" ? "as left " : ""}${key}`));
    [["as_received", "reproduced"], ["acceptance", "result"]].forEach(([table, key]) => jobs.rows(copy[table]).forEach((row) => {
      if (jobs.plain(row[key]) === "not-run" && !jobs.plain(row.why).trim()) out(row, key, `${table} ${key}, without its why`);
    }));
    const promised = (given) => [jobs.isCorrected(given) ? given.value : given].flat().some((each) => typeof each === "string" && /\bsafe(ly)?\b/i.test(each));
    const walk = (row, where) => Object.keys(row).forEach((key) => {
      if (where !== "intake" && !WORDS.quoted.includes(key) && promised(row[key])) out(row, key, `${where} ${key}`);
    });
    walk(copy, "job");
    Object.entries(copy).forEach(([name, value]) => jobs.rows(value).filter((row) => !isMarked(row)).forEach((row) => walk(row, name)));
    return { text: toToml(copy, left.map((each) => `${WORDS.unread}: ${each}`)), left };
  }
  async function save() {
    await shop.load("assets/calculator.js", "assets/job.js");
    const { raw, name } = jobs.open();
    const { text, left } = exported(raw);
    const file = `${name.normalize("NFKD").replace(/[^A-Za-z0-9]+/g, "-").replace(/^-|-$/g, "").toLowerCase().slice(0, 60) || "job"}.toml`;
    const address = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
    made("a", { href: address, download: file }).click();
    setTimeout(() => URL.revokeObjectURL(address), 10000);
    say(`${file} is saved.`);
    one(".bench__left").replaceChildren(made("p", {}, `${file} is saved.`),
      ...(left.length ? [made("p", {}, `${WORDS.unread}:`), made("ul", {}, left.map((each) => made("li", {}, each)))] : []));
  }

  // ---- reading
  function marked(value) {
    if (typeof value === "bigint") return Number.isSafeInteger(Number(value)) ? Number(value) : { $: ["int", String(value)] };
    if (value instanceof tomlReader.TomlDate) return { $: ["date", value.toISOString().replace(/\.000(?=$|[Z+-])/, "")] };
    if (typeof value === "number" && !Number.isFinite(value)) return { $: ["float", Number.isNaN(value) ? "nan" : value < 0 ? "-inf" : "inf"] };
    if (Number.isInteger(value)) return { $: ["float", Math.abs(value) < 1e16 ? `${value}.0` : value.toExponential()] };
    if (Array.isArray(value)) return value.map(marked);
    return isTable(value) ? Object.fromEntries(Object.entries(value).map(([key, each]) => [key, marked(each)])) : value;
  }
  function fromToml(text) {
    return marked(tomlReader.parse(text.replace(/^\ufeff/, "").replace(/\r\n/g, "\n"), { integersAsBigInt: true }));
  }
  async function opened(file) {
    await shop.load("assets/toml.js");
    let raw;
    try { raw = fromToml(new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer())); } catch (fault) {
      const why = fault instanceof TypeError ? "it is no text in UTF-8" : fault.message.split("\n")[0].replace("Invalid TOML document: ", "");
      say(`${file.name} is not opened: ${why}.`);
      return;
    }
    const limits = Object.fromEntries(Object.entries(isTable(raw.limits) ? raw.limits : {}).map(([key, value]) => [key, jobs.plain(value) || ""]));
    const names = Object.keys(limits);
    const checks = jobs.rows(raw.check).filter((row) => ["title", "unit", "good", "caution"].some((key) => key in row) && jobs.plain(row.id))
      .map((row) => Object.fromEntries(["id", "title", "unit", "at_least", "at_most", "good", "caution"].map((key) => [key, jobs.plain(row[key]) || ""])));
    if (jobs.rows(raw.instrument).length || names.length || checks.length) { // a shop.toml: what of it is of use here
      const tools = jobs.rows(raw.instrument).map((row) => Object.fromEntries(["id", "range", "accuracy"].map((key) => [key, jobs.plain(row[key]) || ""])));
      shop.keep("instruments", tools);
      shop.keep("limits", limits);
      shop.keep("checks", checks);
      shop.bench.ownSteps();
      const asked = checks.length ? ` ${WORDS.checks} ${checks.map(({ id, title }) => title || id).join("; ")}.` : "";
      say(`${tools.length} instruments are known now.${names.length ? ` ${WORDS.limits} ${names.join(", ")}.` : ""}${asked}`);
      changed();
      return;
    }
    const begin = () => {
      jobs.begin(raw);
      one(".bench__files").open = false;
      say(`${file.name} is open. Its comments are not kept.`);
      go("job", "");
      changed();
    };
    const twin = jobs.list().find(({ name }) => raw.id !== undefined && name.split(",")[0] === jobs.plain(raw.id));
    if (twin) sure(one(".bench__sure"), `A job ${twin.name} is on this device already. Open the file beside it?`, begin);
    else begin();
    tellJob();
  }
  const acts = { save, open() { one('input[type="file"]').click(); } };
  Object.assign(shop.bench, { file: (name) => acts[name] && acts[name](), opened, toToml, fromToml, exported });
})();
