// First script of every page, run before the first paint: light or dark, units, and what is fetched at the first touch.
// API (global `shop`): root, page, kept, keep, units, unit, setSystem, setUnit, touched, load, say, editing.
window.shop = (() => {
  "use strict";
  const tag = document.currentScript;
  const html = document.documentElement;
  const root = tag.dataset.root;
  const one = (selector) => document.querySelector(selector);
  html.classList.replace("no-js", "js");

  // The address of a page of ours ("calc/jet-speed/#…"); from a stick, where this one was opened as a file, that of its file.
  const file = location.pathname.endsWith("/index.html") ? "index.html" : "";
  const page = (address) => root + address.replace(/(^|\/)(?=#|$)/, `$1${file}`);

  // ---- what is kept between pages; a blocked store is no error, the choice then lasts for this page
  const memory = {};
  function kept(key) {
    try {
      const text = localStorage.getItem(`valvecalc.${key}`);
      if (text !== null) return JSON.parse(text);
    } catch (fault) { /* blocked, or not ours */ }
    return key in memory ? memory[key] : null;
  }
  // Whether it is kept beyond this page.
  function keep(key, value) {
    memory[key] = value;
    try {
      localStorage.removeItem(`valvecalc.${key}`); // where there is no room, nothing older may come back in its place
      localStorage.setItem(`valvecalc.${key}`, JSON.stringify(value));
      return true;
    } catch (fault) { return false; }
  }

  // ---- light or dark
  html.dataset.mdColorScheme = kept("scheme") || (matchMedia("(prefers-color-scheme: dark)").matches ? "slate" : "default");

  // ---- units: a system, and units chosen one by one (own: "metric|us" -> unit)
  function units() {
    const found = kept("units") || {};
    return { system: found.system === "us" ? "us" : "metric", own: { ...found.own } };
  }
  const usual = (system, metric, us) => (system === "us" && us) || metric;
  function unit(metric, us, { system, own } = units()) {
    return own[`${metric}|${us}`] || usual(system, metric, us);
  }
  function unitsWord() {
    const { system, own } = units();
    return Object.keys(own).length ? "mixed" : system === "us" ? "US" : system;
  }
  const tellUnits = () => { one(".strip__units b").textContent = unitsWord(); };
  function setUnits(chosen) {
    keep("units", chosen);
    tellUnits();
    document.dispatchEvent(new Event("shop:units"));
  }
  const setSystem = (system) => setUnits({ system, own: {} });
  function setUnit(metric, us, wanted) {
    const { system, own } = units();
    const pair = `${metric}|${us}`;
    if (wanted === usual(system, metric, us)) delete own[pair];
    else own[pair] = wanted;
    setUnits({ system, own });
  }

  // ---- scripts: each once, in order, never before the page is read; one that fails may be asked for again
  const read = new Promise((done) => document.addEventListener("DOMContentLoaded", done, { once: true }));
  const asked = {};
  const fetched = (path) => read.then(() => new Promise((done, failed) => {
    const script = document.createElement("script");
    script.async = false;
    script.onload = done;
    script.onerror = () => { delete asked[path]; failed(new Error(path)); };
    script.src = root + path;
    document.head.append(script);
  }));
  const load = (...paths) => Promise.all(paths.map((path) => asked[path] || (asked[path] = fetched(path))));

  // ---- the first touch: nobody pays for what is only needed then
  const touch = new Promise((done) => {
    if (location.hash || unitsWord() !== "metric") done();
    ["pointerdown", "keydown", "focusin", "scroll"].forEach((name) =>
      addEventListener(name, done, { capture: true, passive: true, once: true }));
  });
  // What the finger did is painted first.
  const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const touched = (run) => touch.then(() => read).then(painted).then(() => run());

  // ---- told to the ear, and with `seen` to the eye
  let silence = 0;
  function say(text, seen = false) {
    const place = one(".say");
    place.textContent = text;
    place.classList.toggle("say--seen", seen);
    clearTimeout(silence);
    silence = setTimeout(() => { place.textContent = ""; }, 8000);
  }

  let changed = -Infinity;
  addEventListener("input", () => { changed = performance.now(); }, true);
  const editing = () =>
    performance.now() - changed < 10000 || document.activeElement.matches("input, select, textarea");

  // ---- wake the frame
  read.then(() => {
    tellUnits();
    one(".top__scheme").addEventListener("click", () => {
      const { mdColorScheme } = html.dataset;
      keep("scheme", html.dataset.mdColorScheme = mdColorScheme === "slate" ? "default" : "slate");
    });
    one(".strip__units").addEventListener("click", () => {
      setSystem(units().system === "us" ? "metric" : "us");
      say(`Units: ${unitsWord()}`);
    });
    const job = kept("job");
    const door = one(".front .door--job small");
    if (door && job && typeof job.name === "string") {
      door.textContent = `Resume ${job.name}`;
      door.parentNode.href = page("job/sheet/");
    }
  });
  // Storing begins when the first page has been read for a moment; where it fails the next page tries again.
  addEventListener("load", () => setTimeout(() => load("assets/offline.js").catch(() => {}), 2000));
  if (tag.dataset.touch) {
    // A button that is tapped before its script has come is tapped again when it has.
    let tapped = null;
    const note = (event) => { tapped = event.target.closest("main :is(button, th)"); };
    addEventListener("click", note, true);
    touched(() => load(...tag.dataset.touch.split(" "))).then(() => {
      removeEventListener("click", note, true);
      if (tapped) tapped.click();
    }).catch(() => say("Not loaded: no reception?", true));
  }
  // Paper shows closed parts too, and the address that repeats the page.
  addEventListener("beforeprint", () => {
    one(".foot :last-child").textContent = `, ${location.href}`;
    document.querySelectorAll("article details").forEach((part) => { part.open = true; });
  });

  return { root, page, kept, keep, units, unit, setSystem, setUnit, load, touched, say, editing };
})();
