// Runs Lighthouse, mobile preset (slow 4G simulated, 4x CPU), over addresses; prints one JSON line for each run.
//   node measure.mjs MODULES RUNS ADDRESS…      MODULES is the node_modules folder that holds lighthouse
import { join } from "node:path";
import { pathToFileURL } from "node:url";

const [modules, runs, ...addresses] = process.argv.slice(2);
const load = (path) => import(pathToFileURL(join(modules, path)).href);
const { default: lighthouse } = await load("lighthouse/core/index.js");
const chrome = await load("chrome-launcher/dist/index.js");

const FLAGS = [
  "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync", "--ignore-certificate-errors",
];
const CATEGORIES = ["performance", "accessibility", "best-practices", "seo"];

for (const address of addresses) {
  for (let run = 0; run < Number(runs); run += 1) {
    const browser = await chrome.launch({ chromePath: process.env.CHROME_PATH, chromeFlags: FLAGS }); // a fresh profile
    try {
      const { lhr } = await lighthouse(address, { port: browser.port, onlyCategories: CATEGORIES, logLevel: "silent" });
      const number = (audit) => lhr.audits[audit].numericValue;
      const requests = lhr.audits["network-requests"].details.items.filter(({ url }) => !url.startsWith("data:"));
      const elsewhere = ({ url }) => !url.startsWith(new URL(address).origin);
      const low = CATEGORIES.flatMap((name) => lhr.categories[name].auditRefs)
        .filter(({ id, weight }) => weight > 0 && lhr.audits[id].score !== null && lhr.audits[id].score < 0.9);
      console.log(JSON.stringify({
        address, run, error: lhr.runtimeError?.message ?? null,
        scores: CATEGORIES.map((name) => Math.round(100 * lhr.categories[name].score)),
        lcp: number("largest-contentful-paint"), tbt: number("total-blocking-time"),
        cls: number("cumulative-layout-shift"),
        kB: requests.reduce((sum, one) => sum + one.transferSize, 0) / 1000,
        requests: requests.map(({ url }) => new URL(url).pathname),
        other: requests.filter(elsewhere).map(({ url }) => url),
        low: low.map(({ id }) => id), version: lhr.lighthouseVersion, speed: lhr.environment.benchmarkIndex,
      }));
    } finally {
      await browser.kill();
    }
  }
}
