// Figures for the eye, and the pieces that drawings are made of, as SVG text: twin of drawing/rounding.py and
// drawing/svg.py and drawing/axes.py, character for character. Every word goes through esc; nothing of a reader is ever
// markup.
const esc = (text) =>
  String(text).replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;").replace(/'/g, "&#x27;");

// ---- rounding.py
const DRAW_MINUS = "\u2212";
const DRAW_NBSP = "\u00a0";
const DRAW_NO_UNIT = ["", "1", "text"];

/** A value as text, with "± U" where an uncertainty in the same unit is known. */
const shown = (value, uncertainty = null, digits = 3) => {
  if (absent(value)) return "no value";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value !== "number") return String(value);
  if (Number.isFinite(value) && Number.isFinite(uncertainty) && uncertainty > 0) {
    const places = 1 - Number(uncertainty.toExponential(1).split("e")[1]);
    return `${drawFixed(value, places)} ± ${drawFixed(uncertainty, places)}`;
  }
  const text = drawSigned(value, digits);
  return text.includes(".") && !text.includes("e") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
};
/** A value with its unit; "(120 ± 4) N" where an uncertainty stands between the two. */
const quantityText = (value, unit = "", uncertainty = null, digits = 3) =>
  drawWithUnit(shown(value, uncertainty, digits), value, unit);
/** The same with four significant digits, zeros kept, as in the worked lines; a whole ratio stays whole. */
const fullQuantity = (value, unit = "", uncertainty = null) =>
  typeof value !== "number" || uncertainty || (DRAW_NO_UNIT.includes(unit) && Number.isInteger(value))
    ? quantityText(value, unit, uncertainty)
    : drawWithUnit(drawSigned(value, 4), value, unit);
const drawSigned = (value, digits) =>
  digits < 4 && Math.abs(value) >= 100 && Math.abs(value) < 1e9
    ? drawFixed(value, 0)
    : figure(value, digits).replace(/^-/, DRAW_MINUS);
const drawWithUnit = (text, value, unit) =>
  absent(value) || DRAW_NO_UNIT.includes(unit) ? text : text.includes("±") ? `(${text}) ${unit}` : `${text} ${unit}`;
const drawFixed = (value, places) => {
  if (!Number.isFinite(value)) return "no value";
  const [mantissa, power] = Math.abs(value).toExponential(40).split("e");
  const kept = Math.max(Number(power) + 1 + places, -1);
  const known = mantissa.replace(".", "").padEnd(kept + 1, "0");
  const whole = kept < 0 ? "0" : String(BigInt(known.slice(0, kept) || 0) + BigInt(known[kept] >= "5"));
  const digits = (whole === "0" ? whole : whole + "0".repeat(Math.max(-places, 0))).padStart(places + 1, "0");
  const text = places > 0 ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits;
  return value < 0 && whole !== "0" ? DRAW_MINUS + text : text;
};

// ---- svg.py
const DRAW_WIDTH = 360, DRAW_FONT = 14, DRAW_ROW = 18, DRAW_DEEP = 210, DRAW_RIGHT = DRAW_WIDTH - 12;
const DRAW_INK = "var(--ink, currentColor)", DRAW_PAPER = "var(--paper, Canvas)";
const DRAW_ALARM = "var(--alarm, #c62828)", DRAW_FAINT = "var(--faint, #80868c)";
const DRAW_TONES = ["#8fb8de", "#e3b45f", "#a5cf93", "#dd9a94", "#bda6dc", "#8fcac5", "#cbb98a", "#b4bac0"];
const DRAW_HATCHES = [
  "", "M-2 2L2 -2M0 10L10 0M8 12L12 8", "M1.5 5h2M6.5 0h2M6.5 10h2", "M-2 8L2 12M0 0L10 10M8 -2L12 2", "M0 3h10M0 8h10",
  "M0 5h10M5 0v10", "M3 0v10M8 0v10", "M0 0L10 10M0 10L10 0",
];

const drawNumber = (x) => String(Math.floor(x * 100 + 0.5 + 1e-6) / 100);
const drawMark = (title, description) => {
  let sum = -1; // CRC-32
  for (const byte of new TextEncoder().encode(`${title}\n${description}`)) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit += 1) sum = (sum >>> 1) ^ (sum & 1 ? 0xedb88320 : 0);
  }
  return `d${(~sum >>> 0).toString(16).padStart(8, "0")}`;
};
const drawPicture = (title, description, height, body) => {
  const name = drawMark(title, description);
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 ${DRAW_WIDTH} ${drawNumber(height)}"` +
    ` role="img" aria-labelledby="${name}-t ${name}-d" font-family="system-ui, sans-serif" font-size="${DRAW_FONT}">` +
    `<title id="${name}-t">${esc(title)}</title><desc id="${name}-d">${esc(description)}</desc>${body.join("")}</svg>`
  );
};
const drawText = (x, y, words, { anchor = "start", bold = false, fill = DRAW_INK, halo = false } = {}) =>
  `<text x="${drawNumber(x)}" y="${drawNumber(y)}" text-anchor="${anchor}"${bold ? ' font-weight="700"' : ""}` +
  `${halo ? ` stroke="${DRAW_PAPER}" stroke-width="6" stroke-linejoin="round" paint-order="stroke"` : ""}` +
  ` fill="${fill}">${esc(words)}</text>`;
const drawPath = (points) => `M${points.map(([x, y]) => `${drawNumber(x)} ${drawNumber(y)}`).join("L")}`;
const drawLine = (points, { stroke = DRAW_INK, width = 1, dash = "" } = {}) =>
  `<path d="${drawPath(points)}" fill="none" stroke="${stroke}" stroke-width="${drawNumber(width)}"` +
  `${dash ? ` stroke-dasharray="${dash}"` : ""}/>`;
const drawBox = (x, y, width, height, fill) =>
  `<rect x="${drawNumber(x)}" y="${drawNumber(y)}" width="${drawNumber(width)}" height="${drawNumber(height)}"` +
  ` fill="${fill}" stroke="${DRAW_INK}" stroke-width="0.75"/>`;
const drawHatches = (name, count) => {
  const tiles = Array.from({ length: count }, (_, place) => {
    const tone = place % DRAW_TONES.length, lines = DRAW_HATCHES[place % DRAW_HATCHES.length];
    const look = `fill="none" stroke="${DRAW_INK}" stroke-opacity="0.6" stroke-width="1.2"`;
    return (
      `<pattern id="${name}-${place}" width="10" height="10" patternUnits="userSpaceOnUse">` +
      `<rect width="10" height="10" fill="var(--tone-${tone + 1}, ${DRAW_TONES[tone]})"/>` +
      `${lines ? `<path d="${lines}" ${look}/>` : ""}</pattern>`
    );
  });
  return `<defs>${tiles.join("")}</defs>`;
};
const drawRoom = (words) => 0.62 * DRAW_FONT * [...words].length;
const drawWrapped = (words, width) => {
  const lines = [];
  for (const word of words.split(" ")) {
    const last = lines.length - 1;
    if (lines.length && drawRoom(`${lines[last]} ${word}`) <= width) lines[last] += ` ${word}`;
    else lines.push(word);
  }
  return lines;
};
const drawExponent = (x) => Number(x.toExponential().split("e")[1]);
const drawTicks = (low, high, most = 6) => {
  const span = high > low ? high - low : 1;
  let step = Number(`1e${drawExponent(span / most)}`);
  while (span / step > most + 1e-9) step *= step.toExponential(6)[0] === "2" ? 2.5 : 2;
  const first = Math.floor(low / step + 1e-9), last = Math.max(Math.ceil(high / step - 1e-9), first + 1);
  return Array.from({ length: last - first + 1 }, (_, place) => (first + place) * step);
};
const drawTicksInside = (low, high) => {
  const trifle = (high - low) * 1e-9;
  return drawTicks(low, high, 5).filter((mark) => low - trifle <= mark && mark <= high + trifle);
};
const drawDecades = (low, high) => {
  const first = drawExponent(low), last = drawExponent(high), marks = [];
  for (let power = first; power < last + 2; power += 1) {
    for (const step of last - first < 3 ? [1, 2, 5] : [1]) marks.push(Number(`${step}e${power}`));
  }
  const below = marks.filter((at) => at <= low * (1 + 1e-9)).length - 1;
  return marks.slice(below, marks.findIndex((at) => at >= high * (1 - 1e-9)) + 1);
};
const drawLegend = (body, label, y) => {
  const lines = drawWrapped(label, DRAW_WIDTH - 46);
  lines.forEach((words, row) => body.push(drawText(42, y + DRAW_ROW * row, words)));
  return y + DRAW_ROW * lines.length + 3;
};

// ---- axes.py
/** Where figures lie on a chart: { left, top, bottom, x(value), y(value) … }; held at the frame, as a whisker may pass it. */
const drawPlot = ({ left, top, xLow, xHigh, yLow, yHigh, log = false }) => ({
  left, top, bottom: top + DRAW_DEEP, xLow, xHigh, log,
  x: (value) => left + ((value - xLow) / (xHigh - xLow)) * (DRAW_RIGHT - left),
  y: (value) => {
    const share = log
      ? Math.log10(Math.max(value, yLow) / yLow) / Math.log10(yHigh / yLow)
      : (value - yLow) / (yHigh - yLow);
    return top + (1 - Math.min(Math.max(share, 0), 1)) * DRAW_DEEP;
  },
});
const drawFromZero = (low, high) =>
  (low > 0.5 * high && high > 0) || (high < 0.5 * low && low < 0) ? [low, high] : [Math.min(low, 0), Math.max(high, 0)];
const drawMarginLeft = (marks) => Math.max(...marks.map((mark) => drawRoom(shown(mark)))) + 10;
const drawAxis = ({ label, unit }) => (unit === "" || unit === "1" ? label : `${label},${DRAW_NBSP}${unit}`);
const drawFrame = (plot, marks) => {
  const { left, top, bottom } = plot, body = [];
  for (const mark of marks) {
    const y = plot.y(mark), heavy = mark === 0 || (plot.log && mark === marks[0]);
    body.push(drawLine([[left, y], [DRAW_RIGHT, y]], { stroke: DRAW_FAINT, width: heavy ? 1.5 : 0.5 }));
    body.push(drawText(left - 6, y + 5, shown(mark), { anchor: "end" }));
  }
  body.push(drawLine([[left, top], [left, bottom], [DRAW_RIGHT, bottom]], { stroke: DRAW_FAINT }));
  for (const mark of drawTicksInside(plot.xLow, plot.xHigh)) {
    const x = plot.x(mark), words = shown(mark);
    body.push(drawLine([[x, bottom], [x, bottom + 5]]));
    body.push(drawText(Math.min(x, DRAW_WIDTH - drawRoom(words) / 2), bottom + 20, words, { anchor: "middle" }));
  }
  return body;
};
const drawBelow = (body, plot, axis) => {
  let y = plot.bottom + 38;
  for (const words of drawWrapped(drawAxis(axis), DRAW_WIDTH - 4)) {
    body.push(drawText(DRAW_RIGHT, y, words, { anchor: "end" }));
    y += DRAW_ROW;
  }
  return y + 6;
};
const drawDot = (x, y, radius = 6) =>
  `<circle cx="${drawNumber(x)}" cy="${drawNumber(y)}" r="${drawNumber(radius)}"` +
  ` fill="${DRAW_INK}" stroke="${DRAW_PAPER}" stroke-width="2"/>`;
