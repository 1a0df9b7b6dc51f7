// Keeping a reading for the job: the lines for the job file, copied with one button. Nothing leaves the device.
(function () {
  "use strict";
  const area = document.querySelector(".keep");
  if (!area) return;
  const text = area.querySelector(".keep__text");
  const said = area.querySelector(".keep__said");
  const asBuilt = text.textContent;

  document.addEventListener("shop:answer", (event) => {
    const { answer } = event.detail;
    text.textContent = answer ? answer.keep : answer === null ? asBuilt : "Nothing to keep: correct the entry that is marked.";
    said.textContent = "";
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
  document.addEventListener("click", (event) => {
    if (!event.target.closest("[data-keep]")) return;
    if (navigator.clipboard) navigator.clipboard.writeText(text.textContent).then(() => { said.textContent = "Copied."; }, select);
    else select();
    if (event.target.closest(".calculator")) area.scrollIntoView({ block: "center" });
  });
})();
