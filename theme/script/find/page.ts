// The leaf that finds words. Its markup is made by the template find.html.
import { leaf as address } from "../shared/address";
import { element, leafOf } from "../shared/leaf";
import { counting } from "../shared/words";
import type { Index } from "./index";
import { keyIsOn, switchKey } from "./key";
import { prepare, type Found, type Outcome } from "./search";
import { split } from "./words";

const atOnce = 10; // so many results before "Show more"

// openFind brings the leaf to life. link makes an address of a place in the
// edition.
export function openFind(leaf: HTMLElement, load: () => Promise<Index>, link: (to: string) => string): void {
  const { part } = leafOf(leaf);
  const field = leaf.querySelector<HTMLInputElement>("input[type=search]")!;
  const [list, more] = [part("found"), part("more")];
  const parts = new Map([...leaf.querySelectorAll("data")].map((d) => [d.value, d]));
  let find: ((query: string) => Outcome) | undefined;
  let found: Found[] = [];
  let telling = 0;

  function show(): void {
    const query = field.value.trim();
    leaf.querySelectorAll<HTMLElement>('[data-part="urgent"]').forEach((e) => (e.hidden = query !== "")); // not every handbook has it
    if (!find) return tell(query ? "Getting the words …" : "");
    const outcome = find(field.value.trimStart());
    found = outcome.found;
    list.replaceChildren();
    reveal(atOnce);
    tell(query.length > 1 ? count(outcome) : "");
  }

  function reveal(howMany: number): void {
    const from = list.childElementCount;
    list.append(...found.slice(from, from + howMany).map((f) => result(f, parts.get(f.leaf.p ?? ""), link)));
    list.hidden = found.length === 0;
    more.hidden = list.childElementCount >= found.length;
  }

  // tell waits until the reader pauses: a screen reader would read each count
  // into the typing. So does the address, of which browsers take few changes.
  function tell(text: string): void {
    clearTimeout(telling);
    telling = window.setTimeout(() => {
      part("count").textContent = text;
      remember(field.value);
    }, 400);
  }

  field.addEventListener("input", show);
  list.addEventListener("click", () => remember(field.value));
  more.querySelector("button")!.addEventListener("click", () => {
    const next = list.childElementCount;
    reveal(2 * atOnce);
    list.children[next]?.querySelector("a")?.focus();
  });
  begin(field, part<HTMLInputElement>("key"));
  load().then(
    (index) => {
      find = prepare(index);
      leaf.dataset.state = "ready";
      if (field.value) show();
    },
    (reason: unknown) => {
      console.debug(reason);
      clearTimeout(telling);
      without(part("plain"), part("count"));
    },
  );
}

function without(plain: HTMLElement, count: HTMLElement): void {
  plain.hidden = false;
  plain.firstChild!.textContent = "The list of words did not load. Try again when there is a signal. Until then, these lead on: ";
  count.textContent = "";
}

// begin fills the field with what the address says, and the box of the key.
function begin(field: HTMLInputElement, key: HTMLInputElement): void {
  field.form!.addEventListener("submit", (e) => {
    e.preventDefault();
    field.blur(); // and the keyboard makes way for what was found
  });
  key.checked = keyIsOn();
  key.addEventListener("change", () => switchKey(key.checked));
  field.value = new URLSearchParams(address.query()).get("q") ?? "";
  // Coming back to what was found, no keyboard shall cover it.
  if (!field.value) field.focus({ preventScroll: true });
}

// remember puts what was typed into the address, for the way back.
function remember(text: string): void {
  const query = text.trim();
  address.setQuery(query ? `q=${encodeURIComponent(query)}` : "");
}

function result({ leaf: { t, k, r, o = [] }, heading, to, text, marked }: Found, of: HTMLElement | undefined, link: (to: string) => string): HTMLElement {
  const item = element("li", "", of?.className);
  const a = element("a");
  a.href = link(to);
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

function count({ found, unknown }: Outcome): string {
  const without = unknown.length > 0 ? ` No leaf has “${unknown.join("”, “")}”.` : "";
  if (found.length === 0) return `Nothing found.${without} Try another word for it, or only one.`;
  return `${counting(found.length, "place")} found.${without}`;
}

// marks puts the words that were looked for into <mark>.
function marks(text: string, marked: (word: string) => boolean): (string | HTMLElement)[] {
  return split(text).map((piece, i) => (i % 2 === 1 && marked(piece) ? element("mark", piece) : piece));
}
