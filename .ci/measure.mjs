// Prints one table of what the handbook weighs, how long it takes to make, and
// what Lighthouse says of three leaves. Run it after `mereleaf make`:
//   node .ci/measure.mjs TOOLS
// TOOLS is the folder in which npm has installed lighthouse.
//
// Sizes, times and performance are to be read, and fail nothing: they depend on the
// machine, and what must not get heavier has a budget in the tests. The other scores
// must be 100.
import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync, statSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { dirname, extname, join, normalize } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { gzipSync } from "node:zlib";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const web = join(root, "out", "web");
const require = createRequire(join(process.argv[2], "node_modules", "lighthouse", "package.json"));
const load = async (name) => import(pathToFileURL(require.resolve(name)));
const { default: lighthouse } = await load("lighthouse");
const { launch } = await load("chrome-launcher");

const kinds = { ".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".png": "image/png", ".webmanifest": "application/manifest+json", ".json": "application/json" };

// As free static hosting does it: files, compressed, under a sub-path.
const base = "/ponds/our-club/";
const server = createServer((request, response) => {
  const path = decodeURIComponent(new URL(request.url, "http://localhost").pathname);
  const file = join(web, normalize(path.slice(base.length)));
  try {
    if (!path.startsWith(base)) throw new Error("outside");
    const body = gzipSync(readFileSync(file));
    response.writeHead(200, { "content-type": kinds[extname(file)] ?? "application/octet-stream", "content-encoding": "gzip", "cache-control": "max-age=600" });
    response.end(body);
  } catch {
    response.writeHead(404).end();
  }
});
await new Promise((ready) => server.listen(0, "127.0.0.1", ready));
const address = `http://127.0.0.1:${server.address().port}${base}`;

const kB = (bytes) => `${(bytes / 1000).toFixed(1)} kB`;
const rows = [];
const weigh = (name, file) => {
  const bytes = readFileSync(file);
  rows.push([name, kB(bytes.length), kB(gzipSync(bytes, { level: 9 }).length)]);
};
const named = (start) => join(web, "assets", readdirSync(join(web, "assets")).find((f) => f.startsWith(start)));

// Leaves that differ in what they load and do.
const leaves = { "chapter (W 3)": "water/ammonia.html", "chapter with the tower (F 4)": "filtration/sizing.html", calculator: "reckon/free-ammonia.html", tower: "reckon/tower.html" };
weigh("cover", join(web, "index.html"));
for (const [name, path] of Object.entries(leaves)) weigh(name, join(web, path));
for (const f of readdirSync(join(web, "assets")).sort()) weigh(`assets/${f.replace(/-[0-9a-f]+(\.\w+)$/, "$1")}`, join(web, "assets", f));
weigh("whole book for paper", join(web, "print.html"));
weigh("one file", join(root, "out", "mereleaf.html"));
weigh("e-book", join(root, "out", "mereleaf.epub"));
const all = readdirSync(web, { recursive: true, withFileTypes: true }).filter((f) => f.isFile());
rows.push([`web site, ${all.length} files`, kB(all.reduce((sum, f) => sum + statSync(join(f.parentPath ?? f.path, f.name)).size, 0)), ""]);

const start = performance.now();
execFileSync("go", ["run", "./cmd/mereleaf", "make"], { cwd: root, stdio: "ignore" });
rows.push(["make, all editions", `${((performance.now() - start) / 1000).toFixed(1)} s`, ""]);

const chrome = await launch({ chromePath: process.env.MERELEAF_CHROMIUM, chromeFlags: ["--headless=new", "--no-sandbox", "--disable-background-networking"] });
const scores = [];
let faults = 0;
try {
  for (const [name, path] of Object.entries(leaves)) {
    const { lhr } = await lighthouse(address + path, { port: chrome.port, logLevel: "error", output: "json" });
    const { performance: speed, accessibility, "best-practices": practices, seo } = lhr.categories;
    scores.push([name, ...[speed, accessibility, practices, seo].map((c) => String(Math.round(c.score * 100)))]);
    for (const category of Object.values(lhr.categories)) {
      for (const { id, weight } of category.auditRefs) {
        const audit = lhr.audits[id];
        if (weight === 0 || audit.score === null || audit.score === 1) continue;
        console.log(`${name}: ${category.id}: ${audit.title} ${audit.displayValue ?? ""}`);
        if (category.id !== "performance") faults++;
      }
    }
  }
} finally {
  await chrome.kill();
  server.close();
}

const print = (head, lines) => {
  const width = head.map((h, i) => Math.max(h.length, ...lines.map((l) => l[i].length)));
  const line = (cells) => `| ${cells.map((c, i) => (i === 0 ? c.padEnd(width[i]) : c.padStart(width[i]))).join(" | ")} |`;
  console.log([line(head), `|${width.map((w, i) => (i === 0 ? "-".repeat(w + 2) : `${"-".repeat(w + 1)}:`)).join("|")}|`, ...lines.map(line)].join("\n"), "\n");
};
print(["what", "size", "compressed"], rows);
print(["Lighthouse, mobile", "performance", "accessibility", "best practices", "SEO"], scores);
process.exit(faults > 0 ? 1 : 0);
