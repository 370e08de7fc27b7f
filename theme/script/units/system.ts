// The reader's system of measures: guessed once from the region that the browser
// asks for, never by a network, then picked at the foot of a leaf or under My
// pond, and kept in this browser. The element html says which it is; the script
// of main.ts beside it follows that.
import { store, stored } from "../shared/storage";
import type { System } from "./convert";

declare const REGIONS: Record<string, System>;

const names: Record<System, string> = { metric: "metric", imperial: "imperial", us: "US" };
const root = document.documentElement;
let key = "measures";
let picked: System | undefined; // here, if this browser does not keep it
let kept = true;

// guess is the system of the first language that names a region, "en-US".
function guess(): System {
  for (const language of navigator.languages) {
    const region = /-([A-Z]{2})\b/.exec(language)?.[1];
    if (region) return REGIONS[region] ?? "metric";
  }
  return "metric";
}

function look(): System {
  const text = stored(key);
  if (text === undefined) kept = false;
  return picked ?? (text && text in names ? (text as System) : guess());
}

function pick(system: System): void {
  kept = store(key, system);
  picked = kept ? undefined : system;
  follow();
}

// follow shows the system that holds now.
function follow(): void {
  root.dataset.measure = look();
  for (const box of document.querySelectorAll(".measures")) renew(box);
}

// begin names the handbook by the path of its site, as the pond record does.
export function begin(site: string): void {
  key = `measures ${site}`;
  window.addEventListener("storage", (e) => {
    if (e.key === key || e.key === null) follow();
  });
  window.addEventListener("pageshow", (e) => {
    if (e.persisted) follow();
  });
  follow();
}

// offer puts the choice at the foot of a leaf, and where a leaf has room for it.
export function offer(leaf: ParentNode): void {
  const foot = leaf.querySelector("footer.back");
  if (foot) {
    const box = document.createElement("div");
    box.className = "measures";
    foot.append(box);
  }
  for (const box of leaf.querySelectorAll<HTMLElement>(".measures")) {
    box.hidden = false;
    box.innerHTML =
      '<p class="tools"><label>Units <select></select></label> <button type="button" aria-pressed="false">Show as written</button></p><p role="status"></p>';
    const choice = box.querySelector("select")!;
    for (const [system, name] of Object.entries(names)) choice.add(new Option(name, system));
    choice.addEventListener("change", () => pick(choice.value as System));
    box.querySelector("button")?.addEventListener("click", () => {
      root.toggleAttribute("data-written");
      follow();
    });
    renew(box);
  }
}

function renew(box: Element): void {
  const choice = box.querySelector("select");
  if (!choice) return;
  choice.value = root.dataset.measure ?? "";
  box.querySelector("button")?.setAttribute("aria-pressed", String(root.hasAttribute("data-written")));
  const said = kept ? "" : "This browser keeps nothing for this handbook: the units hold until you leave the leaf.";
  const status = box.querySelector("[role=status]");
  if (status && status.textContent !== said) status.textContent = said;
}

// wanted reports whether a leaf has to be gone through: always, except that what
// is written in metric is so already for a reader of metric. Customary units have
// brackets in their codes.
export function wanted(leaf: Element): boolean {
  return root.dataset.measure !== "metric" || [...leaf.querySelectorAll('[data-q*="["]')].some((e) => !e.closest(".pad"));
}
