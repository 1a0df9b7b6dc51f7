// The request to any supplier out of the duty that the device keeps. `sizing` makes it; here it is only put up as text.
(function () {
  "use strict";
  const page = document.querySelector(".request");
  if (!page) return;
  const one = (selector) => page.querySelector(selector);
  const made = (tag, ...children) => { const element = document.createElement(tag); element.append(...children); return element; };
  const kept = shop.kept("duty");
  const link = (entry) => {
    const words = made("a", sizing.entryText(entry));
    words.href = shop.page(`size/machine/#q=${encodeURIComponent(entry)}`);
    return made("li", words);
  };

  function tell() {
    const told = sizing.request(sizing.readDuty(kept).duty, shop.units().system);
    page.dataset.state = "yours";
    one(".request__machine").textContent = told.machine || told.title;
    one(".request__lines").replaceChildren(...told.request.map((row) => made("li", made("strong", `${row.what}:`), ` ${row.figure}`)));
    const { function: given, operator, stage } = told.old;
    const drawn = sizing.symbol(given, operator, stage);
    one(".request__drawn").hidden = !drawn;
    one(".request__drawn figure").innerHTML = drawn; // it escapes every word
    const lacks = [...new Set(told.request.flatMap((row) => row.lacks))];
    one(".request__open").hidden = !lacks.length;
    one(".request__open ul").replaceChildren(...lacks.map(link));
  }
  // As `valvecalc size` prints it, without its line breaks.
  function text() {
    const lines = (selector) => [...page.querySelectorAll(selector)].map((line) => line.textContent);
    const open = one(".request__open");
    return [
      `! ${document.querySelector(".request__hold").textContent}`, "", one("h2").textContent, one(".request__machine").textContent, "",
      ...lines(".request__lines > li").map((line) => `  ${line}`),
      ...(open.hidden ? [] : ["", ...lines(".request__open > p"), ...lines(".request__open li").map((line) => `  - ${line}`)]),
    ].join("\n");
  }
  // Without a secure context (plain http in a shop's net, a stick) there is no clipboard: the text stands selected.
  function select() {
    const range = document.createRange();
    range.selectNodeContents(one(".request__lines"));
    const chosen = getSelection();
    chosen.removeAllRanges();
    chosen.addRange(range);
    one(".request__said").textContent = "Marked: copy it with the keyboard or a long press.";
  }
  one('[data-do="copy"]').addEventListener("click", () => {
    if (!navigator.clipboard) return select();
    return navigator.clipboard.writeText(text()).then(() => { one(".request__said").textContent = "Copied."; }, select);
  });
  one('[data-do="print"]').addEventListener("click", () => print());
  if (!kept || typeof kept !== "object") return;
  shop.load("assets/size.js").then(() => {
    tell();
    document.addEventListener("shop:units", tell);
  }, () => shop.say("Not loaded: no reception?", true));
})();
