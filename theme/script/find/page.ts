// The leaf that finds words. Its markup is made by the template find.html.
import { leaf as address } from "../shared/address";
import type { Index } from "./index";
import { keyIsOn, switchKey } from "./key";
import { prepare, type Found, type Outcome } from "./search";
import { split } from "./words";

const atOnce = 10; // so many results before "Show more"

// openFind brings the leaf to life. link makes an address of a place in the
// edition.
export function openFind(leaf: HTMLElement, load: () => Promise<Index>, link: (to: string) => string): void {
  const part = <E extends HTMLElement = HTMLElement>(name: string): E | null => leaf.querySelector<E>(`[data-part="${name}"]`);
  const field = leaf.querySelector<HTMLInputElement>("input[type=search]")!;
  const list = part("found")!;
  const more = part("more")!;
  const parts = new Map([...leaf.querySelectorAll("data")].map((d) => [d.value, d]));
  let find: ((query: string) => Outcome) | undefined;
  let found: Found[] = [];
  let telling = 0;

  leaf.querySelectorAll<HTMLElement>("[data-ready]").forEach((e) => (e.hidden = false));
  part("plain")!.hidden = true;

  function show(): void {
    const query = field.value.trim();
    const urgent = part("urgent");
    if (urgent) urgent.hidden = query !== "";
    if (!find) {
      tell(query ? "Getting the words …" : "");
      return;
    }
    const outcome = find(field.value.trimStart());
    found = outcome.found;
    list.replaceChildren();
    reveal(atOnce);
    tell(query.length > 1 ? count(outcome) : "");
  }

  function reveal(howMany: number): void {
    const from = list.childElementCount;
    list.append(...found.slice(from, from + howMany).map(result));
    list.hidden = found.length === 0;
    more.hidden = list.childElementCount >= found.length;
  }

  function count({ found, unknown }: Outcome): string {
    const without = unknown.length > 0 ? ` No leaf has “${unknown.join("”, “")}”.` : "";
    if (found.length === 0) return `Nothing found.${without} Try another word for it, or only one.`;
    return `${found.length === 1 ? "1 place" : `${found.length} places`} found.${without}`;
  }

  // tell waits until the reader pauses: a screen reader would read each count
  // into the typing. So does the address, of which browsers take few changes.
  function tell(text: string): void {
    clearTimeout(telling);
    telling = window.setTimeout(() => {
      part("count")!.textContent = text;
      remember();
    }, 400);
  }

  // remember puts what was typed into the address, for the way back.
  function remember(): void {
    const query = field.value.trim();
    address.setQuery(query ? `q=${encodeURIComponent(query)}` : "");
  }

  function result({ leaf: { t, k, r, p = "", o = [] }, heading, to, text, marked }: Found): HTMLElement {
    const of = parts.get(p);
    const item = element("li", "", of?.className);
    const a = element("a");
    a.setAttribute("href", link(to));
    const title = element("b");
    title.append(...marks(t, marked));
    const kind = k === "term" ? "Word" : k === "calculator" ? "Calculator" : "";
    a.append(title, " ", element("i", kind || (r ?? "").replace(" ", "\u00a0")), " ");
    const where = element("small", "", "where");
    if (k === "term" && o.length > 0) where.append(...marks(`also ${o.join(", ")}`, marked));
    else where.append([of?.textContent, heading].filter(Boolean).join(" · "));
    if (where.textContent && k !== "part") a.append(where, " ");
    const says = element("small", "", "says");
    says.append(...marks(text, marked));
    if (text) a.append(says);
    item.append(a);
    return item;
  }

  field.addEventListener("input", show);
  list.addEventListener("click", remember);
  field.form!.addEventListener("submit", (e) => {
    e.preventDefault();
    field.blur(); // and the keyboard makes way for what was found
  });
  more.querySelector("button")!.addEventListener("click", () => {
    const next = list.childElementCount;
    reveal(2 * atOnce);
    list.children[next]?.querySelector("a")?.focus();
  });
  const key = part<HTMLInputElement>("key")!;
  key.checked = keyIsOn();
  key.addEventListener("change", () => switchKey(key.checked));

  field.value = new URLSearchParams(address.query()).get("q") ?? "";
  // Coming back to what was found, no keyboard shall cover it.
  if (!field.value) field.focus({ preventScroll: true });
  load().then(
    (index) => {
      find = prepare(index);
      leaf.dataset.state = "ready";
      if (field.value) show();
    },
    (reason: unknown) => {
      console.debug(reason);
      const plain = part("plain")!;
      plain.hidden = false;
      plain.firstChild!.textContent = "The list of words did not load. Try again when there is a signal. Until then, these lead on: ";
      clearTimeout(telling);
      part("count")!.textContent = "";
    },
  );
}

// marks puts the words that were looked for into <mark>.
function marks(text: string, marked: (word: string) => boolean): (string | HTMLElement)[] {
  return split(text).map((piece, i) => (i % 2 === 1 && marked(piece) ? element("mark", piece) : piece));
}

function element(tag: string, text = "", className = ""): HTMLElement {
  const e = document.createElement(tag);
  e.textContent = text;
  if (className) e.className = className;
  return e;
}
