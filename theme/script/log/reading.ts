// What a reading is, and what the leaf says of the tests that can be in one. All
// of that is declared by the calculator that weighs readings; the template
// log.html writes it into the leaf.
import type { Fineness } from "./time";
import { twoWays, typed } from "../shared/typed";

export interface Reading {
  id: string;
  at: string; // when it was read: ISO 8601, "2025-07-12T07:05:00+02:00"
  entered: string; // when it was typed in, by the clock of the device, to the millisecond; "" if not known
  numbers: Record<string, number>; // by test, in its own unit, as the kit reads it
  typed: Record<string, string>; // the same as typed, with its unit: "72 [degF]"
  choices: Record<string, string>; // what the fish do, and how the kits count
  note: string;
}

export interface Unit {
  code: string;
  symbol: string;
  per: number; // times this,
  add: number; // plus this, it is in the test's own unit
}

export interface Test {
  name: string;
  label: string;
  fact: string; // in the pond record
  basis: string; // the choice that says as what the kit reads it; "" for none
  low: number;
  high: number;
  code: string;
  symbol: string;
  units: Unit[];
}

export interface Option {
  name: string;
  label: string;
  per: number; // times this, a kit's number counts as the bands do
  unit: string; // the code of the unit that the kit counts in; "" if all options have one
}

export interface Choice {
  name: string;
  label: string;
  fact: string;
  byDefault: string;
  kit: boolean; // it says how a kit counts
  options: Option[];
}

export interface Limit {
  value: number;
  level: number;
  below: boolean;
  says: string; // "watch from 0.05 mg/L"
}

export interface Series {
  name: string;
  label: string;
  as: string; // "as nitrogen"
  symbol: string;
  limits: Limit[];
}

export interface Declared {
  tests: Test[];
  choices: Choice[];
  series: Series[];
  levels: string[]; // "in order" to "danger now"
  asked: { name: string; key: string; label: string }[]; // what the pond record adds
}

export function declared(leaf: Element): Declared {
  const all = (selector: string): HTMLElement[] => [...leaf.querySelectorAll<HTMLElement>(selector)];
  const text = (e: Element | null): string => (e?.firstChild?.textContent ?? "").trim();
  return {
    tests: all("[data-test]").map((e) => ({
      name: e.dataset.test ?? "",
      label: text(e.querySelector("label")),
      fact: e.dataset.fact ?? "",
      basis: e.dataset.basis ?? "",
      low: Number(e.dataset.low),
      high: Number(e.dataset.high),
      code: e.dataset.code ?? "",
      symbol: e.dataset.symbol ?? "",
      units: [...e.querySelectorAll("option")].map((o) => ({ code: o.value, symbol: o.text, per: Number(o.dataset.per), add: Number(o.dataset.add) })),
    })),
    choices: all("[data-choice]").map((e) => ({
      name: e.dataset.choice ?? "",
      label: text(e.querySelector("label")),
      fact: e.dataset.fact ?? "",
      byDefault: e.dataset.default ?? "",
      kit: e.dataset.kit !== undefined,
      options: [...e.querySelectorAll("option")].map((o) => ({ name: o.value, label: o.text, per: Number(o.dataset.per), unit: o.dataset.unit ?? "" })),
    })),
    series: all("[data-series]").map((e) => ({
      name: e.dataset.series ?? "",
      label: e.dataset.label ?? "",
      as: e.dataset.as ?? "",
      symbol: e.dataset.symbol ?? "",
      limits: [...e.querySelectorAll("data")].map((d) => ({ value: Number(d.value), level: Number(d.dataset.level), below: d.dataset.below !== undefined, says: d.textContent ?? "" })),
    })),
    levels: all('[data-part="levels"] data').map((d) => d.textContent ?? ""),
    asked: all('[data-part="asked"] data').map((d) => ({ name: (d as HTMLDataElement).value, key: d.dataset.key ?? "", label: d.textContent ?? "" })),
  };
}

// asTyped writes number and unit as the pond record and calculators have them.
export function asTyped(text: string, unit: Unit): string {
  return unit.symbol === "" ? text : `${text} ${unit.code}`;
}

// inOwn turns a number into the test's own unit.
export function inOwn(value: number, unit: Unit, test: Test): number {
  return unit.code === test.code ? value : value * unit.per + unit.add;
}

// fault says what is wrong with a number that a test is to have; "" if nothing is.
export function fault(text: string, unit: Unit, test: Test): string {
  const expected = `expected a number from ${withUnit(test.low, test.symbol)} to ${withUnit(test.high, test.symbol)}`;
  const { value, other, unit: behind } = typed(text);
  if (!Number.isNaN(value) && behind) return `is “${text.trim().slice(0, 30)}”, in a unit that is not taken here; ${expected}`;
  if (Number.isNaN(value)) return `is “${text.trim().slice(0, 30)}”; ${expected}`;
  if (!Number.isNaN(other)) return `is “${text.trim().slice(0, 30)}”, which ${twoWays(typed(text))}`;
  const own = inOwn(value, unit, test);
  return own >= test.low && own <= test.high ? "" : `is ${withUnit(value, unit.symbol)}; ${expected}`;
}

// counted is a reading's number as the bands count it; undefined if not tested.
export function counted(reading: Reading, test: Test, choices: Choice[]): number | undefined {
  const value = reading.numbers[test.name];
  if (value === undefined) return undefined;
  const option = choices.find((c) => c.name === test.basis)?.options.find((o) => o.name === reading.choices[test.basis]);
  return option ? value * option.per : value;
}

// withUnit joins number and unit so that a line does not break between them.
export function withUnit(value: number | string, symbol: string): string {
  const text = typeof value === "number" ? shown(value) : value;
  return symbol ? `${text}\u00a0${symbol}` : text;
}

// shown writes a number with no more digits than a kit has.
export function shown(value: number, digits = 3): string {
  return Math.abs(value) < 1e-6 ? "0" : String(Number(value.toPrecision(digits))).replace("-", "−");
}

// same is equal for readings that say the same of the same moment: of the same minute
// or day, if that is all that a file states.
export function same(r: Reading, to: Fineness = 19): string {
  const sorted = (of: Record<string, unknown>): unknown[] => Object.entries(of).sort(([a], [b]) => (a < b ? -1 : 1));
  const moment = to === 19 ? Date.parse(r.at) : to === 16 ? Math.floor(Date.parse(r.at) / 60_000) : r.at.slice(0, to);
  return JSON.stringify([moment, sorted(r.numbers), sorted(r.choices), r.note]);
}

// sort puts readings in the order of time.
export function sort(all: Reading[]): Reading[] {
  return [...all].sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.entered < b.entered ? -1 : 1));
}

export function newId(): string {
  return [...crypto.getRandomValues(new Uint32Array(3))].map((n) => n.toString(36)).join("-");
}

// isReading tells a reading from whatever else a store or a file may hold.
export function isReading(x: unknown): x is Reading {
  const r = x as Reading | null;
  const texts = (of: unknown): boolean => typeof of === "object" && of !== null && Object.values(of).every((v) => typeof v === "string");
  return (
    typeof r === "object" && r !== null && typeof r.id === "string" && typeof r.at === "string" && !Number.isNaN(Date.parse(r.at)) && typeof r.entered === "string" &&
    typeof r.note === "string" && texts(r.typed) && texts(r.choices) && typeof r.numbers === "object" && r.numbers !== null && Object.values(r.numbers).every((v) => Number.isFinite(v))
  );
}
