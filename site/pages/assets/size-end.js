// What stands round the questions of the duty form: all of them with their answers, what is known at the end, examples,
// files. Like size-form.js it computes nothing, and whatever comes from outside is text here.
(function () {
  "use strict";
  if (!shop.asks) return;
  const { root, raw, now, take, answer, isKnown, saysUnknown, rows, found, screens, isSame, entriesOf, named, idOf, titleOf } = shop.asks;
  const { isOpen, go, made, act, sure } = shop.asks;
  const one = (selector) => root.querySelector(selector);
  const link = (id, ...words) => made("a", { href: `#q=${encodeURIComponent(id)}` }, ...words);
  const list = (items, kind) => made("ul", kind ? { class: kind } : {}, ...items.map((item) => made("li", {}, item)));

  // ---- all questions and answers
  const said = (entry, number) => (saysUnknown(entry, number) ? "don’t know" : answer(entry, number) || "–");
  function told({ section, number }) {
    const entries = entriesOf(section);
    if (entries.length) return entries.map((entry) => said(entry, number)).join(", ");
    return ["cylinder", "motor"].map((table) => rows(table).length && `${rows(table).length} ${table}${rows(table).length > 1 ? "s" : ""}`)
      .filter(Boolean).join(", ") || "–";
  }
  function tellAll() {
    if (!one(".asks__all").open) return;
    const items = screens().filter(({ section }) => section.dataset.id !== "more").map((screen) => {
      const line = link(idOf(screen), made("span", {}, titleOf(screen)), " ", made("b", {}, told(screen)));
      if (isSame(screen, now())) line.setAttribute("aria-current", "step");
      return line;
    });
    one(".asks__all > div").replaceChildren(list(items, "every"));
  }
  one(".asks__all").addEventListener("toggle", tellAll);
  addEventListener("beforeprint", tellAll); // shop.js has opened it: on paper it is the page

  // ---- the end
  const toldOf = (fault) => `${fault.entry}: ${fault.got}. Needed: ${fault.need}. ${fault.do}`;
  function tellEnd() {
    if (now().section.dataset.id !== "end") return;
    const entries = screens().flatMap(({ section, number }) => entriesOf(section).map((entry) => [entry, number]));
    const known = entries.filter(([entry, number]) => isKnown(entry, number));
    const unknown = entries.filter(([entry, number]) => saysUnknown(entry, number));
    const open = entries.length - known.length - unknown.length;
    one(".asks__count").textContent = `${known.length} entries known, ${unknown.length} not known, ${open} not answered.`;
    const { troubles } = sizing.readDuty(raw());
    const wrong = troubles.filter(() => Object.keys(raw()).length)
      .map((fault) => (found(fault.entry) ? link(fault.entry, toldOf(fault)) : toldOf(fault)));
    one('[data-do="open-ones"]').hidden = !screens().some(isOpen);
    const lacking = unknown.filter(([entry]) => !entry.startsWith("duty."))
      .map(([entry, number]) => link(named(entry, number), sizing.entryText(named(entry, number))));
    const parts = [];
    if (wrong.length) parts.push(made("h3", {}, "Left out, for it cannot be read"), list(wrong));
    if (lacking.length) parts.push(made("h3", {}, "To be found out"), list(lacking));
    one(".asks__open").replaceChildren(...parts);
  }
  document.addEventListener("size:shown", () => { tellAll(); tellEnd(); });

  // ---- examples, files, anew
  const choose = one(".asks__choose");
  const hasAnswers = () => Object.values(raw()).some((table) => [table].flat().some((row) => row && Object.keys(row).length));
  const replaced = (question, run) => (hasAnswers() ? sure(choose, question, run) : run());
  function begin(duty, words, place = "end") {
    take(duty);
    choose.replaceChildren();
    one(".asks__more").open = false;
    go(place);
    shop.say(words, true);
  }
  async function example() {
    await shop.load("assets/size-demo.js");
    choose.replaceChildren(made("p", {}, "Invented machines:"), ...Object.values(sizeDemo.duties).map((duty) =>
      act(duty.duty.title, () => replaced("Put this example in place of your answers?", () => begin(duty, "The example is filled in.")))));
    choose.querySelector("button").focus();
  }
  function save() {
    const text = sizing.dutyToml(raw());
    const address = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
    made("a", { href: address, download: "duty.toml" }).click();
    setTimeout(() => URL.revokeObjectURL(address), 10000);
  }
  const utf8 = (bytes) => { try { return new TextDecoder("utf-8", { fatal: true }).decode(bytes); } catch (fault) { return null; } };
  async function opened(file) {
    const text = utf8(await file.arrayBuffer());
    try {
      const duty = sizing.readDutyFile(text || "", file.name, text === null);
      replaced("Put this file in place of your answers?", () => begin(duty, `${file.name} is open.`));
    } catch (fault) {
      if (!(fault instanceof sizing.InputError)) throw fault;
      choose.replaceChildren(made("p", {}, "Not opened:"), list(fault.troubles.map(toldOf)));
    }
  }
  const input = one('input[type="file"]');
  input.addEventListener("change", () => { if (input.files.length) opened(input.files[0]); input.value = ""; });
  const acts = {
    example, save,
    open() { input.click(); },
    anew() { sure(choose, "Clear every answer on this device?", () => begin({}, "All answers are cleared.", "moves")); },
  };
  root.addEventListener("click", (event) => {
    const button = event.target.closest("[data-do]");
    if (button && acts[button.dataset.do]) acts[button.dataset.do]();
  });
  tellAll();
  tellEnd();
})();
