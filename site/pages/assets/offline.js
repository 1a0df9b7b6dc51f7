// Offline: registers the service worker, tells in the strip and on the page "Offline" what is stored, brings new pages when
// somebody taps for them. Loaded by shop.js when the page is at rest. From a stick (file://) and over plain http there is
// no worker: then it only says so.
(function () {
  "use strict";
  const SAYS = {
    none: ["Not stored", "These pages are not stored on this device. They are read over the line, and need reception."],
    plain: ["Not stored", "This address is plain http. A browser stores pages for offline use only over https, or from the device itself. Everything else on these pages works."],
    unable: ["Not stored", "This browser does not store pages, or a private window does not let it. Everything else on these pages works."],
    files: ["From this folder", "These pages run from a folder or a stick: every one of them is here, and none needs reception."],
    storing: ["Storing", "The pages are being stored. Leave this page open until it says Stored."],
    part: ["Stored", "Not all of it came: the line broke off, or the server changes files on the way. What is stored stays; the rest is asked for at your next visit."],
    stored: ["Stored for offline", "Every page, the search, every calculator and the fault finder open with no reception."],
    fresh: ["New pages are there", "New pages have come. The ones you are reading stay as they are until you load the new ones."],
  };
  const LOOK_AGAIN = 10 * 60 * 1000; // ms between two looks for new pages; the page "Offline" always looks
  const root = new URL(shop.root, location.href).href;
  const strip = document.querySelector(".strip__offline");
  const area = document.querySelector(".offline");
  const part = (name) => area && area.querySelector(`.offline__${name}`);
  const workers = navigator.serviceWorker;
  let registration = null;
  let last = null; // what the worker said last
  let kind = "none";

  // ---- telling -----------------------------------------------------------------------------------------------
  const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;

  function show(next) {
    kind = next;
    const [short, long] = SAYS[kind];
    const percent = last && (kind === "storing" || kind === "part") ? ` ${Math.floor((100 * last.stored) / last.of)} %` : "";
    if (strip) strip.textContent = short + percent;
    if (!area) return;
    part("state").textContent = `${short}${percent}.`;
    part("means").textContent = long;
    const facts = last ? [
      ["Version", last.version],
      ["Files", `${last.stored} of ${last.of}`],
      ["Room on this device", `about ${megabytes(last.bytes)}`],
      ["Over the line, once", `about ${megabytes(last.packed)}`],
    ] : [];
    const since = shop.kept("stored");
    if (since && kind === "stored") facts.push(["Stored on", new Date(since.at).toLocaleDateString()]);
    part("facts").replaceChildren(...facts.flatMap(([name, value]) => [made("dt", name), made("dd", value)]));
    const shown = { load: kind === "fresh", look: Boolean(registration), store: kind === "none" && able(), clear: Boolean(registration) };
    Object.keys(shown).forEach((name) => { part(name).hidden = !shown[name]; });
  }
  function made(tag, text) {
    const element = document.createElement(tag);
    element.textContent = text;
    return element;
  }
  function settle() {
    if (registration && registration.waiting) show("fresh");
    else if (last) show(last.busy ? "storing" : last.stored < last.of ? "part" : "stored");
  }

  // ---- storing -----------------------------------------------------------------------------------------------
  const able = () => /^https?:$/.test(location.protocol) && Boolean(workers);

  // A line on which every byte is paid for is not filled unasked.
  const unasked = () => !(navigator.connection && navigator.connection.saveData);

  async function start() {
    try {
      // Registering again can wait seconds for a running look for new pages.
      const known = await workers.getRegistration(root);
      const here = known && known.scope === root;
      registration = here ? known : await workers.register(`${root}sw.js`, { scope: root, updateViaCache: "none" });
    } catch (refused) { /* told below */ }
    if (!registration) return show("unable"); // what blocks workers may refuse, or give nothing back
    watch();
    settle();
    const ready = await workers.ready;
    ready.active.postMessage("store");
    look(Boolean(area));
  }
  function watch() {
    const follow = () => {
      const coming = registration.installing;
      if (!coming) return;
      coming.addEventListener("statechange", () => {
        if (coming.state !== "installed" || !registration.active) return;
        settle();
        shop.say("New pages are there. Load them on the page Offline.");
      });
    };
    registration.addEventListener("updatefound", follow);
    follow();
  }
  function heard(message) {
    if (!message.data || !message.data.of) return;
    last = message.data;
    if (!last.busy && last.stored === last.of) {
      const since = shop.kept("stored");
      if (!since || since.version !== last.version) shop.keep("stored", { version: last.version, at: Date.now() });
    }
    settle();
  }
  async function clear() {
    shop.keep("offline", "off");
    const names = (await caches.keys()).filter((name) => name.endsWith(` ${root}`));
    await registration.unregister();
    await Promise.all(names.map((name) => caches.delete(name)));
    registration = last = null;
    show("none");
  }

  // ---- new pages ---------------------------------------------------------------------------------------------
  async function look(now) {
    if (!registration || (!now && Date.now() - (shop.kept("looked") || 0) < LOOK_AGAIN)) return;
    shop.keep("looked", Date.now());
    try {
      await registration.update();
    } catch (unreachable) { /* no reception: the next look finds them */ }
  }
  // Tapped here or in another window of this browser: each goes over to the new pages when nothing is being typed in it.
  function over() {
    if (shop.editing()) setTimeout(over, 1000);
    else location.reload();
  }

  // Stored pages are the browser's to throw away until it promises to keep them; asked once there is work worth keeping.
  function persist() {
    if (!navigator.storage || !navigator.storage.persist) return;
    navigator.storage.persisted().then((kept) => kept || navigator.storage.persist());
  }

  // ---- waking ------------------------------------------------------------------------------------------------
  if (area) area.hidden = false;
  if (location.protocol === "file:") return show("files");
  if (!able()) return show(window.isSecureContext ? "unable" : "plain");
  let controlled = Boolean(workers.controller);
  workers.addEventListener("message", heard);
  workers.addEventListener("controllerchange", () => {
    if (controlled) over();
    controlled = true;
  });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) look(false); });
  document.addEventListener("shop:answer", (event) => { if (event.detail.answer) persist(); });
  if (shop.kept("job")) persist();
  if (area) {
    part("load").addEventListener("click", () => registration.waiting.postMessage("load"));
    part("look").addEventListener("click", () => look(true));
    part("clear").addEventListener("click", clear);
    part("store").addEventListener("click", () => { shop.keep("offline", "on"); show("storing"); start(); });
  }
  const wish = shop.kept("offline");
  if (wish === "off" || (wish !== "on" && !unasked())) show("none");
  else start();
})();
