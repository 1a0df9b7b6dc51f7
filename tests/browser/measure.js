// Put into each page by the tests: how it lies on the screen and how well its text stands out.
window.measure = function (scheme) {
  document.documentElement.dataset.mdColorScheme = scheme;
  document.querySelectorAll("article details").forEach((part) => { part.open = true; });
  const canvas = document.createElement("canvas").getContext("2d", { willReadFrequently: true });
  const known = new Map();
  function rgba(text) {
    if (!known.has(text)) {
      canvas.clearRect(0, 0, 1, 1);
      canvas.fillStyle = text;
      canvas.fillRect(0, 0, 1, 1);
      const [r, g, b, a] = canvas.getImageData(0, 0, 1, 1).data;
      known.set(text, [r, g, b, a / 255]);
    }
    return known.get(text);
  }
  const over = (top, under) => under.map((c, i) => (i === 3 ? 1 : top[i] * top[3] + c * (1 - top[3])));
  function ground(element) {
    const layers = [];
    for (let e = element; e; e = e.parentElement) {
      const colour = rgba(getComputedStyle(e).backgroundColor);
      if (colour[3] > 0) layers.push(colour);
      if (colour[3] === 1) break;
    }
    return layers.reverse().reduce((under, top) => over(top, under), [255, 255, 255, 1]);
  }
  // WCAG 2.2, relative luminance and contrast ratio
  const channel = (c) => ((c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
  const luminance = ([r, g, b]) => 0.2126 * channel(r) + 0.7152 * channel(g) + 0.0722 * channel(b);
  function contrast(a, b) {
    const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (light + 0.05) / (dark + 0.05);
  }
  const seen = (e) => e.checkVisibility({ opacityProperty: true, visibilityProperty: true }) && e.getClientRects().length > 0;

  const faint = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const element = node.parentElement;
    if (!node.data.trim() || element.closest("script, style") || !seen(element)) continue;
    const under = ground(element);
    const ratio = contrast(over(rgba(getComputedStyle(element).color), under), under);
    if (ratio < 7) faint.push(ratio.toFixed(2) + " " + node.data.trim().slice(0, 40));
  }

  const small = [];
  for (const e of document.querySelectorAll("a[href], button, label[for], summary, input, select")) {
    const box = e.getBoundingClientRect();
    const inText = e.matches("a") && e.closest("article :is(p, li, td, th, dd, .caution)") && !e.matches(".door");
    const control = e.matches("label") && document.getElementById(e.htmlFor);
    if (control && seen(control)) continue; // the control itself is measured
    if (inText || !seen(e) || box.width < 2 || box.right <= 0 || box.left >= innerWidth || e.matches(".skip")) continue;
    if (box.height < 47.5 || box.width < 47.5) small.push(Math.round(box.width) + "x" + Math.round(box.height) + " " + (e.textContent.trim() || e.className));
  }

  const late = [];
  for (const step of document.querySelectorAll(".step")) {
    if (!seen(step)) continue;
    const caution = step.querySelector(".caution"), act = step.querySelector(".do");
    const size = (e) => parseFloat(getComputedStyle(e).fontSize);
    const first = caution && act && caution.compareDocumentPosition(act) & Node.DOCUMENT_POSITION_FOLLOWING;
    if (!first || caution.closest("details") || !seen(caution) || size(caution) < size(act)) late.push(step.textContent.trim().slice(0, 40));
  }

  const strip = document.querySelector(".strip__hurt").getBoundingClientRect();
  const hit = document.elementFromPoint(strip.x + strip.width / 2, strip.y + strip.height / 2);
  return {
    wide: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    faint, small, late,
    strip: document.querySelector(".strip").getBoundingClientRect().height,
    firstAid: Boolean(hit && hit.matches(".strip__hurt")) && strip.height >= 48,
    doors: [...document.querySelectorAll(".door")].filter(seen).map((e) => e.getBoundingClientRect().height),
  };
};
