// Charts and scales, whose numbers stand apart from their unit.
import { bareNumbers, convert, joined, named, target, turn, turnBare, type Unit } from "./turn";
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
  const ticks = texts.filter((t) => bareNumbers(t.textContent ?? ""));
  const words = texts.filter((t) => !ticks.includes(t));
  const across = axis(leaf, words.filter((t) => t.getAttribute("text-anchor") === "end"));
  const upright = axis(leaf, words.filter((t) => t.getAttribute("x") === "0"));
  for (const tick of ticks) {
    const text = tick.firstChild as Text;
    const a = tick.getAttribute("text-anchor") === "middle" ? across : upright;
    if (a) leaf.replace(text, [{ from: 0, to: text.data.length, text: turnBare(text.data, a.from, a.to) }]);
  }
  for (const a of [across, upright]) {
    if (a) leaf.replace(a.label, rename(a.label.data, a.unit, a.to));
  }
  const say = svg.querySelector("desc")?.firstChild;
  if (say instanceof Text) describe(leaf, say, across, upright);
}

function axis(leaf: Leaf, labels: Element[]): Axis | undefined {
  for (const e of labels) {
    const label = e.firstChild as Text;
    const unit = /\(([^()]+(?:\((?:US|imp)\)[^()]*)?)\)\s*$/.exec(label.data)?.[1] ?? "";
    const from = named(unit);
    const to = target(from, leaf.system);
    if (from && to) return { label, from, to, unit };
  }
  return undefined;
}

// rename puts another unit into the brackets of a heading.
export function rename(text: string, unit: string, to: Unit): { from: number; to: number; text: string }[] {
  const at = text.lastIndexOf(`(${unit})`);
  return at < 0 ? [] : [{ from: at + 1, to: at + 1 + unit.length, text: to.s.replaceAll(" ", "\u00a0") }];
}

// describe turns "Feed (g/d) over Water (°C). 5 kg: from 0 at 4 to 38 at 32."
function describe(leaf: Leaf, say: Text, across: Axis | undefined, upright: Axis | undefined): void {
  const x = (n: string): string => (across ? convert(n, across.from, across.to) : n);
  const y = (n: string): string => (upright ? convert(n, upright.from, upright.to) : n);
  let text = say.data.replace(/from (\S+) at (\S+) to (\S+) at (\S+?)\.(?= |$)/g, (_, a: string, b: string, c: string, d: string) => `from ${y(a)} at ${x(b)} to ${y(c)} at ${x(d)}.`);
  const over = text.indexOf(" over ");
  if (upright) text = text.slice(0, over).replace(`(${upright.unit})`, `(${upright.to.s})`) + text.slice(over);
  if (across) text = text.slice(0, over) + text.slice(over).replace(`(${across.unit})`, `(${across.to.s})`);
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
  const said = texts.find((t) => t.data.startsWith("Lengths in mm"));
  const from = named("mm");
  const to = target(from, leaf.system);
  if (!said || !from || !to) return;
  for (const text of texts) if (bareNumbers(text.data)) leaf.replace(text, [{ from: 0, to: text.data.length, text: turnBare(text.data, from, to) }]);
  leaf.replace(said, [{ from: 11, to: 13, text: to.n.at(-1)! }]);
}
