// Keeping a reading for the job: the lines for the job file are copied with one button, and where a job is open on this
// device they are put into it. Nothing leaves the device.
(function () {
  "use strict";
  const area = document.querySelector(".keep");
  if (!area) return;
  const text = area.querySelector(".keep__text");
  const said = area.querySelector(".keep__said");
  const asBuilt = text.textContent;
  const { jobs } = shop;
  const into = area.appendChild(document.createElement("div"));
  into.className = "keep__job";
  let answer = null;

  document.addEventListener("shop:answer", (event) => {
    ({ answer } = event.detail);
    text.textContent = answer ? answer.keep : answer === null ? asBuilt : "Nothing to keep: correct the entry that is marked.";
    said.textContent = "";
    into.replaceChildren();
  });
  // Without a secure context (plain http in a shop's net, a stick) there is no clipboard: the text stands selected.
  function select() {
    const range = document.createRange();
    range.selectNodeContents(text);
    const chosen = getSelection();
    chosen.removeAllRanges();
    chosen.addRange(range);
    said.textContent = "Marked: copy it with the keyboard or a long press.";
  }

  // ---- into the open job
  const place = () => valvecalc.card(document.querySelector(".calculator").dataset.id).keep;
  const typed = () => Object.entries(place().keys).map(([name, key]) => [key, (answer.inputs[name] || {}).text]).filter(([, value]) => value);
  const table = () => place().table.replace(/[[\]]/g, "");
  // Where it can stand: one table, or a row of several, a coil's trial by its state.
  function places(raw) {
    const [name, trial] = table().split(".");
    if (!jobs.REPEATED.includes(name)) return [["", {}]];
    const rows = jobs.found(raw, name);
    const called = (row, at) => (name === "coil" ? `coil ${jobs.plain(row.name) || at + 1}` : jobs.plain(row.path ?? row.place ?? row.what) || `${name.replace("_", " ")} ${at + 1}`);
    const each = rows.map((row, at) => [called(row, at), { row: at }]);
    const fresh = [name === "coil" ? `coil ${"ab"[rows.length] || rows.length + 1}` : `another ${name.replace("_", " ")}`, { row: rows.length, fresh: true }];
    if (!trial) return [...each, fresh];
    return [...each, ...(each.length ? [] : [fresh])].flatMap(([words, at]) =>
      ["no-pressure", "blocked", "dwell", "flow", "duty"].map((state) => [`${words}, ${state.replace("-", " ")}`, { ...at, state }]));
  }
  function put(words, at) {
    const done = jobs.change((raw) => {
      typed().forEach(([key, value]) => {
        const field = `${table()}.${key}`;
        jobs.put(raw, field, at, jobs.instead(jobs.get(raw, field, at), value));
      });
      const [name] = table().split(".");
      const row = jobs.found(raw, name)[at.row];
      if (name === "coil" && row.name === undefined) row.name = words.split(",")[0].slice(5);
    });
    into.textContent = done ? `Kept in ${jobs.open().name}${words ? `: ${words}` : ""}.` : "Not kept on this device: there is no room, or the browser forbids it.";
  }
  function offer() {
    const job = jobs.open();
    into.replaceChildren();
    if (!job || !answer || !typed().length) return;
    const told = document.createElement("p");
    told.textContent = `Put it into ${job.name} as well:`;
    const buttons = document.createElement("p");
    buttons.className = "answer__do";
    places(job.raw).forEach(([words, at]) => {
      const stands = typed().map(([key]) => jobs.plain(jobs.get(job.raw, `${table()}.${key}`, at))).filter(Boolean);
      const button = document.createElement("button");
      Object.assign(button, { type: "button", className: "act" });
      button.textContent = `${words || place().table}${stands.length ? ` (in place of ${stands[0]})` : ""}`;
      button.addEventListener("click", () => put(words, at));
      buttons.append(button);
    });
    into.append(told, buttons);
  }

  document.addEventListener("click", (event) => {
    if (!event.target.closest("[data-keep]")) return;
    if (navigator.clipboard) navigator.clipboard.writeText(text.textContent).then(() => { said.textContent = "Copied."; }, select);
    else select();
    offer();
    if (event.target.closest(".calculator")) area.scrollIntoView({ block: "center" });
  });
  document.dispatchEvent(new Event("shop:asked"));
})();
