// The answer on a page as HTML text, from the plain data of an answer: twin of sitegen/answer_part.py, letter by letter.
// Every text is escaped. `link(page)` turns a page of the site into an address.
const SHOW_LONG = 6;
const SHOW_ORIGINS = SITE.origins;

const showSymbols = (text) =>
  esc(text)
    .replace(/_([\p{L}\p{N}_]+|∞|\+)/gu, "<sub>$1</sub>")
    .replace(/\^\(([^()]*)\)/g, "<sup>$1</sup>")
    .replace(/\^((?:[\p{L}\p{N}_.]|<sub>[\p{L}\p{N}_]+<\/sub>)+)/gu, "<sup>$1</sup>");
const showLabel = (card, name) => {
  const words = card.labels[name] || cardWord(name).meaning;
  return words.slice(0, 1).toUpperCase() + words.slice(1);
};
const showWithin = (words) => (/^.\p{Lu}/su.test(words) ? words : words.slice(0, 1).toLowerCase() + words.slice(1));
const showNamed = (card, name) => {
  const { symbol } = cardWord(name);
  return esc(showLabel(card, name)) + (symbol ? ` <var>${showSymbols(symbol)}</var>` : "");
};
const showBullets = (texts) => (texts.length ? `<ul>${texts.map((text) => `<li>${esc(text)}</li>`).join("")}</ul>` : "");
const showDetails = (summary, body) => `<details><summary>${esc(summary)}</summary>${body}</details>`;
const showVerdict = (word) => `<span class="verdict ${esc(word)}">${esc(word.replace("-", " "))}</span>`;
const showResult = (row) => fullQuantity(row.value, row.unit || "", row.uncertainty);

const showTable = (heads, rows, figures) => {
  if (!rows.length) return "";
  const lines = rows.map((row) => {
    const cells = row.slice(1).map((cell, i) => {
      // Longer than a figure is a sentence: it may break (report/parts.py).
      const short = figures.includes(i + 1) && [...cell.replace(/<[^>]*>/g, "")].length <= 40;
      const kind = short ? ' class="figure"' : "";
      return `<td role="cell"${kind} data-head="${esc(heads[i + 1])}">${cell}</td>`;
    });
    return `<tr role="row"><th scope="row" role="rowheader">${row[0]}</th>${cells.join("")}</tr>`;
  });
  const top = heads.map((head) => `<th scope="col" role="columnheader">${esc(head)}</th>`).join("");
  return (
    `<table class="stack" role="table"><thead role="rowgroup"><tr role="row">${top}</tr></thead>` +
    `<tbody role="rowgroup">${lines.join("")}</tbody></table>`
  );
};
const showPairs = (heads, rows) => {
  const told = showTable(heads, rows, [1]);
  return told ? `<div class="pairs">${told}</div>` : "";
};
const showCell = (value) => (absent(value) ? "–" : typeof value === "string" ? value : shown(value));
const showColumn = (column) => {
  const name = column.name.replace(/_/g, " ");
  return ["", "1", "text"].includes(column.unit || "") ? name : `${name}, ${column.unit}`;
};
const showGrid = (card, name, columns, rows) => {
  const title = showLabel(card, name);
  const top = columns.map((column) => `<th scope="col">${esc(showColumn(column))}</th>`).join("");
  const lines = rows.map((row) => `<tr>${row.map((value) => `<td>${esc(showCell(value))}</td>`).join("")}</tr>`).join("");
  return (
    `<p><strong>${esc(title)}</strong></p><div class="scroll" tabindex="0" role="group" aria-label="${esc(title)}">` +
    `<table><thead><tr>${top}</tr></thead><tbody>${lines}</tbody></table></div>`
  );
};

const showHeadline = (card, answer) => {
  const { result } = answer;
  if (!result) {
    return (
      `<p class="answer-figure"><span>${showNamed(card, card.result)}</span> <strong>No value yet</strong> ` +
      `<span>${esc(showWhyNone(card, answer))}</span></p>`
    );
  }
  const judged = answer.results.find((one) => one.name === result.name && one.verdict);
  return (
    `<p class="answer-figure"><span>${showNamed(card, result.name)}</span> <strong>${esc(showResult(result))}</strong>` +
    `${judged ? ` ${showVerdict(judged.verdict)}` : ""}</p>`
  );
};
const showWhyNone = (card, answer) => {
  const none = answer.missing.find((lack) => lack.entry === card.result);
  if (none) return `${none.why}. ${none.how}`;
  const needed = [...new Set(answer.missing.map((lack) => lack.entry))];
  if (!needed.length) return "These entries have none.";
  return `Still needed: ${needed.map((name) => showWithin(showLabel(card, name))).join(", ")}.`;
};

const showResults = (card, answer) => {
  const singles = answer.results.filter((one) => !("rows" in one));
  if (singles.length < 2) return "";
  const judged = (one) => esc(showResult(one)) + (one.verdict ? ` ${showVerdict(one.verdict)}` : "");
  return showPairs(["Result", "Value"], singles.map((one) => [showNamed(card, one.name), judged(one)]));
};
const showLists = (card, answer) =>
  answer.results
    .filter((one) => "rows" in one)
    .map((one) => {
      if (one.name === "single_causes") return showCauses(card, answer, one.rows);
      if (one.rows.length === 1) {
        const cells = one.columns.map((column, i) => [
          showNamed(card, column.name),
          esc(showResult({ ...column, value: one.rows[0][i] })),
        ]);
        return `<h3>${esc(showLabel(card, one.name))}</h3>` + showPairs(["Force or pressure", "Value"], cells);
      }
      const table = showGrid(card, one.name, one.columns, one.rows);
      return one.rows.length > 12 ? showDetails(showLabel(card, one.name), table) : table;
    })
    .join("");
const showCauses = (card, answer, rows) =>
  showTable(
    ["What alone", "Is now", "Stops the valve at"],
    rows.map(([name, value]) => {
      const { unit, value: now } = answer.inputs[name];
      const there = absent(value)
        ? "none within its limits"
        : showResult({ value: fromSi(value, unit, cardWord(name).dimension), unit });
      return [showNamed(card, name), esc(quantityText(now, unit, null, 6)), esc(there)];
    }),
    [1, 2],
  );
const showMissing = (lack) => {
  const told = [lack.why, lack.how].filter(Boolean).join("; ");
  const name = lack.entry.replace(/_/g, " ");
  return told ? `${name}: ${told}` : name;
};
const showNext = ({ caution, page, title }, link) =>
  `<p class="meaning__before">${esc(caution)}</p><p>Next: <a href="${esc(link(page))}">${esc(title)}</a></p>`;
/** What the verdicts mean and which check comes next; what can hurt in it stands before it. */
const showMeaning = (card, answer, link) => {
  if (!answer.meaning) return "";
  const told = answer.meaning.map(({ result, verdict, means, next }) =>
    `<div class="meaning"><p>${showNamed(card, result)} ${showVerdict(verdict)}</p>` +
    `<p>${esc(means)}</p>${next ? showNext(next, link) : ""}</div>`);
  return `<h3>What it means and the next step</h3>${told.join("")}`;
};
const showBody = (card, answer, link) => {
  const lacking = showBullets(answer.missing.map(showMissing));
  const outside = showBullets(answer.limits.filter((limit) => limit.says).map((limit) => limit.says));
  return (
    showMeaning(card, answer, link) +
    showResults(card, answer) +
    showBullets(card.rules) +
    showLists(card, answer) +
    (lacking ? `<h3>Not computed, and what it needs</h3>${lacking}` : "") +
    (outside ? `<h3>Trust it less, because</h3>${outside}` : "")
  );
};

const showWorked = (step) => {
  const symbol = String(step.symbol || step.name);
  const lines = [step.symbolic, step.substituted]
    .filter(Boolean)
    .map((line) => (line.startsWith(`${symbol} = `) ? line.slice(symbol.length + 3) : line));
  const value = fullQuantity(step.value, step.unit || "", null);
  return [symbol, lines[lines.length - 1] === value ? lines : [...lines, value]];
};
const showLines = (card, steps, link) => {
  const items = steps.map((step) => {
    const [symbol, told] = showWorked(step);
    const worked = told.slice(0, -1).map((line) => `<span class="eq">= ${showSymbols(line)}</span>`).join("");
    const callee = step.of ? cardCallee(step.of) : null;
    const by = !callee ? "" : callee.page ? `, by <a href="${esc(link(callee.page))}">${esc(callee.title)}</a>` : `, by ${esc(callee.title)}`;
    return (
      `<li><span class="quiet">${esc(showLabel(card, step.name))}${by}</span>` +
      `<span class="lines"><span>${showSymbols(symbol)}</span>${worked}` +
      `<span class="eq res">= ${esc(told[told.length - 1])}</span></span>${showInside(callee, step, link)}</li>`
    );
  });
  return `<ol>${items.join("")}</ol>`;
};
const showInside = (callee, step, link) => {
  if (!callee || (callee.kind === "formula" && step.steps.length < 2)) return "";
  const inner = showLines(callee, step.steps, link);
  return step.steps.length > SHOW_LONG ? showDetails(`Its ${step.steps.length} lines`, inner) : inner;
};
const show = { headline: showHeadline, body: showBody, lines: showLines };
