// Shows the marked quantities of a leaf in the reader's units, and follows what
// changes: new answers, another system, a wish to see what is written. What is
// written is kept for each text, so that every look begins from it.
import type { System } from "./measure";
import { turnFields } from "./turnfields";
import { numbers, value } from "./number";
import { convert, isBare, placed, said, target, turned } from "./turned";

const html = document.documentElement;
const written = new WeakMap<Node, string>(); // texts and elements, as they are written
const boxes = new WeakMap<Element, string>(); // what drawings show of their plane, likewise
const labels = { "data-l": "aria-label", "data-head": "data-head" };

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
    for (const e of all("[data-l]")) if (!this.stays(e)) this.label(e, "data-l", (old) => placed(old, e.dataset.l ?? "", this.system));
    for (const e of all("[data-or], .also")) this.either(e);
    for (const table of all("table")) if (!this.stays(table)) this.table(table as HTMLTableElement);
    for (const form of all("form[data-calculator], form.entry")) turnFields(form as HTMLFormElement, this.system, this.asked);
    for (const svg of this.changed) fit(svg);
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

  private label(e: Element, key: keyof typeof labels, words: (old: string) => string): void {
    const name = labels[key];
    if (!written.has(e)) written.set(e, e.getAttribute(name) ?? "");
    const old = written.get(e)!;
    e.setAttribute(name, this.asked ? old : words(old));
  }

  // either leaves the reader's unit alone where a quantity is said in several:
  // "7.0 kg, or 16 lb". An answer changes places with the one below it.
  private either(e: HTMLElement): void {
    if (e.matches(".also [data-or]")) return;
    const also = e.matches(".also");
    const main = also ? e.closest(".found")?.querySelector("output [data-q], output[data-q]") : e.closest("dd") ? e.closest("dd")!.querySelector("[data-q]") : e.previousElementSibling;
    const text = main?.firstChild;
    if (!(text instanceof Text) || !(main instanceof HTMLElement)) return;
    const code = (q: Element): string => (q as HTMLElement).dataset.q?.split(" ").pop() ?? "";
    const others = [...e.querySelectorAll("[data-q]")];
    const own = turned(written.get(text) ?? text.data, main.dataset.q ?? "", this.system) !== undefined && !this.stays(e) ? others.find((o) => !target(code(o), this.system)) : undefined;
    if (!own) {
      if (!also) e.hidden = false;
      return;
    }
    const [first, second] = [written.get(text) ?? text.data, written.get(own.firstChild!) ?? own.textContent ?? ""];
    this.say(text, () => second, main);
    if (also) {
      for (const o of others) this.say(o.firstChild as Text, (old) => (o === own ? first : old), o);
    } else e.hidden = !this.asked;
  }

  // table turns the bare numbers below or beside a unit, all of them or none.
  private table(table: HTMLTableElement): void {
    const rows = [...table.rows];
    const head = rows.filter((row) => row.parentElement === table.tHead);
    const caption = unitIn(table.caption);
    const below = (row: HTMLTableRowElement): boolean => !head.includes(row);
    let column = 0;
    let headed = false;
    for (const cell of head.at(-1)?.cells ?? []) {
      const unit = unitIn(cell) ?? (column > 0 ? caption : undefined);
      const [first, last] = [column, (column += cell.colSpan)];
      if (!unit) continue;
      headed = true;
      this.cells(unit, rows.filter(below).flatMap((row) => [...row.cells].filter((c) => at(c) >= first && at(c) < last)));
    }
    for (const row of headed ? [] : rows.filter(below)) {
      const unit = unitIn(row.cells[0]);
      if (unit) this.cells(unit, [...row.cells].slice(1));
    }
  }

  private cells(unit: HTMLElement, cells: HTMLTableCellElement[]): void {
    const stamped = unit.dataset.q!.startsWith("*");
    const code = unit.dataset.q!.replace("*", "");
    const to = target(code, this.system);
    const texts = cells.flatMap(textsOf);
    const whole = texts.every((t) => !/\d/.test(written.get(t) ?? t.data) || isBare(written.get(t) ?? t.data));
    const turns = to !== undefined && whole && turned("1", `${Math.max(...texts.flatMap((t) => [...(written.get(t) ?? t.data).matchAll(numbers)].map((n) => Math.abs(value(n[0])))), 0)} ${code}`, this.system) !== undefined;
    for (const t of texts) {
      const say = (old: string): string => old.replace(numbers, (n) => convert(value(n), n, code, to!, stamped ? 3 : 0));
      if (isBare(written.get(t) ?? t.data)) this.say(t, (old) => (!turns ? old : stamped ? `${old} (${say(old.trim())})` : say(old)), t.parentElement);
    }
    if (!turns && texts.some((t) => isBare(t.data))) this.say(unit.firstChild as Text, (old) => old, unit);
    for (const c of cells) if (c.dataset.head !== undefined) this.label(c, "data-head", (old) => (turns ? old.replace(`(${written.get(unit.firstChild!)})`, `(${unit.textContent})`) : old));
  }

  // tap shows what is written under a finger, or takes that back.
  tap(e: Element): void {
    const mark = e.closest(".turned");
    if (!mark) return;
    mark.toggleAttribute("data-tapped");
    this.look(mark.closest("table") ?? mark.parentElement ?? mark);
  }
}

// at is the column in which a cell begins.
function at(cell: HTMLTableCellElement): number {
  let column = 0;
  for (let c = cell.previousElementSibling; c; c = c.previousElementSibling) column += (c as HTMLTableCellElement).colSpan;
  return column;
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

// fit widens the view of a drawing to its letters. How wide they are is reckoned,
// because asking the browser would cost a layout.
function fit(svg: Element): void {
  if (!boxes.has(svg)) boxes.set(svg, svg.getAttribute("viewBox") ?? "");
  const [left = 0, top = 0, width = 0, height = 0] = boxes.get(svg)!.split(" ").map(Number);
  let [from, to] = [left, left + width];
  for (const text of svg.querySelectorAll("text[x]")) {
    const narrow = text.textContent?.match(/[ \u00a0.,()/il]/g)?.length ?? 0;
    const wide = Number(text.closest("[font-size]")?.getAttribute("font-size")) * (0.64 * (text.textContent?.length ?? 0) - 0.28 * narrow);
    const anchor = text.getAttribute("text-anchor");
    const start = Number(text.getAttribute("x")) - (anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0);
    [from, to] = [Math.min(from, start), Math.max(to, start + wide)];
  }
  svg.setAttribute("viewBox", from < left || to > left + width ? [Math.floor(from), top, Math.ceil(to - from), height].join(" ") : boxes.get(svg)!);
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
