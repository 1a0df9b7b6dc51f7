// The end of an answer of "Which fits", for a report: what it was judged with, and the whole as text to copy. The text says
// what `valvecalc size` prints (selection/console.py), without its line breaks.
shop.sizeReport = (told, asked) => {
  "use strict";
  const { el, act, table } = shop.size;
  const MARKS = { accept: "[ fits ]", ask: "[ ask  ]", reject: "[ no   ]" };
  const SIGNS = { accept: "+", ask: "?", reject: "-" };
  const IN_FULL = 3; // leaders told rule by rule, the others by what they miss

  // Every entry of the duty as it was written: [what, entry, text].
  function entries() {
    return Object.keys(sizing.fields).filter((name) => name !== "duty").flatMap((name) => {
      const given = asked.raw[name];
      const labels = Array.isArray(given) ? given.map((row, at) => [`${name} ${at + 1}`, row]) : [[name, given || {}]];
      return labels.flatMap(([label, row]) => Object.entries(sizing.fields[name]).filter(([key]) => row && row[key] !== undefined)
        .map(([key, { meaning }]) => [meaning.split(";")[0] || key.replace(/_/g, " "), `${label}.${key}`, String(row[key])]));
    });
  }
  function candidate(row, place) {
    const open = row.verdict !== "reject";
    const about = [row.id, row.shelf ? `shelf ${row.shelf}` : "", row.interface || "mounting not known",
      open && row.margin !== null ? `smallest margin ${Math.floor(100 * row.margin + 0.5)} %` : "",
      open && row.loss !== null ? `costs the pump ${(Math.floor(10 * row.loss + 0.5) / 10).toFixed(1)} ${row.loss_unit}` : "",
      open && row.price !== null ? `price ${row.price}` : ""].filter(Boolean).join(", ");
    const refusing = row.rules.filter((rule) => rule.verdict === "reject" && rule.sentence.startsWith("REFUSED"));
    const full = place < IN_FULL && open;
    const shown = full ? row.rules : row.verdict === "accept" ? [] : row.rules.filter((rule) => rule.verdict === row.verdict);
    return [`${MARKS[row.verdict]} ${about}`, ...(refusing.length ? row.cautions.slice(0, 1).map((text) => `  ! ${text}`) : []),
      ...shown.map((rule) => `  ${SIGNS[rule.verdict]} ${rule.sentence}`), ""];
  }
  function text() {
    const more = told.judged - told.candidates.length;
    return [
      "! BEFORE ANY VALVE IS CHANGED", ...told.cautions.map((one) => `! ${one}`), "",
      [told.title, told.machine].filter(Boolean).join(" · "), told.headline, "",
      ...told.notes.flatMap((note) => [note, ""]), ...told.candidates.flatMap(candidate),
      ...(more ? [`${more} more do no better.`, ""] : []),
      ...(told.find_out.length ? ["To be found out about the machine:", ...told.find_out.map((row) => `  - ${row.what}`), ""] : []),
      ...(told.faults.length ? ["To put right in the list:", ...told.faults.map((one) => `  - row ${one.row} ${one.name}: ${one.column}: got ${one.got}, need ${one.need}`), ""] : []),
      "What the machine asks:", ...entries().map(([what, entry, value]) => `  ${entry} = ${value} (${what})`), "", ...judgedWith(), "",
    ].join("\n");
  }
  const judgedWith = () => [`List: ${asked.list.name}${asked.list.date ? `, opened ${asked.list.date}` : ""}, ${asked.valves.length} valves.`,
    `valvecalc ${told.version}, data ${told.data_version}.`];

  const whole = el("pre", { class: "fits__text", tabindex: 0 });
  const said = el("span", { role: "status" });
  function select() {
    whole.closest("details").open = true;
    getSelection().selectAllChildren(whole);
    said.textContent = "Marked: copy it with the keyboard or a long press.";
  }
  function copy() {
    whole.textContent = text();
    // Without a secure context (plain http in a shop's net, a stick) there is no clipboard: the text stands selected.
    if (navigator.clipboard) navigator.clipboard.writeText(whole.textContent).then(() => { said.textContent = "Copied."; }, select);
    else select();
  }
  const shown = el("details", { class: "no-print" }, el("summary", {}, "The whole as text"), whole);
  shown.addEventListener("toggle", () => { whole.textContent = text(); });
  const rows = entries();
  return el("section", { class: "fits__report" }, el("h2", {}, "What it was judged with"),
    el("p", { class: "entries__do no-print" }, act("Print", () => print()), act("Copy as text", copy), said), shown,
    judgedWith().map((line) => el("p", {}, line)),
    el("details", {}, el("summary", {}, `What the machine asks: ${rows.length} entries`),
      table(["Entry", "Value", "Named"], rows.map(([what, entry, value]) => [what, value, el("code", {}, entry)]))));
};
