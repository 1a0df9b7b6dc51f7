// The symbol of a directional valve by the conventions of ISO 1219-1, drawn from what its ports do: twin of
// drawing/symbol.py, character for character. A position is its canonical text as in function.js, null where it is not
// known. The boxes of the form are drawn when the pages are built.

// Where each port enters a square of side 1; y runs down.
const SYMBOL_PLACES = { A: [0.25, 0], B: [0.75, 0], P: [0.25, 1], T: [0.75, 1] };
// What moves a spool, and how much room it takes along the spool's axis.
const SYMBOL_OPERATORS = { solenoid: 28, spring: 28, pilot: 17, detent: 30 };
const SYMBOL_LARGEST = 64, SYMBOL_EDGE = 4, SYMBOL_ABOVE = 36, SYMBOL_BELOW = 40, SYMBOL_OUT = 14;
const SYMBOL_BAR_DEPTH = 0.2, SYMBOL_BAR_HALF = 0.11, SYMBOL_HEAD = 8, SYMBOL_HEAD_HALF = 3.2, SYMBOL_WIDTH = 1.6;

// ---- how a group of joined ports runs through a square: { ports, lines, arrow, dots, notch }
const symbolStraight = (ports) => {
  const [a, b] = [...ports].sort((one, other) => "PABT".indexOf(one) - "PABT".indexOf(other)).map((port) => SYMBOL_PLACES[port]);
  const along = [b[0] - a[0], b[1] - a[1]];
  const third = [a[0] + 0.3 * along[0], a[1] + 0.3 * along[1]]; // two ways cross in the middle
  return { lines: [[a, b]], arrow: [a, b], dots: [], notch: [third, along] };
};
const symbolBracket = (ports) => {
  const [[x1, y], [x2]] = ports.map((port) => SYMBOL_PLACES[port]);
  const level = y ? 0.66 : 0.34;
  const arrow = ports.includes("T") ? [[x2, level], [x2, y]] : null;
  return { lines: [[[x1, y], [x1, level], [x2, level], [x2, y]]], arrow, dots: [], notch: [[0.5, level], [1, 0]] };
};
const symbolBarred = (ports) => {
  const stubs = ports.map((port) => [SYMBOL_PLACES[port], [SYMBOL_PLACES[port][0], 0.5]]);
  const dots = [0.25, 0.75].filter((x) => stubs.filter(([[at]]) => at === x).length === 2).map((x) => [x, 0.5]);
  return { lines: [...stubs, [[0.25, 0.5], [0.75, 0.5]]], arrow: null, dots, notch: [[0.5, 0.5], [1, 0]] };
};
const symbolWays = (position) => {
  const parts = positionParts(position).map(([ports, notch]) => [ports.join("-"), ports, notch]);
  parts.sort(([one], [other]) => (one < other ? -1 : 1));
  return parts.map(([name, ports, notch]) => {
    const isLevel = SYMBOL_PLACES[ports[0]][1] === SYMBOL_PLACES[ports[1]][1];
    const way = ports.length > 2 ? symbolBarred(ports) : isLevel ? symbolBracket(ports) : symbolStraight(ports);
    return { ...way, ports: name, notch: notch ? way.notch : null };
  });
};

/** The symbol of a valve as a stock list tells it: solenoid a at the left, b at the right, crossing between. */
const symbolOf = ({ rest, on_a, on_b, crossing_a, crossing_b }, operator = null, stage = null) => {
  const shifts = stage === "two-stage" ? ["pilot", "solenoid"] : ["solenoid"];
  const square = (label, position, passing = false) => ({ label, position: missing(position) ? null : position, passing });
  const squares = [];
  if (on_a !== "") {
    squares.push(square("a", on_a));
    if (crossing_a) squares.push(square("", crossing_a, true));
  }
  const at = rest === "" ? 0 : squares.length;
  if (rest !== "") squares.push(square("0", rest));
  if (on_b !== "") {
    if (crossing_b) squares.push(square("", crossing_b, true));
    squares.push(square("b", on_b));
  }
  const sprung = ["spring-centred", "spring-offset"].includes(operator);
  const end = (here, there) => [...(here === "" ? [] : [shifts]), ...(sprung && there !== "" ? [["spring"]] : [])];
  const held = operator === "detent" ? [["detent"]] : [];
  return { squares, rest: at, left: end(on_a, on_b), right: [...end(on_b, on_a), ...held] };
};

// ---- in words
const symbolTold = ({ label, position, passing }, atRest) => {
  const name = passing ? "On the way" : `Position ${label}`;
  return `${name}${atRest ? " (rest)" : ""}: ${position === null ? "not known" : positionWords(position)}.`;
};
const symbolCount = ({ squares }) => squares.filter((one) => !one.passing).length;
const symbolTitle = (symbol) => `4/${symbolCount(symbol)} valve. ${symbolTold(symbol.squares[symbol.rest], true)}`;
const symbolDescription = (symbol) => [
  ...symbol.squares.map((one, place) => symbolTold(one, place === symbol.rest)),
  ...["left", "right"].map((end) => {
    const told = symbol[end].map((chain) => [...chain].reverse().join(" through ")).join(" and ");
    return `At the ${end} end: ${told || "nothing"}.`;
  }),
].join(" ");

// ---- the drawing
const symbolLine = (points, dash = "") => drawLine(points, { width: SYMBOL_WIDTH, dash });
const symbolFilled = (points) => `<path d="${drawPath(points)}Z" fill="${DRAW_INK}"/>`;
const symbolHead = (start, end) => {
  const length = Math.hypot(end[0] - start[0], end[1] - start[1]);
  const ux = (end[0] - start[0]) / length, uy = (end[1] - start[1]) / length;
  const bx = end[0] - SYMBOL_HEAD * ux, by = end[1] - SYMBOL_HEAD * uy;
  const wing = (sign) => [bx - sign * SYMBOL_HEAD_HALF * uy, by + sign * SYMBOL_HEAD_HALF * ux];
  return symbolFilled([end, wing(1), wing(-1)]);
};
// Two arcs that narrow a line from both sides.
const symbolThrottle = (at, along) => {
  const length = Math.hypot(...along);
  const ux = along[0] / length, uy = along[1] / length;
  const point = (x, y) => `${drawNumber(x)} ${drawNumber(y)}`;
  const arcs = [-1, 1].map((sign) => {
    const [from, to] = [-1, 1].map((k) => point(at[0] + k * 5 * ux - sign * 6 * uy, at[1] + k * 5 * uy + sign * 6 * ux));
    return `M${from}Q${point(at[0] - sign * 0.5 * uy, at[1] + sign * 0.5 * ux)} ${to}`;
  });
  return `<path d="${arcs.join("")}" fill="none" stroke="${DRAW_INK}" stroke-width="1.4" data-notch=""/>`;
};
const symbolInside = (position, x, y, side) => {
  const at = ([px, py]) => [x + px * side, y + py * side];
  const drawn = [];
  for (const way of symbolWays(position)) {
    drawn.push(`<g data-ports="${way.ports}">`, ...way.lines.map((line) => symbolLine(line.map(at))));
    if (way.arrow) drawn.push(symbolHead(...way.arrow.map(at)));
    for (const [cx, cy] of way.dots.map(at)) {
      drawn.push(`<circle cx="${drawNumber(cx)}" cy="${drawNumber(cy)}" r="2.6" fill="${DRAW_INK}"/>`);
    }
    if (way.notch) drawn.push(symbolThrottle(at(way.notch[0]), way.notch[1]));
    drawn.push("</g>");
  }
  for (const port of POSITION_PORTS.filter((one) => positionIsShut(position, one))) {
    const [px, py] = SYMBOL_PLACES[port], depth = Math.abs(py - SYMBOL_BAR_DEPTH);
    const bar = symbolLine([at([px - SYMBOL_BAR_HALF, depth]), at([px + SYMBOL_BAR_HALF, depth])]);
    drawn.push(`<g data-shut="${port}">`, symbolLine([at([px, py]), at([px, depth])]), bar, "</g>");
  }
  return drawn;
};
const symbolSquare = ({ label, position, passing }, x, y, side) => [
  `<g data-square="${label}">`,
  symbolLine([[x, y], [x + side, y], [x + side, y + side], [x, y + side], [x, y]], passing ? "4 3" : ""),
  drawText(x + side / 2, y + side + 17, label, { anchor: "middle" }),
  ...(position === null ? [drawText(x + side / 2, y + side / 2 + 5, "?", { anchor: "middle", bold: true })]
    : symbolInside(position, x, y, side)),
  "</g>",
];
// The ports of the valve, at the square of rest.
const symbolOutside = (x, y, side) => Object.entries(SYMBOL_PLACES).map(([port, [px, py]]) => {
  const [start, end] = py ? [y + side, y + side + SYMBOL_OUT] : [y, y - SYMBOL_OUT];
  const line = symbolLine([[x + px * side, start], [x + px * side, end]]);
  const letter = drawText(x + px * side, end + (py ? 15 : -5), port, { anchor: "middle", bold: true });
  return `<g data-port="${port}">${line}${letter}</g>`;
});
// One operator whose end at the squares is at x; sign says to which side it reaches.
const symbolOperator = (name, x, middle, sign, height, positions) => {
  const reach = sign * SYMBOL_OPERATORS[name], far = x + reach, half = height / 2;
  if (name === "spring") {
    const zigzag = [1, 2, 3, 4, 5].map((k) => [x + reach * k / 6, middle + (k % 2 ? half * 0.8 : -half * 0.8)]);
    return symbolLine([[x, middle], ...zigzag, [far, middle]]);
  }
  if (name === "detent") return symbolDetent(x, middle, reach, half, positions);
  const box = [[x, middle - half], [far, middle - half], [far, middle + half], [x, middle + half], [x, middle - half]];
  if (name === "solenoid") return symbolLine(box) + symbolLine([[far, middle + half], [x, middle - half]]);
  const base = far - sign * 4;
  return symbolLine(box) + symbolFilled([[x + sign * 3, middle], [base, middle - half * 0.6], [base, middle + half * 0.6]]);
};
// A rod with a notch for each position, and the pawl in one of them.
const symbolDetent = (x, middle, reach, half, positions) => {
  const depth = Math.min(half * 0.6, 5), pitch = reach / (positions + 1);
  const edge = [[x, middle]];
  for (let k = 1; k <= positions; k += 1) {
    const at = x + k * pitch;
    edge.push([at - pitch / 3, middle], [at, middle - depth], [at + pitch / 3, middle]);
  }
  const pawl = x + pitch;
  const hook = [[pawl - pitch / 3, middle + depth], [pawl, middle], [pawl + pitch / 3, middle + depth]];
  return symbolLine([...edge, [x + reach, middle]]) + symbolLine(hook);
};

/** The symbol as SVG text, 360 units wide, its meaning in title and description. It needs a square of rest. */
const symbolDraw = (symbol) => {
  const { squares, rest, left, right } = symbol;
  const room = (chains) => Math.max(0, ...chains.map((chain) => chain.reduce((sum, name) => sum + SYMBOL_OPERATORS[name], 0)));
  const before = room(left), behind = room(right), count = squares.length;
  const side = Math.min(SYMBOL_LARGEST, (DRAW_WIDTH - 2 * SYMBOL_EDGE - before - behind) / count);
  const x0 = (DRAW_WIDTH - before - behind - count * side) / 2 + before;
  const body = squares.flatMap((one, place) => symbolSquare(one, x0 + place * side, SYMBOL_ABOVE, side));
  body.push(...symbolOutside(x0 + rest * side, SYMBOL_ABOVE, side));
  for (const [chains, x, sign] of [[left, x0, -1], [right, x0 + count * side, 1]]) {
    chains.forEach((chain, lane) => {
      const height = side / Math.max(chains.length, 2);
      const middle = SYMBOL_ABOVE + side / 2 + (lane - (chains.length - 1) / 2) * height;
      let at = x;
      for (const name of chain) {
        body.push(`<g data-operator="${name}">${symbolOperator(name, at, middle, sign, 0.8 * height, symbolCount(symbol))}</g>`);
        at += sign * SYMBOL_OPERATORS[name];
      }
    });
  }
  return drawPicture(symbolTitle(symbol), symbolDescription(symbol), SYMBOL_ABOVE + side + SYMBOL_BELOW, body);
};

/** The symbol of a function as SVG text, "" where no position at all is known. */
const symbolDrawn = (given, operator = null, stage = null) => {
  const symbol = symbolOf(given, operator, stage);
  return symbol.squares.some(({ position }) => position !== null) ? symbolDraw(symbol) : "";
};
