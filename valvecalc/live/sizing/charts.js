// The charts of the sizing: twin of selection/charts.py and drawing/lines.py, character for character.

// ---- selection/charts.py
const CHARTS_LEADERS = 3, CHARTS_STEPS = 40, CHARTS_BEYOND = 1.2, CHARTS_LONGEST_NAME = 30;

/** Both charts as SVG: loss of the fullest path, shift limits. An empty text stands for one with nothing to show. */
const chartsOf = (asked, candidates, system = "metric") => {
  const valves = chartsLeaders(candidates);
  const specs = [chartsLoss(asked, valves, system), chartsLimit(asked, valves, system)];
  return specs.map((spec) => (spec ? chartsDraw(spec) : ""));
};
const chartsLeaders = (candidates) => {
  const standing = candidates.filter((one) => one.verdict !== REJECT);
  return (standing.length ? standing : candidates).slice(0, CHARTS_LEADERS).map((one) => one.valve);
};
const chartsName = ({ name }) => {
  const letters = [...name];
  return letters.length <= CHARTS_LONGEST_NAME ? name : `${letters.slice(0, CHARTS_LONGEST_NAME - 1).join("")}…`;
};
// A figure that is not parted from its unit at the end of a line.
const chartsHeld = (figure) => figure.replace(/ /g, DRAW_NBSP);
const chartsText = (name, value, system) => chartsHeld(namedText(name, value, system));

/** Loss over flow in the path that carries most, with the hottest oil; null where that is not known. */
const chartsLoss = (asked, valves, system) => {
  const words = DATA.words.charts, oil = asked.hot;
  let path = "", fullest = 0;
  for (const [name, carried] of Object.entries(asked.path_flows)) if (carried > fullest) [path, fullest] = [name, carried];
  if (!oil || !path) return null;
  const passing = asked.movements
    .flatMap((one) => [[one.inlet, one.inlet_flow, one.name], [one.outlet, one.return_flow, one.name]])
    .filter(([way, carried]) => way === path && carried);
  const flowText = (flow) => chartsText("flow", flow, system), unit = namedUnit("loss", system)[1];
  const lines = [], notes = [];
  for (const valve of valves) {
    const curve = valve.curves[path], name = chartsName(valve);
    if (missing(curve) || missing(valve.drop_viscosity)) {
      notes.push(wordsFilled(words["no-loss"], { name }));
      continue;
    }
    const warm = inOil(curve, oil, valve.drop_viscosity, valve.drop_density || oil.density);
    const end = Math.min(CHARTS_BEYOND * fullest, fact("path-reach") * curve.largest);
    const [drop, u] = pathLoss(warm, fullest);
    const loss = chartsHeld(
      quantityText(namedFigure("loss", drop, system), unit, namedFigure("loss", 2 * u, system)),
    );
    const point = (carried) =>
      [namedFigure("flow", carried, system), namedFigure("loss", pathLoss(warm, carried)[0], system)];
    const told = { name, loss, flow: flowText(fullest), end: flowText(curve.largest) };
    lines.push({
      label: wordsFilled(words[fullest <= end ? "loss" : "short"], told),
      points: Array.from({ length: CHARTS_STEPS + 1 }, (_, step) => point((end * step) / CHARTS_STEPS)),
      dots: passing.filter(([, carried]) => carried <= end).map(([, carried]) => point(carried)),
    });
  }
  if (!lines.length) return null;
  const temperature = chartsText("temperature", oil.temperature, system);
  return {
    title: words["loss-title"],
    x: { label: words["loss-x"], unit: namedUnit("flow", system)[1] },
    y: { label: wordsFilled(words["loss-y"], { path: [...path.toUpperCase()].join("-"), temperature }), unit },
    lines,
    places: passing.map(([, carried, movement]) => ({
      x: namedFigure("flow", carried, system),
      y: null,
      label: wordsFilled(words.duty, { movement, flow: flowText(carried) }),
    })),
    notes,
  };
};

/** The flow up to which each still shifts, against the pressure, and what the duty wants of it. */
const chartsLimit = (asked, valves, system) => {
  const words = DATA.words.charts;
  if (missing(asked.largest_flow) || missing(asked.relief)) return null;
  const need = fact("size-limit-reserve") * asked.largest_flow, pressure = chartsText("pressure", asked.relief, system);
  const plugged = dutyGet(asked.duty, "ports", "plugged");
  const point = (flow, at) => [namedFigure("flow", flow, system), namedFigure("pressure", at, system)];
  const lines = [], notes = [];
  let isHalved = false;
  for (const valve of valves) {
    const name = chartsName(valve);
    let points = valve.shift_limit;
    if (missing(points)) {
      notes.push(wordsFilled(words["no-limit"], { name }));
      continue;
    }
    if ((plugged === "A" || plugged === "B") && valve.limit_ports !== "one") {
      points = points.map(([flow, at]) => [formula("one-way-limit", { limit_flow: flow }), at]);
      isHalved = true;
    }
    const found = limitAt(points, asked.relief), flow = missing(found) ? "" : chartsText("flow", found, system);
    lines.push({
      label: wordsFilled(words[missing(found) ? "beyond" : "limit"], { name, flow, pressure }),
      points: [[points[0][0], 0], ...points].map(([x, at]) => point(x, at)),
      dots: [],
    });
  }
  if (!lines.length) return null;
  const [x, y] = point(need, asked.relief);
  return {
    title: words["limit-title"],
    x: { label: words["limit-x"], unit: namedUnit("flow", system)[1] },
    y: { label: words["limit-y"], unit: namedUnit("pressure", system)[1] },
    lines,
    places: [{ x, y, label: wordsFilled(words.wanted, { flow: chartsText("flow", need, system), pressure }) }],
    notes: [words["limit-note"], ...(isHalved ? [words["one-way"]] : []), ...notes],
  };
};

// ---- drawing/lines.py
const CHARTS_STYLES = [[2.5, ""], [4.5, "11 6"], [6.5, "2.5 7"]];

/** A few curves in one frame, told apart by their dashes and words, and the places that matter among them. */
const chartsDraw = (spec) => {
  const { lines, places } = spec, points = lines.flatMap((line) => line.points);
  const xs = [...points.map(([x]) => x), ...places.map(({ x }) => x)];
  const ys = [...points.map(([, y]) => y), ...places.map(({ y }) => y).filter((y) => y !== null)];
  const marks = drawTicks(0, Math.max(...ys));
  const heads = drawWrapped(drawAxis(spec.y), DRAW_WIDTH - 4);
  const told = places.map((place) => drawWrapped(place.label, DRAW_WIDTH - 30));
  const plot = drawPlot({
    left: drawMarginLeft(marks), top: DRAW_ROW * (heads.length + told.flat().length) + 10,
    xLow: 0, xHigh: 1.04 * Math.max(...xs), yLow: marks[0], yHigh: marks[marks.length - 1],
  });
  const body = heads.map((words, row) => drawText(2, 14 + DRAW_ROW * row, words));
  let y = 14 + DRAW_ROW * heads.length;
  places.forEach((place, number) => {
    body.push(...(place.y === null ? [chartsUpright(12, y - 12, y + 2)] : chartsCross(12, y - 5)));
    for (const words of told[number]) {
      body.push(drawText(26, y, words, { bold: true }));
      y += DRAW_ROW;
    }
  });
  body.push(...drawFrame(plot, marks));
  const drawn = lines.map((line) => line.points.map(([x, at]) => [plot.x(x), plot.y(at)]));
  drawn.forEach((one, at) => body.push(drawLine(one, { stroke: DRAW_PAPER, width: chartsStyle(at)[0] + 3 })));
  for (let at = drawn.length - 1; at >= 0; at -= 1) body.push(chartsLine(drawn[at], at));
  for (const place of places) {
    const x = plot.x(place.x);
    if (place.y === null) body.push(chartsUpright(x, plot.top, plot.bottom));
    else {
      const at = plot.y(place.y);
      body.push(drawLine([[plot.left, at], [x, at], [x, plot.bottom]], { width: 1.5, dash: "3 3" }));
      body.push(...chartsCross(x, at));
    }
  }
  for (const line of lines) for (const [x, at] of line.dots) body.push(drawDot(plot.x(x), plot.y(at), 4.5));
  y = drawBelow(body, plot, spec.x);
  lines.forEach((line, at) => {
    body.push(chartsLine([[4, y - 5], [38, y - 5]], at));
    y = drawLegend(body, line.label, y);
  });
  for (const note of spec.notes) {
    for (const words of drawWrapped(note, DRAW_WIDTH - 4)) {
      body.push(drawText(2, y, words));
      y += DRAW_ROW;
    }
    y += 3;
  }
  return drawPicture(spec.title, chartsSaid(spec), y - 10, body);
};
const chartsStyle = (at) => CHARTS_STYLES[at % CHARTS_STYLES.length];
const chartsLine = (points, at) => {
  const [width, dash] = chartsStyle(at);
  return drawLine(points, { width, dash });
};
const chartsUpright = (x, top, bottom) => drawLine([[x, top], [x, bottom]], { width: 1.5, dash: "3 3" });
const chartsCross = (x, y) =>
  [[DRAW_PAPER, 7], [DRAW_INK, 3.5]].flatMap(([stroke, width]) =>
    [[[x - 6, y - 6], [x + 6, y + 6]], [[x - 6, y + 6], [x + 6, y - 6]]].map((arm) => drawLine(arm, { stroke, width })));
const chartsSaid = (spec) => {
  const labels = [...spec.places, ...spec.lines].map((one) => one.label).join("; ");
  const told = `${drawAxis(spec.y)}, over ${drawAxis(spec.x)}. ${labels}. ${spec.notes.join(" ")}`;
  return told.replace(/\u00a0/g, " ").trim();
};
