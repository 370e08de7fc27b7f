// Shows the marked quantities of a leaf in the reader's units, and follows what
// changes: new answers, another system, a wish to see what is written. What is
// written is kept for each text, so that every look begins from it.
import { turnFields } from "./fields";
import { below, placed, said, target, type System } from "./convert";

const html = document.documentElement;
const written = new WeakMap<Node, string>(); // texts, and one attribute of elements, as they are written
const boxes = new WeakMap<Node, string>(); // what drawings show of their plane, likewise
const wrote = (text: Node | null | undefined): string => (text && (written.get(text) ?? text.textContent)) ?? "";

class Leaf {
  private system: System = "metric";
  private asked = false; // the reader asks for what is written
  private changed = new Set<Element>();

  constructor(readonly root: HTMLElement) {}

  // look shows a part of the leaf as the element html says.
  look(scope: Element): void {
    this.system = (html.dataset.measure ?? "metric") as System;
    this.asked = html.hasAttribute("data-written");
    // Forms offer other units than metric themselves, and answer in them besides.
    const all = <E extends HTMLElement>(selector: string): E[] => [...(scope.matches(selector) ? [scope as E] : []), ...scope.querySelectorAll<E>(selector)];
    for (const e of all("[data-q]")) {
      const text = e.childNodes.length === 1 ? e.firstChild : null;
      if (text instanceof Text) this.say(text, (old) => (this.stays(e) ? undefined : said(old, e.dataset.q ?? "", this.system)), e);
    }
    for (const e of all("[data-l]")) this.label(e, "aria-label", (old) => (this.stays(e) ? old : placed(old, e.dataset.l ?? "", this.system)));
    for (const e of all("[data-or]:not(.also *), .also")) this.either(e);
    for (const table of all<HTMLTableElement>("table")) this.table(table);
    for (const form of all<HTMLFormElement>("form[data-calculator], form.entry")) turnFields(form, this.system, this.asked);
    for (const svg of this.changed) this.label(svg, "viewBox", (old) => fitted(svg, old), boxes);
    this.changed.clear();
    html.toggleAttribute("data-turned", this.root.querySelector(".turned") !== null);
  }

  private stays(e: Element): boolean {
    return this.system === "metric" && e.closest(".pad") !== null; // pads answer in metric, and in the rest besides
  }

  // say shows a text in other words, or as it is written where there are none.
  private say(text: Text, words: (old: string) => string | undefined, mark: Element | null): void {
    const old = wrote(text);
    written.set(text, old);
    const now = words(old) ?? old;
    const shown = this.asked || mark?.hasAttribute("data-tapped") ? old : now;
    mark?.classList.toggle("turned", now !== old);
    mark?.classList.toggle("as-written", now !== old && shown === old);
    const svg = text.data !== shown && mark?.closest("svg.chart, svg.span, svg.drawing, svg.plan");
    if (text.data !== shown) text.data = shown;
    if (svg) this.changed.add(svg);
  }

  // label is say for an attribute.
  private label(e: Element, name: string, words: (old: string) => string, kept = written): void {
    const old = kept.get(e) ?? e.getAttribute(name) ?? "";
    kept.set(e, old);
    e.setAttribute(name, this.asked ? old : words(old));
  }

  // either leaves the reader's unit alone where a quantity is said in several:
  // "7.0 kg, or 16 lb". An answer changes places with the one below it.
  private either(e: HTMLElement): void {
    const also = e.matches(".also");
    const main = also ? e.closest(".found")?.querySelector<HTMLElement>("output [data-q], output[data-q]") : (e.closest("dd")?.querySelector<HTMLElement>("[data-q]") ?? (e.previousElementSibling as HTMLElement | null));
    const text = main?.firstChild;
    if (!main || !(text instanceof Text)) return;
    const others = [...e.querySelectorAll<HTMLElement>("[data-q]")];
    const turns = said(wrote(text), main.dataset.q ?? "", this.system) !== undefined && !this.stays(e);
    const own = turns ? others.find((o) => !target(o.dataset.q?.split(" ").pop() ?? "", this.system)) : undefined;
    if (!also) e.hidden = own !== undefined && !this.asked;
    if (!own) return;
    const [first, second] = [wrote(text), wrote(own.firstChild)];
    this.say(text, () => second, main);
    for (const o of also ? others : []) this.say(o.firstChild as Text, (old) => (o === own ? first : old), o);
  }

  // table turns the bare numbers of the columns and rows whose unit is marked.
  private table(table: HTMLTableElement): void {
    const columns = table.dataset.units?.split(" ") ?? [];
    for (const cell of table.querySelectorAll<HTMLTableCellElement>("tbody > tr > *")) {
      const ofRow = (cell.parentElement as HTMLElement).dataset.unit;
      const unit = (ofRow ? cell.cellIndex > 0 && ofRow : columns[cell.cellIndex]) || "-";
      if (unit !== "-") for (const text of textsOf(cell)) this.say(text, (old) => (this.stays(table) ? undefined : below(old, unit, this.system)), text.parentElement);
      if (cell.dataset.head) cell.dataset.head = table.tHead?.rows[0]?.cells[cell.cellIndex]?.textContent ?? "";
    }
  }
}

// textsOf are the texts of a cell, without the marks of notes and of quantities.
function textsOf(cell: Element): Text[] {
  const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT, (t) => (t.parentElement?.closest("sup, code, [data-q]") || !(t as Text).data.trim() ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT));
  const texts: Text[] = [];
  while (walker.nextNode()) texts.push(walker.currentNode as Text);
  return texts;
}

// fitted is the view of a drawing, widened to its letters. How wide they are is
// reckoned, because asking the browser would cost a layout.
function fitted(svg: Element, old: string): string {
  const [left = 0, top = 0, width = 0, height = 0] = old.split(" ").map(Number);
  const ends = [...svg.querySelectorAll("text[x]")].flatMap((text) => {
    const letters = text.textContent ?? "";
    const narrow = letters.match(/[ \u00a0.,()/il]/g)?.length ?? 0;
    const wide = Number(text.closest("[font-size]")?.getAttribute("font-size")) * (0.64 * letters.length - 0.28 * narrow);
    const start = Number(text.getAttribute("x")) - wide * ({ end: 1, middle: 0.5 }[text.getAttribute("text-anchor") ?? ""] ?? 0);
    return [Math.floor(start), Math.ceil(start + wide)];
  });
  const from = Math.min(left, ...ends);
  return [from, top, Math.max(left + width, ...ends) - from, height].join(" ");
}

// follow shows a leaf as the element html says, from now on.
export function follow(root: HTMLElement): () => void {
  const leaf = new Leaf(root);
  const watch = new MutationObserver((all) => {
    const added = all.filter((m) => m.target.isConnected && m.addedNodes.length > 0).map((m) => m.target as Element);
    look(...new Set(added.map((e) => e.closest("table, svg, dd, .found") ?? e)));
  });
  // look leaves out of what the observer hears what it changes itself.
  const look = (...scopes: Element[]): void => {
    for (const scope of scopes) leaf.look(scope);
    watch.takeRecords();
  };
  const system = new MutationObserver(() => look(root));
  // tap shows what is written under a finger, or takes that back. What a scenario
  // or the pond record fills in, no observer hears of.
  const tap = (e: Event): void => {
    const mark = (e.target as Element).closest(".turned");
    mark?.toggleAttribute("data-tapped");
    look(...[mark?.closest("table") ?? mark?.parentElement ?? [], ...root.querySelectorAll("form[data-calculator]")].flat());
  };
  look(root);
  watch.observe(root, { childList: true, subtree: true });
  system.observe(html, { attributes: true, attributeFilter: ["data-measure", "data-written"] });
  root.addEventListener("click", tap);
  return () => [watch, system].forEach((o) => o.disconnect()); // the leaf goes with its listener
}
