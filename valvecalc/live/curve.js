// A result along one of its entries: twin of drawing/curve.py and sitegen/curves.py, character for character; the
// figures are worked here by the card's own function.

// ---- curve.py
const drawCurve = (spec) => {
  const { here } = spec, limits = spec.limits || [];
  const xs = spec.x.values, ys = spec.y.values;
  const seen = [...ys.filter((y) => y !== null), here.y, ...limits.map((limit) => limit.y)];
  let low = Math.min(...seen), high = Math.max(...seen);
  const log = low > 0 && high > 100 * low * (1 + 1e-9);
  if ("high" in here) high = Math.max(high, here.high);
  if ("low" in here && !log) low = Math.min(low, here.low);
  const marks = log ? drawDecades(low, high) : drawTicks(...drawFromZero(low, high));
  const heads = drawWrapped(drawAxis(spec.y) + (log ? ", logarithmic" : ""), DRAW_WIDTH - 4);
  const told = drawWrapped(`here: ${drawHere(spec)}`, DRAW_WIDTH - 24);
  const plot = drawPlot({
    left: drawMarginLeft(marks), top: DRAW_ROW * (heads.length + told.length) + 10, log,
    xLow: xs[0], xHigh: xs[xs.length - 1], yLow: marks[0], yHigh: marks[marks.length - 1],
  });
  const { left, bottom } = plot;
  const body = heads.map((words, row) => drawText(2, 14 + DRAW_ROW * row, words));
  const first = 14 + DRAW_ROW * heads.length;
  body.push(drawDot(10, first - 5));
  told.forEach((words, row) => body.push(drawText(22, first + DRAW_ROW * row, words, { bold: true })));
  body.push(...drawFrame(plot, marks));
  const lines = drawPieces(xs, ys, spec.trusted || {});
  for (const [stroke, width] of [[DRAW_PAPER, 6], [DRAW_INK, 3]]) {
    for (const [points, dashed] of lines) {
      const dash = dashed && width === 3 ? "7 5" : "";
      body.push(drawLine(points.map(([x, y]) => [plot.x(x), plot.y(y)]), { stroke, width, dash }));
    }
  }
  const bound = { stroke: DRAW_ALARM, width: 2, dash: "10 4 2 4" };
  for (const limit of limits) body.push(drawLine([[left, plot.y(limit.y)], [DRAW_RIGHT, plot.y(limit.y)]], bound));
  const x = plot.x(here.x), yHere = plot.y(here.y);
  body.push(drawLine([[left, yHere], [x, yHere], [x, bottom]], { width: 1.5, dash: "3 3" }));
  if ("high" in here) {
    const ends = [plot.y(here.low), plot.y(here.high)];
    body.push(drawLine(ends.map((end) => [x, end]), { width: 2 }));
    for (const end of ends) body.push(drawLine([[x - 6, end], [x + 6, end]], { width: 2 }));
  }
  body.push(drawDot(x, yHere));
  let y = drawBelow(body, plot, spec.x);
  for (const limit of limits) {
    body.push(drawLine([[8, y - 5], [34, y - 5]], bound));
    y = drawLegend(body, `${limit.label} ${quantityText(limit.y, spec.y.unit)}`, y);
  }
  if (lines.some(([, dashed]) => dashed)) {
    body.push(drawLine([[8, y - 5], [34, y - 5]], { width: 3, dash: "7 5" }));
    y = drawLegend(body, "outside the range in which the calculation is trusted", y);
  }
  return drawPicture(spec.title, drawCurveSaid(spec), y - 10, body);
};
const drawHere = (spec) => {
  const { here } = spec;
  return drawFigures(spec, here.x, here.y, "high" in here ? here.high - here.y : null);
};
const drawFigures = (spec, x, y, uncertainty = null) =>
  [quantityText(y, spec.y.unit, uncertainty), quantityText(x, spec.x.unit)]
    .map((text) => text.replace(/ /g, DRAW_NBSP))
    .join(" at ");
const drawPieces = (xs, ys, { low = null, high = null }) => {
  const pieces = [];
  let before = null;
  xs.forEach((x, place) => {
    const point = ys[place] === null ? null : [x, ys[place]];
    if (point && before) {
      const middle = (before[0] + x) / 2;
      const dashed = (low !== null && middle < low) || (high !== null && middle > high);
      const [run, same] = pieces[pieces.length - 1] || [];
      if (run && same === dashed && run[run.length - 1] === before) run.push(point);
      else pieces.push([[before, point], dashed]);
    }
    before = point;
  });
  return pieces;
};
const drawCurveSaid = (spec) => {
  const pairs = spec.x.values.map((x, place) => [x, spec.y.values[place]]).filter(([, y]) => y !== null);
  let said = `Curve of ${drawAxis(spec.y)}, over ${drawAxis(spec.x)}`;
  if (pairs.length) {
    const ends = [pairs[0], pairs[pairs.length - 1]].map(([x, y]) => drawFigures(spec, x, y));
    said += `, from ${ends[0]} to ${ends[1]}`;
  }
  said += `; here ${drawHere(spec)}`;
  for (const limit of spec.limits || []) said += `; ${limit.label} ${quantityText(limit.y, spec.y.unit)}`;
  return `${said.replace(/\u00a0/g, " ")}.`;
};

// ---- sitegen/curves.py
const CHART_STEPS = 60, CHART_FIRST = [1 / 960, 1 / 240, 1 / 120];
const CHART_COLD = 273.15, CHART_HOT = 393.15, CHART_BESIDE = 20; // K
const CHART_BOUND = { ">=": "at least", "<=": "at most" };

/** What drawing.curve needs: a result along the entry that the card names; null where there is nothing to draw. */
const curveSpec = (id, answer) => {
  const data = card(id), entry = data.chart;
  if (data.rows[entry]) return curveOfRows(data, answer);
  const row = chartResult(data, answer);
  const input = entry && answer.inputs[entry];
  if (!row || !input) return null;
  const [low, high] = chartSpan(data, entry, input.si);
  if (!(low < high)) return null;
  const [trust] = data.trusted[entry] || [{ low: null, high: null }];
  const known = [trust.low, trust.high].filter((si) => si !== null);
  const first = CHART_FIRST.map((share) => low + (high - low) * share);
  const places = grid(low, high, CHART_STEPS, first, [input.si, ...known])
    .filter((place) => limitHolds(data.limits[entry], place));
  const xTold = (si) => fromSi(si, input.unit, cardWord(entry).dimension);
  const end = (si) => (si === null ? null : xTold(si));
  const yTold = (si) => fromSi(si, row.unit, cardWord(row.name).dimension);
  const values = chartValues(data, answer);
  const at = (place) => {
    const y = chartNumber(() => run(id, { ...values, [entry]: place }), row.name);
    return y === null ? null : yTold(y);
  };
  const [kind, limit] = data.judged[row.name] || [""];
  return {
    kind: "curve",
    title: data.title,
    x: { label: chartLabel(data, entry), unit: input.unit, values: places.map(xTold) },
    y: { label: chartLabel(data, row.name), unit: row.unit, values: places.map(at) },
    here: { x: xTold(input.si), y: row.value, ...chartDoubt(row) },
    trusted: { low: end(trust.low), high: end(trust.high) },
    limits: kind in CHART_BOUND ? [{ y: yTold(limit), label: CHART_BOUND[kind] }] : [],
  };
};
// A list that a card names, drawn as it stands: its second column over its first, the reader's place marked.
const curveOfRows = (data, answer) => {
  const named = (name) => answer.results.find((row) => row.name === name);
  const [entry, result] = data.rows[data.chart];
  const list = named(data.chart), row = named(result), input = answer.inputs[entry];
  if (!list || !row || !input) return null;
  return {
    kind: "curve",
    title: data.title,
    x: { label: chartLabel(data, entry), unit: input.unit, values: list.rows.map(([x]) => x) },
    y: { label: chartLabel(data, result), unit: row.unit, values: list.rows.map(([, y]) => y) },
    here: { x: fromSi(input.si, input.unit, cardWord(entry).dimension), y: row.value, ...chartDoubt(row) },
    trusted: {},
    limits: [],
  };
};
const chartDoubt = (row) =>
  "uncertainty" in row ? { low: row.value - row.uncertainty, high: row.value + row.uncertainty } : {};
const chartLabel = (data, name) => data.labels[name] || cardWord(name).meaning;
const chartResult = (data, answer) => {
  const judged = Object.keys(data.judged), own = data.results.length ? data.results : [data.result];
  const names = [...(judged.length === 1 ? judged : []), ...own];
  const rows = names.map((name) => answer.results.find((row) => row.name === name));
  return rows.find((row) => row && typeof row.value === "number");
};
const chartSpan = (data, entry, at) => {
  const limit = data.limits[entry], { dimension } = cardWord(entry);
  let low = Math.min(CHART_COLD, at - CHART_BESIDE), high = Math.max(CHART_HOT, at + CHART_BESIDE);
  if (dimension !== "temperature") {
    const whole = at || readText(data.example[entry], entry, dimension).si;
    low = Math.min(0, 2 * whole);
    high = Math.max(0, 2 * whole);
    if (low === 0 && limit.low === 0 && !limit.low_in) low = whole / 2;
  }
  return [limit.low === null ? low : Math.max(low, limit.low), limit.high === null ? high : Math.min(high, limit.high)];
};
// The entries of an answer in SI, as a calculation takes them.
const chartValues = (data, answer) =>
  Object.fromEntries(data.entries.map((name) => {
    const input = answer.inputs[name];
    if (!input) return [name, null];
    return [name, "rows" in input ? input.rows.map((cells) => chartRow(input.columns, cells)) : input.si];
  }));
const chartRow = (columns, cells) =>
  Object.fromEntries(columns.map(({ name, unit }, place) => [name, chartSi(cells[place], name, unit)]));
const chartSi = (value, name, unit) => {
  const { dimension } = cardWord(name);
  return typeof value !== "number" || dimension === "text" ? value : toSi(value, unit, dimension);
};
const chartNumber = (work, name) => {
  try {
    const found = work(), value = typeof found === "number" ? found : found[name];
    return absent(value) ? null : value;
  } catch (trouble) {
    if (trouble instanceof NoValue) return null;
    throw trouble;
  }
};
