// The service worker: keeps the whole site on the device, so that it opens with no reception. At build SITE is put before
// this text: {version, first, bytes, packed, files}. `files` is path -> content hash, and its `first` paths are what a bench
// needs most. A file is stored under its hash, so an update moves what has changed and nothing else, and the pages that are
// open stay as they are until somebody taps "Load the new pages" (assets/offline.js sends "load").

const ROOT = new URL("./", self.location).href;
// Sites of one account may share an origin and its stores: the name carries the place.
const STORE = `valvecalc ${ROOT}`;
const FILES = new Map(Object.entries(SITE.files));
const PATHS = [...FILES.keys()];
const LINES = 6; // fetched at the same time

const key = (path) => new URL(`${path}?h=${FILES.get(path)}`, ROOT).href;
const address = (path) => new URL(path.replace(/(^|\/)index\.html$/, "$1") || "./", ROOT).href;
// The servers' Vary speaks of their packing, which is gone here.
const find = async (path) => (await caches.open(STORE)).match(key(path), { ignoreVary: true });

async function hash(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return [...digest.slice(0, 6)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

// ---- storing ---------------------------------------------------------------------------------------------------

async function take(store, path) {
  const answer = await fetch(address(path), { cache: "no-cache" });
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  const bytes = await answer.arrayBuffer();
  // The sign-in page of a guest network, or a page of a version that came since, is not the file that is asked for.
  if (await hash(bytes) !== FILES.get(path)) throw new Error(`${path}: not of this version`);
  const headers = new Headers(answer.headers);
  ["content-encoding", "content-length", "vary"].forEach((name) => headers.delete(name));
  await store.put(key(path), new Response(bytes, { headers }));
}

// Stores those of `paths` that are missing and gives back those that could not be had: one failing file loses no other.
async function fill(paths, tell) {
  const store = await caches.open(STORE);
  const have = new Set((await store.keys()).map((request) => request.url));
  const left = paths.filter((path) => !have.has(key(path)));
  const failed = [];
  let stored = PATHS.filter((path) => have.has(key(path))).length;
  let told = 0; // ms; a page that is being read is not woken for every file
  const one = async () => {
    for (let path = left.shift(); path; path = left.shift()) {
      try {
        await take(store, path);
        stored += 1;
      } catch (why) {
        failed.push(path);
      }
      if (Date.now() - told < 500) continue;
      told = Date.now();
      tell(stored, true);
    }
  };
  await Promise.all(Array.from({ length: LINES }, one));
  tell(stored, false);
  return failed;
}

async function tellPages(stored, busy) {
  const { version, bytes, packed } = SITE;
  const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  pages.filter((page) => page.url.startsWith(ROOT))
    .forEach((page) => page.postMessage({ stored, of: PATHS.length, busy, version, bytes, packed }));
}

// An update comes whole or not yet: a page that is stored now must not be missing afterwards. What has come so far is kept,
// and the next look for new pages asks for the rest.
async function update() {
  const store = await caches.open(STORE);
  const before = new Set((await store.keys()).map((request) => request.url.split("?h=")[0]));
  const failed = await fill(PATHS, () => {});
  const lost = failed.filter((path) => before.has(new URL(path, ROOT).href));
  if (lost.length) throw new Error(`not all new pages could be had: ${lost.join(", ")}`);
}

let filling = null;
function fillAll() {
  filling = filling || fill(PATHS, tellPages).finally(() => { filling = null; });
  return filling;
}

self.addEventListener("install", (event) => {
  event.waitUntil(self.registration.active ? update() : fill(PATHS.slice(0, SITE.first), tellPages));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    const store = await caches.open(STORE);
    const wanted = new Set(PATHS.map(key));
    const old = (await store.keys()).filter((request) => !wanted.has(request.url));
    await Promise.all(old.map((request) => store.delete(request)));
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "store") event.waitUntil(fillAll());
  if (event.data === "load") self.skipWaiting();
});

// ---- answering -------------------------------------------------------------------------------------------------

// The file behind an address, whatever its query; undefined where the site has none.
function fileOf(url) {
  const path = url.pathname.slice(new URL(ROOT).pathname.length);
  const file = path.replace(/(^|\/)$/, "$1index.html");
  return FILES.has(file) ? file : undefined;
}

// One of our pages in the place of another. Its links count from where it lies itself, however deep the asked address is.
async function instead(path, status) {
  const page = await find(path);
  if (!page) return Response.error();
  const whole = (all, name, to) => `${name}="${new URL(to, address(path)).href}"`;
  const html = (await page.text()).replace(/\b(href|src|action|data-root)="(?![a-z]+:|[#/])([^"]*)"/g, whole);
  return new Response(html, { status, headers: page.headers });
}
const nowhere = () => instead("404.html", 404);
const notYet = () => instead("offline/index.html", 503);

async function answer(request, file) {
  const stored = file && await find(file);
  if (stored) return stored;
  const opened = request.mode === "navigate";
  try {
    const fetched = await fetch(request);
    return opened && fetched.status === 404 ? await nowhere() : fetched;
  } catch (unreachable) {
    if (!opened) return Response.error();
    return file ? notYet() : nowhere();
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || !request.url.startsWith(ROOT)) return;
  const file = fileOf(url);
  const opened = request.mode === "navigate";
  if (!file && opened && fileOf(new URL(`${url.pathname}/`, url))) {
    // A folder named without its slash: links of the page would count from one level too high.
    event.respondWith(Response.redirect(`${url.origin}${url.pathname}/${url.search}`));
  } else if (file || opened) event.respondWith(answer(request, file));
});
