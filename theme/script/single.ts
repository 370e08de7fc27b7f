// The script of the single file: it unpacks the leaves, shows the one that the
// fragment of the address names, and brings it to life.
import { openFind } from "./find/page";
import type { Index } from "./find/index";
import { listenForKey } from "./find/key";
import { openLog, shelf, type Shelf } from "./log/page";
import { begin as beginMeasures, offer } from "./units/system";
import { load, type Ask } from "./module/load";
import { bringToLife } from "./reckon/pad";
import { begin, forget } from "./record/kept";
import { openRecord } from "./record/page";
import { follow } from "./units/page";

interface Leaf {
  t: string; // title
  c: string; // class of the body
  b: string; // what stands in it
}

const cover = "index.html";

async function unpack(id: string): Promise<ArrayBuffer> {
  const packed = atob(document.getElementById(id)?.textContent ?? "");
  const bytes = Uint8Array.from(packed, (c) => c.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"))).arrayBuffer();
}

const text = async (id: string): Promise<string> => new TextDecoder().decode(await unpack(id));

// A file has no thread to reckon in: browsers start none from a folder, and one out
// of a script's text would need a laxer policy.
let module: Promise<Ask> | undefined;
const reckon = (): Promise<Ask> =>
  (module ??= unpack("packed_module")
    .then(load)
    .then((now) => async (request) => now(request)));

// parts cuts the address into leaf and anchor.
function parts(): [path: string, anchor: string] {
  const [, path = "", anchor = ""] = /^#?([^?#]*)(?:\?[^#]*)?(?:#(.*))?$/.exec(location.hash) ?? [];
  return [path, decodeURIComponent(anchor)];
}

async function start(): Promise<void> {
  begin("file");
  beginMeasures("file");
  let unfollow = (): void => {};
  const leaves = JSON.parse(await text("packed_leaves")) as Record<string, Leaf>;
  const page = document.createElement("div");
  document.body.append(page);
  history.scrollRestoration = "manual";
  let shown = ""; // path of the leaf on the screen
  let open = ""; // with what its address says to its pads
  let address = location.hash;
  let followed = true; // a link, not the back key
  let log: Shelf | undefined; // one for all visits to its leaf
  const places = new Map<string, number>();
  const show = (): void => {
    const [named, anchor] = parts();
    places.set(address, scrollY);
    address = location.hash;
    // A fragment that is no leaf is a place on the one shown.
    const path = named in leaves ? named : shown || cover;
    const target = anchor || (named in leaves ? "" : named);
    const whole = path + (/\?[^#]*/.exec(location.hash)?.[0] ?? "");
    const leaf = leaves[path];
    if (leaf && whole !== open) {
      [shown, open] = [path, whole];
      forget();
      unfollow();
      document.title = leaf.t;
      document.documentElement.dataset.leaf = path;
      document.body.className = leaf.c;
      page.innerHTML = leaf.b;
      offer(page);
      const main = page.querySelector("main");
      if (main) unfollow = follow(main);
      bringToLife(page, reckon);
      const record = page.querySelector<HTMLElement>(".record");
      if (record) openRecord(record, reckon);
      const readings = page.querySelector<HTMLElement>(".log");
      if (readings) openLog(readings, (log ??= shelf("file")), reckon);
      const find = page.querySelector<HTMLElement>(".find");
      if (find) openFind(find, async () => JSON.parse(await text("packed_find")) as Index, (to) => `#${to}`);
    }
    const at = target && document.getElementById(target);
    if (at) at.scrollIntoView({ behavior: "instant" });
    else scrollTo({ top: followed ? 0 : (places.get(address) ?? 0), behavior: "instant" });
    followed = false;
  };
  document.addEventListener("click", (e) => {
    if ((e.target as Element).closest("a")) followed = true;
  });
  addEventListener("hashchange", show);
  listenForKey();
  show();
}

void start();
