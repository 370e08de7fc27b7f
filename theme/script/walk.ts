// Goes through a leaf, shows its quantities in the reader's units, and follows
// what changes: new answers, another system, a wish to see what is written. Every
// change is noted so that it can be taken back.
import type { System } from "./measure";
import { fit, turnChart, turnLengths, turnScale } from "./turncharts";
import { turnEntry, turnFields } from "./turnfields";
import { turnAlso, turnFound } from "./turnanswers";
import { turnTable } from "./turntables";
import { drillSize, joined, stay, turn, type Part } from "./turn";

// Change is one place that shows other units than are written there.
interface Change {
  at: Node;
  show(written: boolean): void;
  undo(): void;
}

const html = document.documentElement;

export class Leaf {
  private changes: Change[] = [];
  private held = new WeakSet<Node>(); // texts that are dealt with
  private marks = new WeakMap<Element, Change>();
  system: System = "metric";
  private stay = stay;
  private drawn = new Set<Element>(); // drawings whose letters have changed

  constructor(readonly root: HTMLElement) {}

  // turnAll begins anew in another system.
  turnAll(system: System): void {
    for (const change of this.changes) if (change.at.isConnected) change.undo();
    this.changes = [];
    this.held = new WeakSet();
    this.root.normalize();
    this.root.querySelectorAll("[data-left]").forEach((e) => e.removeAttribute("data-left"));
    this.system = system;
    this.stay = system === "metric" ? `${stay}, .pad` : stay; // pads answer in metric, and in the rest besides
    this.walk(this.root);
  }

  turned(): boolean {
    return this.changes.length > 0;
  }

  show(written: boolean): void {
    for (const change of this.changes) if (change.at.isConnected) change.show(written);
  }

  // renew walks what is new.
  renew(nodes: Iterable<Node>): void {
    this.changes = this.changes.filter((change) => change.at.isConnected);
    const scopes = new Set<Node>();
    for (const node of nodes) {
      const element = node instanceof Element ? node : node.parentElement;
      if (!node.isConnected || !element || element.closest(`.turned, ${this.stay}`)) continue;
      scopes.add(element.closest("table, svg, dd, .found") ?? node);
    }
    for (const scope of scopes) this.walk(scope);
  }

  private walk(from: Node): void {
    const scope = from instanceof Element ? from : from.parentElement;
    if (!scope || scope.closest(this.stay)) return;
    const all = (selector: string): Element[] => [...(scope.matches(selector) ? [scope] : []), ...scope.querySelectorAll(selector)].filter((e) => !e.closest(this.stay));
    if (from instanceof Element) {
      for (const table of all("table")) turnTable(this, table as HTMLTableElement);
      for (const chart of all("svg.chart, svg.drawing")) turnChart(this, chart);
      for (const scale of all("svg.span")) turnScale(this, scale);
      for (const drawing of all("svg.drawing, svg.plan")) turnLengths(this, drawing);
      for (const found of all(".found")) turnAlso(this, found);
      for (const line of all("dd")) turnFound(this, line);
      for (const form of all("form[data-calculator]")) turnFields(this, form as HTMLFormElement);
      for (const form of all("form.entry")) turnEntry(this, form as HTMLFormElement);
      for (const e of all("[aria-label], [data-head]")) for (const name of ["aria-label", "data-head"]) this.attribute(e, name);
    }
    const walker = document.createTreeWalker(from, NodeFilter.SHOW_TEXT);
    const texts: Text[] = [];
    for (let node: Node | null = walker.currentNode; node; node = walker.nextNode()) {
      if (node instanceof Text && /[\d½¼¾⅜]/.test(node.data) && !this.held.has(node)) texts.push(node);
    }
    const out = new Map<Element, boolean>(); // elements that stay
    for (const text of texts) {
      const parent = text.parentElement;
      if (!parent) continue;
      if (!out.has(parent)) out.set(parent, parent.closest(`.turned, ${this.stay}`) !== null);
      if (!out.get(parent)) this.replace(text, turn(text.data, this.system, drilled(text)));
    }
    for (const drawing of this.drawn) fit(this, drawing);
    this.drawn.clear();
  }

  // hold leaves a text as it is written.
  hold(text: Node): void {
    this.held.add(text);
  }

  isHeld(text: Node): boolean {
    return this.held.has(text);
  }

  // replace puts other words in the place of some of a text's. Those of prose
  // can be tapped; a drawing's and a choice's text changes as a whole.
  replace(text: Text, parts: Part[]): void {
    this.held.add(text);
    if (parts.length === 0) return;
    parts.sort((a, b) => a.from - b.from);
    const parent = text.parentElement;
    if (!parent) return;
    if (parent.namespaceURI !== html.namespaceURI || parent.matches("option, title")) {
      this.whole(text, joined(text.data, parts), parent);
      return;
    }
    // A cell that names itself lays out each element in it.
    if (parent.matches("[data-head]")) parts = [{ from: 0, to: text.data.length, text: joined(text.data, parts) }];
    const pieces: Node[] = [];
    let end = 0;
    for (const part of parts) {
      if (part.from > end) pieces.push(this.plain(text.data.slice(end, part.from)));
      pieces.push(this.mark(text.data.slice(part.from, part.to), part.text));
      end = part.to;
    }
    if (end < text.data.length) pieces.push(this.plain(text.data.slice(end)));
    text.replaceWith(...pieces);
  }

  private plain(words: string): Text {
    const text = new Text(words);
    this.held.add(text);
    return text;
  }

  private mark(written: string, turned: string): Element {
    const mark = document.createElement("span");
    const show = (as: boolean): void => {
      mark.textContent = as ? written : turned;
      mark.classList.toggle("as-written", as);
    };
    mark.className = "turned";
    this.note({ at: mark, show, undo: () => mark.replaceWith(written) }, mark);
    return mark;
  }

  private whole(text: Text, turned: string, parent: Element): void {
    const written = text.data;
    const drawing = parent.closest("svg.chart, svg.span, svg.drawing, svg.plan");
    if (drawing) this.drawn.add(drawing);
    const show = (as: boolean): void => {
      text.data = as ? written : turned;
    };
    this.note({ at: text, show, undo: () => show(true) }, parent);
  }

  attribute(e: Element, name: string): void {
    const written = e.getAttribute(name);
    if (!written) return;
    this.setAttribute(e, name, joined(written, turn(written, this.system)));
  }

  setAttribute(e: Element, name: string, turned: string): void {
    const written = e.getAttribute(name) ?? "";
    if (written === turned) return;
    const show = (as: boolean): void => e.setAttribute(name, as ? written : turned);
    this.note({ at: e, show, undo: () => show(true) });
  }

  // note keeps a change that was not made by replace, and shows it.
  note(change: Change, tapped?: Element): void {
    change.show(html.hasAttribute("data-written"));
    this.changes.push(change);
    if (tapped) this.marks.set(tapped, change);
  }

  // tap shows what is written under a finger, or takes that back.
  tap(e: Element): void {
    const mark = e.closest(".turned, text");
    const change = mark && this.marks.get(mark);
    if (!change || !mark) return;
    const written = !mark.hasAttribute("data-tapped");
    mark.toggleAttribute("data-tapped", written);
    change.show(written);
  }
}

// drilled says up to which size millimetres stay beside: on the sheets in true
// size all do, in a text about holes those of drills.
function drilled(text: Text): number {
  if (!/\bmm\b/.test(text.data)) return 0;
  const block = text.parentElement?.closest("p, li, dd, td, th, figcaption, option, text, small, caption");
  if (block?.closest(".tile") || /\b(?:bar of|template)\b/.test(text.data)) return Infinity;
  const label = block?.matches("dd") ? block.previousElementSibling?.textContent : "";
  return /\b(?:holes?|drill\w*|bits?|saw)\b/i.test(`${block?.textContent} ${label}`) ? drillSize : 0;
}

// follow shows a leaf as the element html says, from now on.
export function follow(root: HTMLElement): () => void {
  const leaf = new Leaf(root);
  const watch = new MutationObserver((all) => {
    const nodes = new Set<Node>();
    for (const m of all) {
      if (m.type === "characterData") nodes.add(m.target);
      for (const node of m.addedNodes) if (!leaf.isHeld(node)) nodes.add(node);
    }
    quietly(() => leaf.renew(nodes));
  });
  // quietly does what the observer need not hear of.
  const quietly = (act: () => void): void => {
    watch.disconnect();
    act();
    html.toggleAttribute("data-turned", leaf.turned());
    watch.observe(root, { childList: true, subtree: true, characterData: true });
  };
  const again = (): void => quietly(() => leaf.turnAll((html.dataset.measure ?? "metric") as System));
  const system = new MutationObserver((all) => {
    if (all.some((m) => m.attributeName === "data-measure") && html.dataset.measure !== leaf.system) again();
    else quietly(() => leaf.show(html.hasAttribute("data-written")));
  });
  const tap = (e: Event): void => quietly(() => leaf.tap(e.target as Element));
  // What a scenario or the pond record fills in, no observer hears of.
  const fields = (): void => {
    for (const form of root.querySelectorAll<HTMLFormElement>("form[data-calculator]")) turnFields(leaf, form);
  };
  again();
  system.observe(html, { attributes: true, attributeFilter: ["data-measure", "data-written"] });
  root.addEventListener("click", tap);
  root.addEventListener("click", fields);
  return () => {
    watch.disconnect();
    system.disconnect();
    root.removeEventListener("click", tap);
    root.removeEventListener("click", fields);
  };
}
