// Finds the quantities of a text and writes them in the reader's units. What a
// unit is and which one stands for it says the Go package
// cmd/mereleaf/internal/units, whose table is put in when this is compiled.

import type { System } from "./measure";

export interface Unit {
  c: string; // UCUM code
  n: string[]; // as it is written
  s: string; // symbol
  d: string; // dimension
  f: number;
  o?: number;
  metric?: string;
  imperial?: string;
  us?: string;
  least?: number;
}

declare const UNITS: {
  units: Unit[];
  stay: string;
  phrases: string;
  differences: { before: string; behind: string };
};

export const stay = UNITS.stay;

// Part is a stretch of a text and what stands for it.
export interface Part {
  from: number;
  to: number;
  text: string;
}

interface Figure {
  from: number;
  to: number;
  value: number;
  text: string;
}

// Quantity is one number or several, "18 to 25", with the unit behind them.
interface Quantity {
  from: number;
  to: number;
  figures: Figure[];
  unit: Unit;
}

const blank = "[ \\u00a0\\u202f]";
const fractions: Record<string, number> = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8 };
const vulgar = `[${Object.keys(fractions).join("")}]`;
const number = `[-−]?(?:(?:\\d{1,3}(?:[,\\u00a0\\u202f]\\d{3})+|\\d+)(?:\\.\\d+|${vulgar}|(?:${blank}\\d+)?/\\d+)?|${vulgar})`;
const joint = `(?:${blank}(?:to|and|or|by|x|×|–)${blank}|,${blank}|–|-(?=\\d))`;

const units = new Map(UNITS.units.map((u) => [u.c, u]));
const names = new Map(UNITS.units.flatMap((u) => u.n.map((name) => [name, u] as const)));
const name = [...names.keys()]
  .sort((a, b) => b.length - a.length)
  .map((s) => s.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&").replaceAll(" ", blank))
  .join("|");
const quantities = new RegExp(`(?<![\\p{L}\\d.,/_°])(${number}(?:${joint}${number})*)(?:${blank}|-)?(${name})(?![\\p{L}\\d²³/·^°µ]|-\\d)`, "gu");
const likely = /[\d½¼¾⅜][ \u00a0\u202f-]?[\p{L}°]/u; // most texts hold no quantity
const numbers = new RegExp(number, "gu");
const bare = new RegExp(`^[<>≥≤~≈]?${blank}?(?:about )?${number}(?:(?:${joint}|${blank}\\()${number})*\\)?$`, "u");
const range = new RegExp(`^ \\(${number} to ${number}\\)`, "u");
const phrases = new RegExp(UNITS.phrases, "u");
const before = new RegExp(UNITS.differences.before, "u");
const behind = new RegExp(UNITS.differences.behind, "u");

// drillSize is the greatest drill in millimetres that a reader is taken to have.
export const drillSize = 35;

// named returns the unit of a heading's brackets, "L/h".
export function named(text: string): Unit | undefined {
  return names.get(text.replaceAll("\u00a0", " ").trim());
}

// target is the unit that stands for another, or none if it stays.
export function target(unit: Unit | undefined, system: System): Unit | undefined {
  return units.get(unit?.[system] ?? "");
}

export function coded(code: string): Unit | undefined {
  return units.get(code);
}

function read(text: string): number {
  const plain = text.replace(/[,\u202f]|\u00a0(?=\d{3})/g, "").replace("−", "-");
  const [, sign = "", whole = "", over = "", under = "", char = ""] = /^(-?)(\d*(?:\.\d+)?)(?:(?:^|[ \u00a0])?(\d+)?\/(\d+)|([^\d.\s]))?$/u.exec(plain) ?? [];
  let value = Number(whole);
  if (under) value = over ? value + Number(over) / Number(under) : value / Number(under);
  if (char) value += fractions[char] ?? NaN;
  return sign ? -value : value;
}

// digits counts the digits that a number claims. Noughts at the end of a whole
// number claim nothing; but one digit alone counts as two, or a metre would turn
// into three feet.
function digits(text: string): number {
  if (/[^\d.,\s−-]/.test(text)) return text.includes("/") ? 2 : digits(text.replace(/[^\d]/g, "1")); // a half is one digit more
  const plain = text.replace(/[^\d.]/g, "").replace(/^[0.]+/, "");
  return Math.max(2, (text.includes(".") ? plain.replace(".", "") : plain.replace(/0+$/, "")).length);
}

function decimals(text: string): number {
  return /\.(\d+)$/.exec(text)?.[1]?.length ?? 0;
}

export function print(value: number, places: number): string {
  const [whole = "", rest] = Math.abs(value).toFixed(places).split(".");
  const text = whole.replace(/\B(?=(\d{3})+$)/g, ",") + (rest ? `.${rest}` : "");
  return (value < 0 && /[1-9]/.test(text) ? "−" : "") + text;
}

function round(value: number, claimed: number): string {
  if (value === 0) return "0";
  const rounded = Number(value.toPrecision(claimed));
  return print(rounded, Math.min(20, Math.max(0, claimed - 1 - Math.floor(Math.log10(Math.abs(rounded))))));
}

// convert writes a number of one unit in another, with no more digits than it
// had. A difference of temperatures has no zero point.
export function convert(text: string, from: Unit, to: Unit, difference = false): string {
  const value = read(text);
  if (Number.isNaN(value)) return text;
  if (from.o !== undefined && to.o !== undefined && !difference) return print((value * from.f + from.o - to.o) / to.f, decimals(text));
  return round((value * from.f) / to.f, digits(text));
}

// fixed reports a text that compares units, or tells them apart, and so stays.
export function fixed(text: string): boolean {
  return phrases.test(text);
}

// bareNumbers reports a cell that holds nothing but numbers.
export function bareNumbers(text: string): boolean {
  return bare.test(text.trim());
}

// turnBare turns all numbers of a text that holds nothing else.
export function turnBare(text: string, from: Unit, to: Unit): string {
  return text.replace(numbers, (n) => convert(n, from, to));
}

// largest is the greatest number of a bare text.
export function largest(text: string): number {
  return Math.max(...(text.match(numbers) ?? []).map((n) => Math.abs(read(n))));
}

function find(text: string): Quantity[] {
  const found: Quantity[] = [];
  quantities.lastIndex = 0;
  for (let m = quantities.exec(text); m; m = quantities.exec(text)) {
    const [all, list = "", word = ""] = m;
    const unit = names.get(word.replaceAll("\u00a0", " "));
    if (!unit) continue;
    // Words that are units only right behind their number.
    const tight = all.slice(list.length, all.length - word.length) !== " ";
    if ((word === "t" || word === "N") && !tight) continue;
    if (word === "in" && !/^(?:$|[).,;:\s]*$|[).,;:]|[ \u00a0](?:deep|wide|long|high|of|×|x|by|pipe|hose|hole|bore)\b)/.test(text.slice(m.index + all.length))) continue; // "135 in place of 120"
    const figures = same(text, m.index, list);
    const first = figures[0];
    if (!first) continue;
    // A row of numbers without commas has one unit for all: turning the last would lie.
    if (/(?:^|\s)[\d.]*\d\s$/.test(text.slice(0, m.index))) return [];
    const last = found.at(-1);
    if (last && last.unit.c === "[ft_i]" && unit.c === "[in_i]" && last.to + 1 === first.from && last.figures.length === 1 && figures.length === 1) {
      const feet = last.figures[0]!;
      feet.value += first.value / 12; // "4 ft 3 in"
      feet.text = feet.value.toPrecision(3);
      last.to = m.index + all.length;
      continue;
    }
    found.push({ from: first.from, to: m.index + all.length, figures, unit });
  }
  return found;
}

// same returns the numbers of a list that share the unit behind the last: in
// "pH 8.2 and 21 °C" and "140 × 6 mm" only the last one does.
function same(text: string, start: number, list: string): Figure[] {
  const all = [...list.matchAll(numbers)].map((n): Figure => ({ from: start + n.index, to: start + n.index + n[0].length, value: read(n[0]), text: n[0] }));
  let first = all.length - 1;
  let listed = false;
  for (; first > 0; first--) {
    const left = all[first - 1]!;
    const right = all[first]!;
    const between = text.slice(left.to, right.from).trim();
    if (between === "and" || between === "or") listed = true;
    if (between === "," && !listed) break;
    if ((between === "×" || between === "x") && all.length === 2 && left.value > 10 * right.value) break;
    if (/\b(?:pH|KH|GH)$/.test(text.slice(0, left.from).trimEnd())) break;
  }
  return all.slice(first);
}

// turn returns what stands for the quantities of a text in a system. In a text
// about holes and drills sizes up to drilled millimetres stay beside as written,
// because that is what is stamped on the drill.
export function turn(text: string, system: System, drilled = 0): Part[] {
  if (!likely.test(text) || phrases.test(text)) return [];
  const parts: Part[] = [];
  const all = find(text);
  for (let i = 0; i < all.length; i++) {
    const q = all[i]!;
    if (quoted(text, q.from)) continue;
    const others = alternatives(text, all, i);
    const to = target(q.unit, system);
    if (!to) {
      i += others.length; // both are written, and the first is the reader's
      continue;
    }
    const own = others.find((o) => !target(o.unit, system));
    if (own) {
      const last = others.at(-1)!;
      const [, word = "", open] = /^((?: [a-z]+)*)( \()/.exec(text.slice(q.to, last.from)) ?? []; // "10 L bucket (2.6 gal (US))"
      parts.push({ from: q.from, to: last.to + (open && text[last.to] === ")" ? 1 : 0), text: text.slice(own.from, own.to) + word });
      i += others.length;
      continue;
    }
    // A range such as "3.1 g/d (1.9 g/d to 5.8 g/d)" turns whole or not at all.
    const alike = all.filter((o) => o.unit === q.unit).flatMap((o) => o.figures);
    if (Math.max(...alike.map((f) => Math.abs(f.value))) < (q.unit.least ?? 0)) continue;
    const difference = q.unit.o !== undefined && (before.test(text.slice(0, q.from)) || behind.test(text.slice(q.to)));
    const written = (from: number, end: number): string => text.slice(from, end).replace(numbers, (n) => convert(n, q.unit, to, difference));
    const last = q.figures.at(-1)!;
    const compound = q.figures.length === 1 && text.slice(q.from, last.to) !== last.text;
    const values = compound ? convert(last.text, q.unit, to) : written(q.from, last.to);
    let turned = `${values}\u00a0${to.s.replaceAll(" ", "\u00a0")}`;
    if (q.unit.c === "mm" && q.figures.every((f) => f.value <= drilled)) turned += ` (${text.slice(q.from, q.to)})`;
    parts.push({ from: q.from, to: q.to, text: turned });
    const bracket = range.exec(text.slice(q.to))?.[0];
    if (bracket) parts.push({ from: q.to, to: q.to + bracket.length, text: written(q.to, q.to + bracket.length) });
  }
  return parts;
}

// alternatives are the quantities right behind one that say the same in other
// units: "10 °C (50 °F)", "52 L/min, or 680 gal (imp)/h".
function alternatives(text: string, all: Quantity[], i: number): Quantity[] {
  const q = all[i]!;
  const found: Quantity[] = [];
  for (let last = q, j = i + 1; j < all.length; j++) {
    const other = all[j]!;
    const gap = text.slice(last.to, other.from).replaceAll("\u00a0", " ");
    if (other.unit.d !== q.unit.d || !/^(?:(?: [a-z]+){0,2} \((?:about )?|,? or (?:about )?|, (?:and )?| (?:is|are) (?:about )?| = )$/.test(gap)) break;
    if (!near(q, other)) break;
    found.push(other);
    last = other;
  }
  return found;
}

// near reports two quantities that may say the same, each with its own rounding.
function near(a: Quantity, b: Quantity): boolean {
  const [x, y] = [si(a), si(b)];
  const step = (q: Quantity): number => (q.figures[0]?.value ?? 0) * q.unit.f;
  if (a.unit.o === undefined) return Math.abs(x - y) <= 0.16 * Math.abs(x);
  return Math.abs(x - y) < 1 || Math.abs(step(a) - step(b)) < 0.1; // "a step of 1 °C (1.8 °F)"
}

function si(q: Quantity): number {
  return (q.figures[0]?.value ?? 0) * q.unit.f + (q.unit.o ?? 0);
}

// quoted reports a place inside quotation marks: what somebody said stays.
function quoted(text: string, at: number): boolean {
  const head = text.slice(0, at);
  return head.lastIndexOf("“") > head.lastIndexOf("”") || (head.split('"').length % 2 === 0 && text.slice(at).includes('"'));
}

// alternative finds the reader's own unit among those that a text says besides:
// undefined if the first is the reader's already or stays, null if there is none.
export function alternative(first: string, others: string, system: System): Part | null | undefined {
  const q = find(first)[0];
  if (!q) return null;
  if (!target(q.unit, system) || Math.max(...q.figures.map((f) => Math.abs(f.value))) < (q.unit.least ?? 0)) return undefined;
  const own = find(others).find((o) => o.unit.d === q.unit.d && !target(o.unit, system));
  return own ? { from: own.from, to: own.to, text: others.slice(own.from, own.to) } : null;
}

// joined is a text with its parts, which stand in order, in their places.
export function joined(text: string, parts: Part[]): string {
  let turned = "";
  let end = 0;
  for (const part of parts) {
    turned += text.slice(end, part.from) + part.text;
    end = part.to;
  }
  return turned + text.slice(end);
}
