// The service worker of one edition. It keeps all files of the edition in a cache
// that is named after the edition, and answers from no other, so that no page is
// ever shown with the calculators of another edition. It is installed only when
// every file has arrived; until then the edition before stays, whole.
//
// The list of files stands before this script; see the Go package
// cmd/mereleaf/internal/website/offline.
import { cachePrefix, metered, readLeave, writeLeave, type Edition, type File, type News, type Question, type Why } from "./messages";

declare const self: ServiceWorkerGlobalScope;
declare const edition: Edition;

const root = new URL("./", self.location.href);
const site = root.pathname;
const prefix = cachePrefix(site);
const name = prefix + edition.hash;
const files = new Map(edition.files.map((f) => [f.path, f]));
const all = weight(edition.files);
const atOnce = 4; // files on their way together

class Trouble extends Error {
  constructor(readonly why: Why) {
    super(why);
  }
}

function weight(of: File[]): number {
  return of.reduce((sum, f) => sum + f.size, 0);
}

function address(f: File): string {
  return new URL(f.path, root).href;
}

type Part<N> = N extends News ? Omit<N, "site" | "edition"> : never;

async function tell(news: Part<News>): Promise<void> {
  for (const leaf of await self.clients.matchAll({ type: "window", includeUncontrolled: true })) {
    if (leaf.url.startsWith(root.href)) leaf.postMessage({ site, edition: edition.hash, ...news });
  }
}

self.addEventListener("install", (e) => e.waitUntil(reporting(install)));
self.addEventListener("activate", (e) => e.waitUntil(clearOthers()));

// install fails until the edition is whole. What has arrived by then stays in the
// cache, and the browser tries again with the next leaf.
async function install(): Promise<void> {
  const leave = await readLeave(site);
  const asked = leave === "agreed" || (leave === "free" && !metered());
  if (leave === "full") throw new Trouble("full");
  const need = await missing((await caches.has(name)) ? await caches.open(name) : undefined);
  const old = await others();
  const known = new Set<string>();
  for (const cache of old) for (const f of need) if (await has(cache, f)) known.add(f.path);
  const bytes = weight(need.filter((f) => !known.has(f.path)));
  if (bytes > 0 && !asked) {
    await tell({ is: "asking", bytes });
    throw new Error("nobody has been asked yet");
  }
  await complete(old);
  await writeLeave(site, "");
}

// reporting tells the leaves how it ended, and frees the room if there was too
// little.
async function reporting(work: () => Promise<void>): Promise<void> {
  try {
    await work();
    await tell({ is: "whole" });
  } catch (reason) {
    const why = whyOf(reason);
    if (why === "full") {
      await caches.delete(name).catch(() => false);
      await writeLeave(site, "full").catch(() => undefined);
    }
    if (why) await tell({ is: "failed", why, all });
    throw reason;
  }
}

function whyOf(reason: unknown): Why | undefined {
  if (reason instanceof Trouble) return reason.why;
  if (!(reason instanceof DOMException)) return undefined;
  return reason.name === "QuotaExceededError" ? "full" : "refused";
}

// complete fills the cache: first with what has not changed since another
// edition, then from the site.
async function complete(old: Cache[]): Promise<void> {
  const kept = await caches.open(name);
  for (const f of await missing(kept)) {
    for (const cache of old) {
      const same = await has(cache, f);
      if (!same) continue;
      await kept.put(address(f), same);
      break;
    }
  }
  const rest = await missing(kept);
  let done = all - weight(rest);
  await tell({ is: "getting", done, all });
  const queue = [...rest];
  const work = async (): Promise<void> => {
    for (let f = queue.shift(); f; f = queue.shift()) {
      await kept.put(address(f), pack(f, ...(await download(f))));
      done += f.size;
      await tell({ is: "getting", done, all });
    }
  };
  const stopping = async (): Promise<void> => {
    try {
      await work();
    } catch (reason) {
      queue.length = 0; // one failure ends the others' work too
      throw reason;
    }
  };
  // What is still on its way is waited for, so that the failure is the last news.
  for (const end of await Promise.allSettled(Array.from({ length: atOnce }, stopping))) if (end.status === "rejected") throw end.reason;
  // Another edition that took over meanwhile may have cleared this one away.
  if (!(await caches.has(name)) || (await missing(await caches.open(name))).length > 0) throw new Trouble("changing");
}

async function missing(kept: Cache | undefined): Promise<File[]> {
  const here = new Set((await kept?.keys())?.map((r) => r.url));
  return edition.files.filter((f) => !here.has(address(f)));
}

// has returns a file as another edition keeps it, if it is the same.
async function has(cache: Cache, f: File): Promise<Response | undefined> {
  const response = await cache.match(address(f));
  return response?.headers.get("etag") === f.hash ? response : undefined;
}

async function others(): Promise<Cache[]> {
  const names = (await caches.keys()).filter((n) => n.startsWith(prefix) && n !== name);
  return Promise.all(names.map((n) => caches.open(n)));
}

async function clearOthers(): Promise<void> {
  for (const n of await caches.keys()) if (n.startsWith(prefix) && n !== name) await caches.delete(n);
}

// download gets a file of exactly this edition, with the kind of content that the
// site says it is.
async function download(f: File): Promise<[ArrayBuffer, string]> {
  let why: Why = "signal";
  // A site that went back to an older file may have the browser's own store answer
  // with the newer one: so ask again, past that store.
  for (const cache of ["no-cache", "reload"] as const) {
    try {
      const response = await fetch(address(f), { cache });
      const bytes = await response.arrayBuffer();
      if (await fits(f, bytes)) return [bytes, response.headers.get("content-type") ?? ""];
      why = response.status >= 500 ? "signal" : "changing";
    } catch {
      why = "signal";
      break;
    }
  }
  throw new Trouble(why);
}

async function fits(f: File, bytes: ArrayBuffer): Promise<boolean> {
  if (bytes.byteLength !== f.size) return false;
  const sum = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return f.hash === Array.from(sum.subarray(0, 16), (b) => b.toString(16).padStart(2, "0")).join("");
}

// pack makes an answer that says nothing of how it came here: a page that the
// site had redirected could not be shown.
function pack(f: File, bytes: ArrayBuffer, type: string): Response {
  return new Response(bytes, { headers: { "content-type": type, etag: f.hash } });
}

self.addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== root.origin || !url.pathname.startsWith(site)) return;
  const path = decoded(url.pathname.slice(site.length));
  const f = files.get(path === "" || path.endsWith("/") ? `${path}index.html` : path) ?? files.get(`${path}.html`);
  if (f) e.respondWith(answer(e.request, f));
  else if (files.has(`${path}/index.html`)) e.respondWith(Response.redirect(`${url.pathname}/${url.search}`, 301));
  else if (e.request.mode === "navigate") e.respondWith(elsewhere(e.request));
});

function decoded(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
}

// answer gives a file of this edition. Where the cache has lost it or holds it
// damaged, the site may still have the same; if it has another, what is left of
// this edition is given up, and leaves come from the site as if nothing were kept.
async function answer(request: Request, f: File): Promise<Response> {
  const kept = await fromCache(f);
  if (kept) return kept;
  if (!(await caches.has(name).catch(() => false))) return elsewhere(request);
  try {
    const [bytes, type] = await download(f);
    const fresh = pack(f, bytes, type);
    await (await caches.open(name)).put(address(f), fresh.clone()).catch(() => undefined);
    return fresh;
  } catch (reason) {
    if (whyOf(reason) === "changing") await caches.delete(name);
    return request.mode === "navigate" ? elsewhere(request) : Response.error();
  }
}

async function fromCache(f: File): Promise<Response | undefined> {
  try {
    const response = await caches.match(address(f), { cacheName: name });
    const bytes = await response?.arrayBuffer();
    if (response && bytes && (await fits(f, bytes))) return pack(f, bytes, response.headers.get("content-type") ?? "");
    if (response) await (await caches.open(name)).delete(address(f));
  } catch (reason) {
    console.debug(reason); // a store that cannot be read is like an empty one
  }
  return undefined;
}

// elsewhere gives what the site says, and without a signal the page for leaves
// that are not there.
async function elsewhere(request: Request): Promise<Response> {
  try {
    return await fetch(request);
  } catch {
    if (request.mode !== "navigate") return Response.error();
    const page = files.get("404.html");
    const kept = page && (await fromCache(page));
    return new Response(kept?.body ?? "<!doctype html><title>No signal</title><p>There is no signal, and this browser has not kept this leaf.", {
      status: 404,
      headers: { "content-type": "text/html; charset=utf-8" },
    });
  }
}

self.addEventListener("message", (e) => {
  const port = e.ports[0];
  switch (e.data as Question) {
    case "edition":
      port?.postMessage(edition);
      break;
    case "missing":
      e.waitUntil(lost().then((bytes) => port?.postMessage(bytes)));
      break;
    case "mend":
      e.waitUntil(reporting(async () => complete(await others())).catch(() => undefined)); // the leaves have been told
      break;
    case "take over":
      void self.skipWaiting();
  }
});

async function lost(): Promise<number> {
  try {
    return weight(await missing((await caches.has(name)) ? await caches.open(name) : undefined));
  } catch {
    return all;
  }
}
