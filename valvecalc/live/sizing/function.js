// What each port of a directional valve does in each position: read, printed in words, compared. Twin of function.py.
//
// A position is its canonical text, so two are equal where their texts are: "P-A, B-T", "shut", "A-B-T restricted";
// "" where the valve has no such position; null where it is not known.
const POSITION_PORTS = [..."PABT"];
const POSITION_SHUT = "shut";
const POSITION_NONE = "none";
const POSITION_EXAMPLE = "P-A, B-T";
const POSITION_NOTCH = " restricted";

/** The position that a text names, "" for none. Throws Refused. */
const readPosition = (text) => {
  const plain = textWords(text).join(" ");
  if (plain.toLowerCase() === POSITION_NONE) return "";
  if (plain.toLowerCase() === POSITION_SHUT) return POSITION_SHUT;
  const groups = [];
  const seen = new Set();
  for (const part of plain.split(",")) {
    const words = textWords(part);
    const notch = words.length === 2 && words[1].toLowerCase() === "restricted";
    if (!words.length || (words.length > 1 && !notch)) {
      const action = `Part groups by commas and join ports by -: ${POSITION_EXAMPLE}.`;
      unitRefuse(`groups of ports as in ${POSITION_EXAMPLE}`, action);
    }
    const ports = words[0].toUpperCase().split("-");
    for (const port of ports) {
      if (!POSITION_PORTS.includes(port)) {
        const action = `${port || "An empty place"} is none of them: write it like ${POSITION_EXAMPLE}.`;
        unitRefuse("the ports P, A, B and T", action);
      }
      if (seen.has(port)) {
        unitRefuse("each port once", `${port} stands twice: join all that is joined, as in P-A-B or A-B-T.`);
      }
      seen.add(port);
    }
    const alone = `Write it like A-B-T restricted; ${ports[0]} is alone.`;
    if (ports.length > 1) groups.push([ports, notch]);
    else if (notch) unitRefuse("two ports at least before restricted", alone);
  }
  return positionMade(groups);
};
// The canonical text of [ports, whether through a notch only] …
const positionMade = (groups) => {
  const parts = groups.map(([ports, notch]) => [POSITION_PORTS.filter((port) => ports.includes(port)), notch]);
  parts.sort(([one], [other]) => POSITION_PORTS.indexOf(one[0]) - POSITION_PORTS.indexOf(other[0]));
  return parts.map(([ports, notch]) => ports.join("-") + (notch ? POSITION_NOTCH : "")).join(", ") || POSITION_SHUT;
};
const positionParts = (position) => {
  if (!POSITION_KNOWN.has(position)) {
    const parts = ["", POSITION_SHUT].includes(position) ? [] : position.split(", ");
    POSITION_KNOWN.set(position, parts.map((part) => [part.split(" ")[0].split("-"), part.endsWith(POSITION_NOTCH)]));
  }
  return POSITION_KNOWN.get(position);
};
const POSITION_KNOWN = new Map(); // every rule asks again

/** The groups of joined ports, each in the order P, A, B, T; a shut port is in none. */
const positionGroups = (position) => positionParts(position).map(([ports]) => ports);
/** A position as `readPosition` takes it: "none" for no such position. */
const positionText = (position) => position || POSITION_NONE;
/** Whether these ports are joined to each other, notch or not. */
const positionJoins = (position, ...ports) =>
  positionParts(position).some(([group]) => ports.every((port) => group.includes(port)));
/** Whether a port is joined to no other. */
const positionIsShut = (position, port) => !positionJoins(position, port);
/** A position in words: "P joined to A, B joined to T", "P, A, B and T shut". */
const positionWords = (position) => {
  if (position === "") return "no such position";
  const parts = positionParts(position).map(([ports, notch]) =>
    `${ports[0]} joined to ${ports.slice(1).join(" and ")}${notch ? " through a notch" : ""}`);
  const shut = POSITION_PORTS.filter((port) => positionIsShut(position, port));
  const [last] = shut.slice(-1);
  if (shut.length) parts.push(`${shut.slice(0, -1).join(", ")}${shut.length > 1 ? " and " : ""}${last} shut`);
  return parts.join(", ");
};

/** The positions with those that the operator rules out: a spring at one end leaves one coil, a detent no rest. */
const completed = (positions, operator) => {
  const found = { ...positions };
  if (operator === "spring-offset") {
    if (found.on_a === null && found.on_b) found.on_a = "";
    else if (found.on_b === null && found.on_a) found.on_b = "";
  }
  if (operator === "detent" && found.rest === null) found.rest = "";
  return found;
};
/** The function with the two plugs exchanged: what coil a did, coil b does. */
const exchanged = ({ rest, on_a, on_b, crossing_a, crossing_b }) => (
  { rest, on_a: on_b, on_b: on_a, crossing_a: crossing_b, crossing_b: crossing_a }
);
const positionMirrored = (position) =>
  position && positionMade(positionParts(position).map(([ports, notch]) =>
    [ports.map((port) => ({ A: "B", B: "A" })[port] || port), notch]));
/** The function with the hoses at A and B exchanged and the two plugs as well. */
const turned = (given) =>
  Object.fromEntries(Object.entries(exchanged(given)).map(([name, position]) => [name, positionMirrored(position)]));

// How two functions may agree, best first.
const EQUAL = "equal", PLUGS = "plugs", HOSES = "hoses", DIFFERENT = "different", UNKNOWN = "unknown";

/** How what is there agrees with what is needed in rest, a and b; unknown only where what is not known decides. */
const compareFunctions = (need, there) => {
  let outcome = DIFFERENT;
  for (const [name, turn] of [[EQUAL, there], [PLUGS, exchanged(there)], [HOSES, turned(there)]]) {
    const pairs = ["rest", "on_a", "on_b"].map((position) => [need[position], turn[position]]);
    const known = pairs.filter(([a, b]) => !missing(a) && !missing(b));
    if (known.every(([a, b]) => a === b)) {
      if (known.length === pairs.length) return name;
      outcome = UNKNOWN;
    }
  }
  return outcome;
};
/** The function as it stands after plugs or hoses have been exchanged. */
const asItFits = (there, outcome) => (outcome === PLUGS ? exchanged(there) : outcome === HOSES ? turned(there) : there);

/** Ids of what goes wrong where `there` stands in the place of `need`: the load first, then what the pump feels. */
const hazardsOf = (need, there) => {
  const found = [];
  const differs = (from, to, port) => ["A", "B"].some((end) =>
    positionJoins(from, end, port) && !positionJoins(to, end, port));
  if (differs(there, need, "T")) found.push("opened-to-tank");
  if (differs(there, need, "P")) found.push("joined-to-pump");
  if (differs(need, there, "T")) found.push("shut-from-tank");
  if (differs(need, there, "P")) found.push("cut-from-pump");
  if (positionJoins(there, "P", "T") && !positionJoins(need, "P", "T")) found.push("unloads");
  if (positionJoins(need, "P", "T") && !positionJoins(there, "P", "T")) found.push("holds-pressure");
  if (!found.length && there !== need) {
    const bare = (position) => position.split(POSITION_NOTCH).join("");
    found.push(bare(there) === bare(need) ? "notch" : "joined-otherwise");
  }
  return found;
};
