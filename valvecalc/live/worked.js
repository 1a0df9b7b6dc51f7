// The worked lines of a calculation: the twin of worked.py with printing/scope.py, expression.py and text.py.
// A body is a tree of nodes as body.py writes them; the numbers come from the printed functions, which leave their
// locals in the object that they are given.
//
// A scope says where names are looked up:
//   card    {register, bodies, words} of the calculation whose lines are told; words of all names in its bodies
//   id      whose body the node stands in
//   system  metric or us
//   values  entries and locals in SI, and the record under its name
//   made    local -> the node it was made of (sheets)
//   bound   entry of a called formula -> [scope, node] of what the caller wrote for it

const WORKED_BINARY = { "+": "sum", "-": "difference", "*": "product", "/": "quotient", "**": "power" };
const WORKED_SIGNS = ["<", "≤", ">", "≥", "=", "≠", "and", "or"];
const WORKED_CHOOSING = ["where", "maximum", "minimum"];
const WORKED_FUNCTIONS = { log: "ln", log10: "log₁₀", acos: "arccos", maximum: "max", minimum: "min" };
const WORKED_DONE = {
  "+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "/": div, "**": pow,
  "<": (a, b) => a < b, "≤": (a, b) => a <= b, ">": (a, b) => a > b, "≥": (a, b) => a >= b,
  "=": (a, b) => a === b, "≠": (a, b) => a !== b, minus: (a) => -a, not: (a) => !a,
  sqrt, power, exp, log, log10, cos, tan, acos, tanh, where, maximum, minimum, table, log_table,
};

/** The worked lines for entries in SI (null or absent: not known), as the answer contract has them. */
const workedLines = (card, id, values, system) => {
  const [, kind, , entries] = card.register[id];
  const known = Object.fromEntries(entries.filter((name) => !absent(values[name])).map((name) => [name, values[name]]));
  if (kind === "formula" && entries.some((name) => !(name in known))) return [];
  return workedRows(...workedRun({ card, id, system, bound: {} }, known));
};

/** One run: the scope with its locals, and what it returned. */
const workedRun = (scope, values) => {
  const { record, lines } = scope.card.bodies[scope.id];
  const [work, kind, , entries] = scope.card.register[scope.id];
  const local = {};
  if (kind === "formula") {
    const result = work(...entries.map((name) => values[name]), local);
    return [{ ...scope, values: { ...values, ...local }, made: {} }, result];
  }
  const result = work(values, values, local);
  return [{ ...scope, values: { ...values, ...local, [record]: values }, made: Object.fromEntries(lines) }, result];
};

/** A row for each line that has one value; a line that lacks an entry has none. */
const workedRows = (scope, result) => {
  const { lines, told, record } = scope.card.bodies[scope.id];
  const all = [
    ...lines.map(([name, node]) => [name, node, scope.values[name]]),
    ...told.map(([name, node]) => [name, node, record ? result[name] : result]),
  ];
  const single = all.filter(([, , value]) => value === null || /^(number|string|boolean)$/.test(typeof value));
  return single.map((line) => workedRow(scope, ...line));
};

const workedRow = (scope, name, node, value) => {
  const isNumber = typeof value === "number";
  const unit = isNumber ? workedUnit(scope, name) : "";
  const symbol = workedSymbol(scope, name);
  const { of, steps, where, expression } = workedCalled(...workedSettle(scope, node));
  const numbers = workedPart(where, expression, true);
  const row = {
    name,
    symbol,
    value: isNumber ? fromSi(value, unit, scope.card.words[name].dimension) : value === null ? null : workedWord(value),
    unit,
    symbolic: `${symbol} = ${workedText(workedPart(where, expression, false))}`,
    substituted: numbers.kind === "words" ? "" : workedText(numbers),
  };
  return of ? { ...row, of, steps } : row;
};

/** What a node calls as a whole, a formula or a sheet that one result is taken of: its id and lines. Then the
 *  expression to print: what the formula returns (its last line, in the caller's symbols), else the node. */
const workedCalled = (scope, node) => {
  const { card, system } = scope;
  if (workedHead(node) === "f") {
    const inner = workedEnter(scope, node);
    const [run, result] = workedRun(inner, inner.values);
    const { where, expression } = workedCalled(...workedSettle(run, card.bodies[run.id].told[0][1]));
    return { of: run.id, steps: workedRows(run, result), where, expression };
  }
  if (workedHead(node) === "[" && workedHead(node[1]) === "s") {
    const [, of, record, given] = node[1];
    const values = { ...card.register[of][2], ...workedValue(scope, record), ...workedValues(scope, given) };
    return { of, steps: workedLines(card, of, values, system), where: scope, expression: node };
  }
  return { of: null, steps: [], where: scope, expression: node };
};

// ---- what really stands there

const workedHead = (node) => (Array.isArray(node) ? node[0] : null);
const workedIsLocal = (node) => typeof node === "string" && !node.includes(".");

/** [scope, node]: the caller's expression, the first known reading, the branch taken, what a column was made of. */
const workedSettle = (scope, node, numbers = false) => {
  for (;;) {
    const head = workedHead(node);
    const found = head === "[" ? workedLookedUp(scope, node) : undefined;
    if (typeof node === "string" && node in scope.bound) [scope, node] = scope.bound[node];
    else if (head === "known") node = workedKnown(scope, node.slice(1));
    else if (head === "if" || (head === "where" && numbers)) node = node[workedValue(scope, node[1]) ? 2 : 3];
    else if (found !== undefined) node = found;
    else return [scope, node];
  }
};

/** A column of a local as a column of what the local was made of; undefined if it is that already. */
const workedLookedUp = (scope, [, whose, column]) => {
  if (!workedIsLocal(whose) || !(whose in scope.made)) return undefined;
  const [, made] = workedSettle(scope, scope.made[whose]);
  return workedHead(made) === "{" ? made[1][column] : ["[", made, column];
};

/** The first choice that is not null, of those that lack nothing: a local is undefined if its line lacks an entry. */
const workedKnown = (scope, choices) => {
  const given = scope.values[scope.card.bodies[scope.id].record];
  const met = (need) => need.every((one) => (typeof one === "string" ? !absent(given[one]) : one.some(met)));
  const value = (choice) => (Array.isArray(choice) ? met(choice[1]) || undefined : workedValue(scope, choice));
  const there = choices.filter((choice) => value(choice) !== undefined);
  const found = there[Math.max(0, there.findIndex((choice) => value(choice) !== null))];
  return Array.isArray(found) ? found[0] : found;
};

/** Inside a called formula: its entries print as what the caller wrote; a literal or a call as the entry itself. */
const workedEnter = (scope, [, id, given]) => {
  const bound = {};
  for (const name in given) {
    const [where, what] = workedSettle(scope, given[name]);
    if (workedHead(what) in WORKED_BINARY || workedLeaf(where, what)) bound[name] = [where, what];
  }
  return { ...scope, id, bound, made: {}, values: { ...scope.card.register[id][2], ...workedValues(scope, given) } };
};

/** The vocabulary name whose symbol and unit a node bears, or null if it bears none or is made of parts. */
const workedLeaf = (scope, node) => {
  let name = null;
  if (typeof node === "string") name = node.slice(node.indexOf(".") + 1);
  else if (workedHead(node) === "fact") [, name] = node;
  else if (workedHead(node) === "[" && workedIsLocal(node[1])) [, , name] = node;
  return name !== null && name in scope.card.words ? name : null;
};

/** The value of a node among worked locals. */
const workedValue = (scope, node) => {
  if (typeof node === "string") {
    const [name, field] = node.split(".");
    if (field) return scope.values[name][field];
    return node === "pi" ? Math.PI : scope.values[name];
  }
  if (!Array.isArray(node)) return node;
  const [head, ...rest] = node;
  const value = (inner) => workedValue(scope, inner);
  const { register } = scope.card;
  switch (head) {
    case "'": case "e": return rest[0];
    case "fact": return rest[1];
    case "known": return value(workedKnown(scope, rest));
    case "if": return value(value(rest[0]) ? rest[1] : rest[2]);
    case "and": return rest.every(value);
    case "or": return rest.some(value);
    case "[": return value(rest[0])[rest[1]];
    case "vary": return vary(value(rest[0]), workedValues(scope, rest[1]));
    case "s": return register[rest[0]][0](value(rest[1]), workedValues(scope, rest[2]));
    case "f": {
      const given = workedValues(scope, rest[1]);
      return register[rest[0]][0](...register[rest[0]][3].map((name) => given[name]));
    }
    default: return WORKED_DONE[head](...rest.map(value));
  }
};

const workedValues = (scope, given) =>
  Object.fromEntries(Object.entries(given).map(([name, node]) => [name, workedValue(scope, node)]));

// ---- a node as a tree of printable pieces: {kind, text, parts}

const workedPiece = (kind, text, ...parts) => ({ kind, text, parts });
const workedSymbol = (scope, name) => (scope.card.words[name] || {}).symbol || name.replace(/[_-]/g, " ");
const workedUnit = (scope, name) => scope.card.words[name][scope.system === "us" ? "us" : "metric"];
const workedWord = (value) => {
  if (typeof value === "boolean") return value ? "yes" : "no";
  return absent(value) ? "no value" : value;
};

/** The pieces of a node. `numbers` puts values for symbols; `kelvin`: a temperature in a product or a function. */
const workedPart = (outer, asked, numbers, kelvin = false) => {
  const [scope, node] = workedSettle(outer, asked, numbers);
  const part = (inner, cold = false) => workedPart(scope, inner, numbers, cold);
  const name = workedLeaf(scope, node);
  if (name !== null && numbers) return workedNumber(scope, name, node, kelvin);
  if (name !== null) return workedPiece("symbol", workedSymbol(scope, name));
  if (typeof node === "number") return workedPiece("number", String(node));
  if (node === "pi") return workedPiece("symbol", "π");
  if (typeof node === "string") return workedPiece("words", workedSymbol(scope, node));
  if (!Array.isArray(node)) return workedPiece("words", node === null ? "none" : workedWord(node));
  const [head, ...rest] = node;
  if (head === "'") return workedPiece("words", rest[0]);
  if (head === "e") {
    const raised = workedPiece("power", "", workedPiece("number", "10"), workedPiece("number", String(rest[2])));
    return rest[1] === "1" ? raised : workedPiece("product", "", workedPiece("number", rest[1]), raised);
  }
  if (head === "minus") return workedPiece("minus", "", part(rest[0], kelvin));
  if (head in WORKED_BINARY) {
    const cold = workedCold(scope, node, kelvin || !"+-".includes(head));
    return workedPiece(WORKED_BINARY[head], "", part(rest[0], cold), part(rest[1], cold));
  }
  if (WORKED_SIGNS.includes(head)) return workedPiece("compare", head, ...rest.map((each) => part(each)));
  if (head === "f") return workedFormula(scope, node, numbers, kelvin);
  if (head === "table") return workedPiece("call", workedSymbol(scope, rest[2][1]), part(rest[3]));
  if (head === "where") {
    const [yes, no] = [part(rest[1], kelvin), part(rest[2], kelvin)];
    return workedPiece("cases", "", yes, part(rest[0]), ...(no.kind === "cases" ? no.parts : [no]));
  }
  if (head in WORKED_DONE && head !== "log_table" && head !== "not") {
    const parts = rest.map((each) => part(each, WORKED_CHOOSING.includes(head) ? kelvin : true));
    if (head === "sqrt") return workedPiece("root", "", ...parts);
    if (head === "power") return workedPiece("power", "", ...parts);
    return workedPiece("call", WORKED_FUNCTIONS[head] || head, ...parts);
  }
  return workedPiece("words", workedTold(scope, node));
};

/** A called formula as its own expression; one with locals of its own as its title with its arguments, or its value. */
const workedFormula = (scope, node, numbers, kelvin) => {
  const inner = workedEnter(scope, node);
  const { lines, told, title, result } = scope.card.bodies[inner.id];
  if (!lines.length) return workedPart(inner, told[0][1], numbers, kelvin);
  if (numbers) return workedNumber(scope, result, node, kelvin);
  return workedPiece("call", title, ...Object.keys(node[2]).map((name) => workedPart(inner, name, numbers)));
};

/** A value with its unit: four digits, or as many up to six as are exact, so that an entry stands as it was typed. */
const workedNumber = (scope, name, node, kelvin) => {
  const value = workedValue(scope, node);
  if (typeof value !== "number") return workedPiece("words", workedWord(value));
  const { dimension } = scope.card.words[name];
  const unit = kelvin && dimension === "temperature" ? "K" : workedUnit(scope, name);
  const exact = fromSi(value, unit, dimension);
  const isExact = (n) => Math.abs(Number(exact.toPrecision(n)) - exact) <= 1e-12 * Math.abs(exact);
  const digits = [1, 2, 3, 4, 5, 6].find(isExact) || 4;
  return workedPiece("value", showValue(value, dimension, unit, digits).replace("-", "−"));
};

/** °C may stand in sums, and in a difference of two; °F never, since other entries are per kelvin. */
const workedCold = (scope, node, kelvin) => {
  if (scope.system === "us") return true;
  const [head, left, right] = node;
  if (head !== "-" || !workedIsTemperature(scope, left) || !workedIsTemperature(scope, right)) return kelvin;
  return workedTemperatures(scope, node).some((unit) => unit !== "°C");
};

/** The units in which the temperatures of a sum are printed. */
const workedTemperatures = (outer, asked) => {
  const [scope, node] = workedSettle(outer, asked);
  if (workedHead(node) in WORKED_BINARY) return node.slice(1).flatMap((each) => workedTemperatures(scope, each));
  const name = workedLeaf(scope, node);
  return name !== null && scope.card.words[name].dimension === "temperature" ? [workedUnit(scope, name)] : [];
};

const workedIsTemperature = (outer, asked) => {
  const [scope, node] = workedSettle(outer, asked);
  const head = workedHead(node);
  if (head in WORKED_BINARY) {
    const [left, right] = node.slice(1).map((each) => workedIsTemperature(scope, each));
    return head === "+" ? left || right : head === "-" && left && !right;
  }
  if (WORKED_CHOOSING.includes(head)) return workedIsTemperature(scope, node[node.length - 1]);
  const name = head === "f" || head === "s" ? scope.card.bodies[node[1]].result : workedLeaf(scope, node);
  return name !== null && scope.card.words[name].dimension === "temperature";
};

/** What a primitive or a sheet does, told in words: its numbers stand in rows, not in the line. */
const workedTold = (scope, node) => {
  const [call, column] = workedHead(node) === "[" ? [node[1], workedSymbol(scope, node[2])] : [node, ""];
  switch (workedHead(call)) {
    case "w": return column && call[2] ? call[2].replace("%", column) : call[1];
    case "s": return `${column && `${column} of `}“${scope.card.bodies[call[1]].title}”`;
    case "fact": return workedSymbol(scope, call[1]);
    default: return column || "taken from the rows";
  }
};

// ---- the pieces as one line of text

const WORKED_OPERATORS = { sum: " + ", difference: " − ", product: " · ", quotient: " / " };
const WORKED_LOOSE = ["sum", "difference", "compare"];
const WORKED_LEFT = {
  sum: ["compare"], difference: ["compare"], product: WORKED_LOOSE, quotient: [...WORKED_LOOSE, "quotient"],
};
const WORKED_RIGHT = {
  sum: [...WORKED_LOOSE, "minus"],
  difference: [...WORKED_LOOSE, "minus"],
  product: [...WORKED_LOOSE, "product", "quotient", "minus"],
  quotient: [...WORKED_LOOSE, "product", "quotient", "minus"],
};

const workedText = ({ kind, text, parts }) => {
  const [first, second] = parts;
  if (kind in WORKED_OPERATORS) {
    const left = workedBracketed(first, WORKED_LEFT[kind]);
    return left + WORKED_OPERATORS[kind] + workedBracketed(second, WORKED_RIGHT[kind], true);
  }
  switch (kind) {
    case "power": return (workedIsAtom(first) ? workedText(first) : `(${workedText(first)})`) + workedExponent(second);
    case "minus": return `−${workedBracketed(first, [...WORKED_LOOSE, "minus"], true)}`;
    case "root": return `√(${workedText(first)})`;
    case "call": return `${text}(${parts.map(workedText).join(", ")})`;
    case "compare": return parts.map((each) => workedBracketed(each, ["compare"])).join(` ${text} `);
    case "cases": {
      const told = parts.map(workedText);
      const otherwise = told.pop();
      const pairs = told.flatMap((yes, i) => (i % 2 ? [] : [`${yes} if ${told[i + 1]}`]));
      return `{${pairs.join("; ")}; otherwise ${otherwise}}`;
    }
    default: return text;
  }
};

const workedIsNegative = ({ kind, text }) => (kind === "value" || kind === "number") && /^[-−]/.test(text);

/** Whether a power may stand on it without brackets: (5 µm)³, but c³. */
const workedIsAtom = (piece) =>
  piece.kind === "value"
    ? /^[0-9.]*[0-9][0-9.]*$/.test(piece.text)
    : (piece.kind === "symbol" || piece.kind === "number") && !workedIsNegative(piece);

const workedBracketed = (piece, kinds, belowZero = false) =>
  kinds.includes(piece.kind) || (belowZero && workedIsNegative(piece)) ? `(${workedText(piece)})` : workedText(piece);

const workedExponent = (piece) => {
  if (piece.kind === "number" && !piece.text.includes(".")) {
    return [...piece.text].map((sign) => (sign === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[sign])).join("");
  }
  return workedIsAtom(piece) ? `^${workedText(piece)}` : `^(${workedText(piece)})`;
};
