// Forces over the stroke: twin of drawing/stroke.py and of stroke_chart in job/charts.py, character for character; and
// which chart belongs to an answer.

// ---- stroke.py
const drawStroke = (spec) => {
  const { x: strokes, terms, drive, worst } = spec;
  const layers = drawStack(terms.map((term) => term.y), strokes.length);
  const forces = [...layers.flat().filter(Boolean).flat(), ...drive.y.filter((force) => force !== null)];
  const marks = drawTicks(Math.min(0, ...forces), Math.max(0, ...forces));
  const heads = drawHeadings(spec);
  const top = DRAW_ROW * heads.reduce((rows, head) => rows + head.lines.length, 1) + 8, bottom = top + DRAW_DEEP;
  const xLow = strokes[0], xHigh = strokes[strokes.length - 1], yLow = marks[0], yHigh = marks[marks.length - 1];
  const atX = (x) => 40 + ((x - xLow) / (xHigh - xLow)) * (DRAW_RIGHT - 40);
  const atY = (y) => top + ((yHigh - y) / (yHigh - yLow)) * DRAW_DEEP;
  const said = drawStrokeSaid(spec), name = drawMark(spec.title, said);
  const area = (run, fill) => {
    const edge = [
      ...run.map(([x, [, high]]) => [atX(x), atY(high)]),
      ...run.map(([x, [low]]) => [atX(x), atY(low)]).reverse(),
    ];
    return `<path d="${drawPath(edge)}Z" fill="${fill}" stroke="${DRAW_INK}" stroke-width="0.75"/>`;
  };
  const curve = (values, look) => {
    const layer = values.map((force) => (force === null ? null : [force, force]));
    return drawRuns(strokes, layer).map((run) => drawLine(run.map(([x, [, y]]) => [atX(x), atY(y)]), look));
  };
  const body = [drawHatches(name, terms.length), drawText(2, 14, `force in ${spec.unit_y}`)];
  for (const mark of marks) {
    const y = atY(mark);
    body.push(drawLine([[40, y], [DRAW_RIGHT, y]], { stroke: DRAW_FAINT, width: mark === 0 ? 1.5 : 0.5 }));
    body.push(drawText(34, y + 5, shown(mark), { anchor: "end" }));
  }
  for (const mark of drawTicksInside(xLow, xHigh)) {
    body.push(drawLine([[atX(mark), bottom], [atX(mark), bottom + 5]]));
    body.push(drawText(atX(mark), bottom + 20, shown(mark), { anchor: "middle" }));
  }
  body.push(drawText(DRAW_RIGHT, bottom + 38, `stroke in ${spec.unit_x}`, { anchor: "end" }));
  layers.forEach((layer, place) => {
    body.push(...drawRuns(strokes, layer).map((run) => area(run, `url(#${name}-${place})`)));
  });
  const sums = strokes.map((_, place) => drawSum(terms.map((term) => term.y[place])));
  if (terms.some((term) => term.y.some((force) => force !== null && force < 0))) {
    body.push(...curve(sums, { width: 1.5, dash: "5 3" }));
  }
  body.push(...curve(drive.y, { stroke: DRAW_PAPER, width: 6 }));
  const gap = drive.y.map((force, place) =>
    force === null || sums[place] === null ? null : [force, Math.max(force, sums[place])]);
  const short = gap.some((pair) => pair && pair[1] > pair[0]);
  if (short) body.push(...drawRuns(strokes, gap).map((run) => area(run, DRAW_ALARM)));
  body.push(...curve(drive.y, { width: 3 }), ...drawPlaces(heads, atX, bottom));
  let y = bottom + 62;
  body.push(drawLine([[8, y - 5], [34, y - 5]], { width: 3 }));
  y = drawLegend(body, `line: ${drive.label}`, y);
  if (short) {
    body.push(drawBox(8, y - 13, 26, 16, DRAW_ALARM));
    y = drawLegend(body, "force that is missing", y);
  }
  for (let place = terms.length - 1; place >= 0; place -= 1) {
    body.push(drawBox(8, y - 13, 26, 16, `url(#${name}-${place})`));
    y = drawLegend(body, terms[place].label, y);
  }
  if (worst && worst.label) {
    body.push(drawLine([[21, y - 14], [21, y + 3]], { stroke: DRAW_ALARM, width: 1.5 }));
    y = drawLegend(body, `weakest place: ${worst.label}`, y);
  }
  return drawPicture(spec.title, said, y - 10, body);
};
const drawSum = (forces) => (forces.includes(null) ? null : total(forces));
const drawStack = (columns, count) => {
  const above = Array(count).fill(0), below = Array(count).fill(0);
  return columns.map((column) =>
    column.map((force, place) => {
      const pile = force === null || force >= 0 ? above : below;
      const start = pile[place];
      if (force === null || start === null) {
        above[place] = below[place] = null;
        return null;
      }
      pile[place] = start + force;
      return [start, start + force];
    }),
  );
};
const drawRuns = (strokes, layer) => {
  const runs = [[]];
  strokes.forEach((stroke, place) => {
    if (layer[place]) runs[runs.length - 1].push([stroke, layer[place]]);
    else runs.push([]);
  });
  return runs.filter((run) => run.length);
};
const drawHeadings = (spec) => {
  const { worst, unit_x: unit } = spec;
  const places = (spec.marks || []).map(({ x, label }) => [x, `${label}, ${shown(x)} ${unit}`, false]);
  if (worst) {
    const left = quantityText(worst.margin, spec.unit_y);
    places.push([worst.x, `weakest: ${left} left at ${shown(worst.x)} ${unit}`, true]);
  }
  let row = 1;
  return places.map(([stroke, words, weakest]) => {
    const lines = drawWrapped(words, DRAW_WIDTH - 8);
    row += lines.length;
    return { stroke, lines, row: row - lines.length, weakest };
  });
};
const drawPlaces = (heads, atX, bottom) => {
  const lines = [], told = [];
  for (const { stroke, lines: words, row, weakest } of heads) {
    const x = atX(stroke), y = 14 + DRAW_ROW * row, ink = weakest ? DRAW_ALARM : DRAW_INK;
    const at = Math.min(x + 5, DRAW_WIDTH - 2 - Math.max(...words.map(drawRoom)));
    const start = at > x ? y - 10 : y + DRAW_ROW * (words.length - 1) + 4;
    lines.push(drawLine([[x, start], [x, bottom]], { stroke: ink, width: 1.5, dash: weakest ? "" : "3 3" }));
    words.forEach((line, place) => {
      told.push(drawText(Math.max(at, 2), y + DRAW_ROW * place, line, { bold: weakest, fill: ink, halo: true }));
    });
  }
  return [...lines, ...told];
};
const drawStrokeSaid = (spec) => {
  const { worst, unit_x: unitX, unit_y: unitY, drive } = spec;
  const names = spec.terms.map((term) => term.label).join(", ");
  const said = `${drive.label} as a line over ${names}, stacked, along the stroke in ${unitX}; forces in ${unitY}.`;
  if (!worst) return said;
  const place = `${quantityText(worst.margin, unitY)} left at ${shown(worst.x)} ${unitX}`;
  return `${said} Weakest place: ${place}${worst.label ? `, ${worst.label}` : ""}.`;
};

// ---- job/charts.py
/** What drawing.stroke needs, from the answer of a shift budget. */
const strokeSpec = (id, answer, title) => {
  const found = Object.fromEntries(answer.results.map((row) => [row.name, row]));
  const { unit: force } = found.margin, { unit: way } = found.margin_position;
  const si = (name) => answer.inputs[name].si;
  const inUnit = (result, name, unit) => {
    const place = result.columns.findIndex((column) => column.name === name), own = result.columns[place].unit;
    const { dimension } = cardWord(name);
    return result.rows.map((row) =>
      own === unit ? row[place] : fromSi(toSi(row[place], own, dimension), unit, dimension));
  };
  const told = (name, unit) => showValue(si(name), cardWord(name).dimension, unit, 3).replace(/ /g, DRAW_NBSP);
  const rows = found.stroke_rows, direction = si("direction");
  const marks = [{ x: fromSi(si("overlap"), way, "length"), label: "edges open" }];
  const corner = chartSi(found.corner_opening.value, "corner_opening", found.corner_opening.unit);
  if (corner > 0 && si("overlap") + corner < si("stroke") && si("state") === "flow") {
    marks.push({ x: fromSi(si("overlap") + corner, way, "length"), label: "pump flow passes" });
  }
  const winding = () => told("winding_temperature", answer.inputs.winding_temperature.unit);
  return {
    kind: "stroke",
    title,
    direction,
    unit_x: way,
    unit_y: force,
    x: inUnit(rows, "position", way),
    drive: {
      label: direction === "energise"
        ? `solenoid at ${told("coil_voltage", "V")}, winding ${winding()}`
        : "spring, flow force and pin",
      y: inUnit(rows, "drive", force),
    },
    terms: card(id).stroke_terms[direction]
      .map(([name, label]) => ({ label, y: inUnit(rows, name, force) }))
      .filter((term) => term.y.some((value) => value > 0)),
    worst: { x: inUnit(found.worst, "position", way)[0], margin: inUnit(found.worst, "margin", force)[0] },
    marks,
  };
};

/** The chart of an answer as part of a page, or "". */
const chartFigure = (id, answer) => {
  const rows = answer.results.find((row) => row.name === "stroke_rows");
  const spec = rows ? null : curveSpec(id, answer);
  const drawn = rows ? drawStroke(strokeSpec(id, answer, "Forces over the stroke")) : spec && drawCurve(spec);
  return drawn ? `<figure class="chart">${drawn}</figure>` : "";
};

const drawing = { curve: drawCurve, stroke: drawStroke };
