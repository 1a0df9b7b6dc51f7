// Serves a folder under a sub-path over HTTP/2 with TLS, every text packed once by gzip -9, as a good host does.
//   node host.mjs FOLDER KEY CERTIFICATE      prints the port when it listens; ends with its standard input
import { readFileSync, readdirSync } from "node:fs";
import { createSecureServer } from "node:http2";
import { extname, join, relative, sep } from "node:path";
import { gzipSync } from "node:zlib";

const BELOW = "/shop/pages/";
const KINDS = {
  ".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
  ".svg": "image/svg+xml", ".webmanifest": "application/manifest+json", ".txt": "text/plain; charset=utf-8",
  ".woff2": "font/woff2", ".png": "image/png",
};
// Packed already: gzip would only add to them.
const PACKED = new Set([".woff2", ".png"]);

const [folder, key, certificate] = process.argv.slice(2);
const files = new Map();
for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
  if (!entry.isFile()) continue;
  const path = join(entry.parentPath ?? entry.path, entry.name);
  const kind = extname(path);
  const packed = !PACKED.has(kind);
  const bytes = packed ? gzipSync(readFileSync(path), { level: 9 }) : readFileSync(path);
  files.set(BELOW + relative(folder, path).split(sep).join("/"), { kind: KINDS[kind] ?? "text/plain", packed, bytes });
}

// What a page costs here at least: the yardstick beside the others.
const BARE = '<!doctype html><html lang="en"><title>Bare</title><meta name="viewport" content="width=device-width"><h1>Bare</h1>';
files.set(`${BELOW}bare/index.html`, { kind: KINDS[".html"], packed: true, bytes: gzipSync(BARE) });

const server = createSecureServer({ key: readFileSync(key), cert: readFileSync(certificate) });
server.on("stream", (stream, headers) => {
  const path = decodeURIComponent(headers[":path"].split("?")[0]);
  const file = files.get(path.endsWith("/") ? `${path}index.html` : path);
  stream.on("error", () => {}); // a browser that goes away is no trouble of ours
  if (!file) {
    stream.respond({ ":status": 404 });
    stream.end();
    return;
  }
  stream.respond({
    ":status": 200, "content-type": file.kind, "cache-control": "max-age=600",
    ...(file.packed ? { "content-encoding": "gzip" } : {}),
  });
  stream.end(file.bytes);
});
server.listen(0, "127.0.0.1", () => console.log(server.address().port));
process.stdin.on("end", () => process.exit(0)).resume();
