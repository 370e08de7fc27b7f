// Charts and scales, whose numbers stand apart from their unit.
import { bareNumbers, convert, fixed, joined, named, target, turn, turnBare, type Unit } from "./turn";
import type { Leaf } from "./walk";

interface Axis {
  label: Text;
  from: Unit;
  to: Unit;
  unit: string; // as it stands in the label
}

// turnChart turns the numbers at the ticks with the unit at the axis.
export function turnChart(leaf: Leaf, svg: Element): void {
  const texts = [...svg.querySelectorAll("text")];
  if (fixed(svg.querySelector("title")?.textContent ?? "")) {
    for (const e of svg.querySelectorAll("text, title, desc")) if (e.firstChild) leaf.hold(e.firstChild);
    return;
  }
  const ticks = texts.filter((t) => bareNumbers(t.textContent ?? ""));
  const words = texts.filter((t) => !ticks.includes(t));
  const across = axis(leaf, words.filter((t) => t.getAttribute("text-anchor") === "end"));
  const upright = axis(leaf, words.filter((t) => !t.hasAttribute("text-anchor")));
  for (const tick of ticks) {
    const text = tick.firstChild as Text;
    const anchor = tick.getAttribute("text-anchor");
    const a = anchor === "middle" ? across : anchor === "end" ? upright : undefined;
    if (a) leaf.replace(text, [{ from: 0, to: text.data.length, text: turnBare(text.data, a.from, a.to) }]);
  }
  for (const a of [across, upright]) {
    if (a) leaf.replace(a.label, rename(a.label.data, a.unit, a.to));
  }
  const say = svg.querySelector("desc")?.firstChild;
  if (say instanceof Text) describe(leaf, say, across, upright);
}

// axis finds the unit at the end of a label: "Flow (L/h)", or "Head, m".
function axis(leaf: Leaf, labels: Element[]): Axis | undefined {
  for (const e of labels) {
    const label = e.firstChild as Text;
    const [, inside, behind] = /(?:\(([^()]+(?:\((?:US|imp)\)[^()]*)?)\)|^[A-Z]\w+, ([^,()]+))\s*$/.exec(label.data) ?? [];
    const unit = inside ?? behind ?? "";
    const from = named(unit);
    const to = target(from, leaf.system);
    if (from && to) return { label, from, to, unit };
  }
  return undefined;
}

// rename puts another unit into the brackets, or to the end, of a heading.
export function rename(text: string, unit: string, to: Unit): { from: number; to: number; text: string }[] {
  const at = text.lastIndexOf(`(${unit})`) + 1 || text.lastIndexOf(unit);
  return [{ from: at, to: at + unit.length, text: to.s.replaceAll(" ", "\u00a0") }];
}

// describe turns "Feed (g/d) over Water (°C). 5 kg: from 0 at 4 to 38 at 32."
function describe(leaf: Leaf, say: Text, across: Axis | undefined, upright: Axis | undefined): void {
  const x = (n: string): string => (across ? convert(n, across.from, across.to) : n);
  const y = (n: string): string => (upright ? convert(n, upright.from, upright.to) : n);
  let text = say.data.replace(/from (\S+) at (\S+) to (\S+) at (\S+?)\.(?= |$)/g, (_, a: string, b: string, c: string, d: string) => `from ${y(a)} at ${x(b)} to ${y(c)} at ${x(d)}.`);
  if (upright) text = text.replace(`(${upright.unit}) over `, `(${upright.to.s}) over `);
  if (across) text = text.replace(`(${across.unit}).`, `(${across.to.s}).`);
  text = joined(text, turn(text, leaf.system));
  if (text !== say.data) leaf.replace(say, [{ from: 0, to: say.data.length, text }]);
}

// turnScale turns the limits on a line, of which only the last may have a unit.
export function turnScale(leaf: Leaf, svg: Element): void {
  const texts = [...svg.querySelectorAll("text")].map((t) => t.firstChild as Text);
  const unit = /^[\d.,−-]+\u00a0(.+)$/.exec(texts.at(-1)?.data ?? "")?.[1] ?? "";
  const from = named(unit);
  const to = target(from, leaf.system);
  if (!from || !to) return;
  for (const text of texts) if (bareNumbers(text.data)) leaf.replace(text, [{ from: 0, to: text.data.length, text: turnBare(text.data, from, to) }]);
}

// turnLengths turns the bare numbers of a drawing that says "Lengths in mm".
export function turnLengths(leaf: Leaf, svg: Element): void {
  const texts = [...svg.querySelectorAll("text")].map((t) => t.firstChild as Text);
  const said = texts.find((t) => /^Lengths\sin\smm\b/.test(t.data));
  const from = named("mm");
  const to = target(from, leaf.system);
  if (!said || !from || !to) return;
  for (const text of texts) if (bareNumbers(text.data)) leaf.replace(text, [{ from: 0, to: text.data.length, text: turnBare(text.data, from, to) }]);
  leaf.replace(said, [{ from: 11, to: 13, text: to.n.at(-1)! }]);
}

// fit widens the view of a drawing to the letters that have become more. How
// wide they are is reckoned, because asking the browser would cost a layout.
export function fit(leaf: Leaf, svg: Element): void {
  const [left = 0, top = 0, width = 0, height = 0] = (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);
  let [from, to] = [left, left + width];
  for (const text of svg.querySelectorAll("text[x]")) {
    const size = Number(text.closest("[font-size]")?.getAttribute("font-size"));
    const words = text.textContent ?? "";
    const narrow = words.match(/[ \u00a0.,()/il]/g)?.length ?? 0;
    const wide = size * (0.64 * (words.length - narrow) + 0.36 * narrow);
    const anchor = text.getAttribute("text-anchor");
    const start = Number(text.getAttribute("x")) - (anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0);
    from = Math.min(from, start);
    to = Math.max(to, start + wide);
  }
  if (from < left || to > left + width) leaf.setAttribute(svg, "viewBox", [Math.floor(from), top, Math.ceil(to - from), height].join(" "));
}
