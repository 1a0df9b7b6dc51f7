// Citing an answer: the text to paste, and a QR code of its link for paper. Nothing leaves the device.
(function () {
  "use strict";
  const section = document.querySelector(".calculator");
  const area = document.querySelector(".cite");
  if (!section || !area || !window.valvecalc) return;
  const text = area.querySelector(".cite__text");
  const code = area.querySelector(".cite__code");
  const said = area.querySelector(".cite__said");
  const asBuilt = text.textContent;
  let answer = null;

  // The shop's own address where it told us one; else where these pages are, unless nobody else can get there.
  function site() {
    if (valvecalc.site.address) return valvecalc.site.address;
    if (!/^https?:$/.test(location.protocol) || /^(localhost|127\.|\[::1\])/.test(location.host)) return "";
    return new URL(shop.root || "./", location.href).href;
  }
  document.addEventListener("shop:answer", (event) => {
    ({ answer } = event.detail);
    text.textContent = answer ? valvecalc.cite(answer, site()) : answer === null ? asBuilt : "No answer to cite: correct the entry that is marked.";
    said.textContent = "";
    if (!code.hidden) draw();
  });

  function link() {
    const from = site();
    return from ? from.replace(/\/+$/, "") + (answer ? answer.link : `/${valvecalc.card(section.dataset.id).page}`) : "";
  }
  function draw() {
    const target = link();
    code.hidden = false;
    code.replaceChildren();
    const told = document.createElement("p");
    code.append(told);
    if (!target) {
      told.textContent = "No QR code: these pages have no address that others can reach. Give it as site in shop.toml.";
      return;
    }
    shop.load("assets/qr.js").then(() => {
      const drawn = shop.qr(target);
      if (!drawn) {
        told.textContent = "No QR code: the link is too long for one. Paste the text instead.";
        return;
      }
      told.textContent = "Scan for this page with these entries.";
      code.prepend(drawn);
    });
  }
  function select() {
    const range = document.createRange();
    range.selectNodeContents(text);
    const chosen = getSelection();
    chosen.removeAllRanges();
    chosen.addRange(range);
  }
  // Without a secure context (plain http in a shop's net, a stick) there is no clipboard: the text stands selected.
  function copy() {
    const chosen = () => { select(); said.textContent = "Marked: copy it with the keyboard or a long press."; };
    if (!navigator.clipboard) return chosen();
    navigator.clipboard.writeText(text.textContent).then(() => { said.textContent = "Copied."; }, chosen);
  }
  document.addEventListener("click", (event) => {
    if (!event.target.closest("[data-cite]")) return;
    copy();
    draw();
    if (event.target.closest(".calculator")) area.scrollIntoView({ block: "center" });
  });
  document.dispatchEvent(new Event("shop:asked"));
})();
