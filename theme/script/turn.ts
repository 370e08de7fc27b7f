// Shows the marked quantities of a leaf in the reader's units, and follows what
// changes: new answers, another system, a wish to see what is written. What is
// written is kept for each text, so that every look begins from it.
import type { System } from "./measure";
import { turnFields } from "./turnfields";
import { numbers, value } from "./number";
import { convert, isBare, placed, said, target, turned } from "./turned";

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
    const all = (selector: string): HTMLElement[] => [...(scope.matches(selector) ? [scope as HTMLElement] : []), ...scope.querySelectorAll<HTMLElement>(selector)];
    for (const e of all("[data-q]")) {
      const text = e.childNodes.length === 1 ? e.firstChild : null;
      if (!(text instanceof Text) || this.stays(e)) continue;
      this.say(text, (old) => said(old, e.dataset.q ?? "", this.system), e);
    }
    for (const e of all("[data-l]")) if (!this.stays(e)) this.label(e, "aria-label", (old) => placed(old, e.dataset.l ?? "", this.system));
    for (const e of all("[data-or]:not(.also *), .also")) this.either(e);
    for (const table of all("table")) if (!this.stays(table)) this.table(table as HTMLTableElement);
    for (const form of all("form[data-calculator], form.entry")) turnFields(form as HTMLFormElement, this.system, this.asked);
    for (const svg of this.changed) this.label(svg, "viewBox", (old) => fitted(svg, old), boxes);
    this.changed.clear();
    html.toggleAttribute("data-turned", this.root.querySelector(".turned") !== null);
  }

  private stays(e: Element): boolean {
    return this.system === "metric" && e.closest(".pad") !== null; // pads answer in metric, and in the rest besides
  }

  // say shows a text in other words, or as it is written where there are none.
  private say(text: Text, words: (old: string) => string | undefined, mark: Element | null): void {
    if (!written.has(text)) written.set(text, text.data);
    const old = written.get(text)!;
    const now = words(old) ?? old;
    const shown = this.asked || mark?.hasAttribute("data-tapped") ? old : now;
    mark?.classList.toggle("turned", now !== old);
    mark?.classList.toggle("as-written", now !== old && shown === old);
    if (text.data === shown) return;
    text.data = shown;
    const svg = mark?.closest("svg.chart, svg.span, svg.drawing, svg.plan");
    if (svg) this.changed.add(svg);
  }

  // label is say for an attribute.
  private label(e: Element, name: string, words: (old: string) => string, kept = written): void {
    if (!kept.has(e)) kept.set(e, e.getAttribute(name) ?? "");
    const old = kept.get(e)!;
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

  // table turns the bare numbers below or beside a unit, all of them or none.
  private table(table: HTMLTableElement): void {
    const body = [...table.rows].filter((row) => row.parentElement !== table.tHead);
    const caption = unitIn(table.caption);
    const head = [...([...(table.tHead?.rows ?? [])].at(-1)?.cells ?? [])];
    const first = Math.max(0, (body[0]?.cells.length ?? 0) - head.length); // a heading of two rows stands before it
    const heads = head.map((cell, i) => unitIn(cell) ?? (first + i > 0 ? caption : undefined));
    heads.forEach((unit, i) => this.cells(unit, body.flatMap((row) => row.cells[first + i] ?? [])));
    if (!heads.some((unit) => unit)) for (const row of body) this.cells(unitIn(row.cells[0]), [...row.cells].slice(1));
  }

  private cells(unit: HTMLElement | undefined, cells: HTMLTableCellElement[]): void {
    if (!unit) return;
    const [, stamp = "", code = ""] = /^(\*?)(.*)$/.exec(unit.dataset.q!)!;
    const texts = cells.flatMap(textsOf).filter((t) => /\d/.test(wrote(t)));
    const most = Math.max(0, ...texts.flatMap((t) => wrote(t).match(numbers) ?? []).map((n) => Math.abs(value(n))));
    const turns = texts.every((t) => isBare(wrote(t))) && turned("1", `${most} ${code}`, this.system) !== undefined;
    const say = (old: string): string => old.replace(numbers, (n) => convert(value(n), n, code, target(code, this.system)!, stamp ? 3 : 0));
    for (const t of texts) this.say(t, (old) => (!turns ? old : stamp ? `${old} (${say(old.trim())})` : say(old)), t.parentElement);
    if (!turns && texts.some((t) => isBare(t.data))) this.say(unit.firstChild as Text, (old) => old, unit);
    for (const c of cells) if (c.dataset.head !== undefined) this.label(c, "data-head", (old) => (turns ? old.replace(`(${wrote(unit.firstChild)})`, `(${unit.textContent})`) : old));
  }

  // tap shows what is written under a finger, or takes that back.
  tap(e: Element): void {
    const mark = e.closest(".turned");
    if (!mark) return;
    mark.toggleAttribute("data-tapped");
    this.look(mark.closest("table") ?? mark.parentElement ?? mark);
  }
}

// unitIn is the mark of a heading's unit: it has no number.
function unitIn(head: Element | null | undefined): HTMLElement | undefined {
  return [...(head?.querySelectorAll<HTMLElement>("[data-q]") ?? [])].find((e) => /^\*?[^\d.=*-]/.test(e.dataset.q ?? ""));
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
  let [from, to] = [left, left + width];
  for (const text of svg.querySelectorAll("text[x]")) {
    const letters = text.textContent ?? "";
    const narrow = letters.match(/[ \u00a0.,()/il]/g)?.length ?? 0;
    const wide = Number(text.closest("[font-size]")?.getAttribute("font-size")) * (0.64 * letters.length - 0.28 * narrow);
    const before = wide * ({ end: 1, middle: 0.5 }[text.getAttribute("text-anchor") ?? ""] ?? 0);
    const start = Number(text.getAttribute("x")) - before;
    [from, to] = [Math.min(from, start), Math.max(to, start + wide)];
  }
  return from < left || to > left + width ? [Math.floor(from), top, Math.ceil(to - from), height].join(" ") : old;
}

// follow shows a leaf as the element html says, from now on.
export function follow(root: HTMLElement): () => void {
  const leaf = new Leaf(root);
  const watch = new MutationObserver((all) => {
    const scopes = new Set(all.filter((m) => m.target.isConnected && m.addedNodes.length > 0).map((m) => (m.target as Element).closest("table, svg, dd, .found") ?? (m.target as Element)));
    quietly(...scopes);
  });
  // quietly does what the observer need not hear of.
  const quietly = (...scopes: Element[]): void => {
    watch.disconnect();
    for (const scope of scopes) leaf.look(scope);
    watch.observe(root, { childList: true, subtree: true });
  };
  const system = new MutationObserver(() => quietly(root));
  const tap = (e: Event): void => {
    watch.disconnect();
    leaf.tap(e.target as Element);
    // What a scenario or the pond record fills in, no observer hears of.
    quietly(...root.querySelectorAll("form[data-calculator]"));
  };
  quietly(root);
  system.observe(html, { attributes: true, attributeFilter: ["data-measure", "data-written"] });
  root.addEventListener("click", tap);
  return () => {
    watch.disconnect();
    system.disconnect();
    root.removeEventListener("click", tap);
  };
}
