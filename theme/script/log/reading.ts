// What a reading is, and how its numbers are read. Which tests can be in one is
// declared by the calculator that weighs readings.
import { means, twoWays, typed, type Typed } from "../shared/typed";
import { texts } from "../shared/unreadable";
import type { Fineness } from "./time";

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
  filed?: boolean; // files have it; the form does not offer it
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

// asTyped writes number and unit as the pond record and calculators have them.
export function asTyped(text: string, unit: Unit): string {
  return unit.symbol === "" ? text : `${text} ${unit.code}`;
}

// inOwn turns a number into the test's own unit.
export function inOwn(value: number, unit: Unit, test: Test): number {
  return unit.code === test.code ? value : value * unit.per + unit.add;
}

export const own = (t: Test): Unit => ({ code: t.code, symbol: t.symbol, per: 1, add: 0 });
export const kitOf = (t: Test, { choices }: Declared): Choice | undefined => choices.find((c) => c.name === t.basis);

// named finds a unit by its name: among those of a test, or of what its kit counts in.
export function named(name: string, test: Test, of: Declared): { unit?: Unit | undefined; option?: Option | undefined } {
  return { option: kitOf(test, of)?.options.find((o) => means(name, o.unit)), unit: test.units.find((u) => means(name, u.code, u.symbol)) };
}

export interface Measured extends Typed {
  in: Unit;
  behind: boolean; // that unit is typed behind the number
  option: Option | undefined; // of the kit, by that unit
  own: number; // in the test's own unit
  why: string; // what is wrong with it; "" if nothing is
}

// measured reads a number as typed for a test, in the unit behind it, or else in the
// one beside it.
export function measured(text: string, beside: Unit, test: Test, of: Declared): Measured {
  const number = typed(text);
  const { unit, option } = named(number.unit, test, of);
  const known = unit ?? (option && own(test));
  const value = inOwn(number.value, known ?? beside, test);
  const expected = `expected a number from ${withUnit(test.low, test.symbol)} to ${withUnit(test.high, test.symbol)}`;
  const is = `is “${text.trim().slice(0, 30)}”`;
  let why = "";
  if (Number.isNaN(number.value)) why = `${is}; ${expected}`;
  else if (number.unit && !known) why = `${is}, in a unit that is not taken here; ${expected}`;
  else if (!Number.isNaN(number.other)) why = `${is}, which ${twoWays(number)}`;
  else if (!(value >= test.low && value <= test.high)) why = `is ${withUnit(number.value, (known ?? beside).symbol)}; ${expected}`;
  return { ...number, in: known ?? beside, behind: known !== undefined, option, own: value, why };
}

// counted is a reading's number as the bands count it; undefined if not tested.
export function counted(reading: Reading, test: Test, of: Declared): number | undefined {
  const value = reading.numbers[test.name];
  return value === undefined ? undefined : value * (chosen(reading, test, of)?.per ?? 1);
}

// chosen is how the kit of a test counted, if the reading says so.
export function chosen(reading: Reading, test: Test, of: Declared): Option | undefined {
  return kitOf(test, of)?.options.find((o) => o.name === reading.choices[test.basis]);
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
  return (
    typeof r === "object" && r !== null && typeof r.id === "string" && typeof r.at === "string" && !Number.isNaN(Date.parse(r.at)) && typeof r.entered === "string" &&
    typeof r.note === "string" && texts(r.typed) && texts(r.choices) && typeof r.numbers === "object" && r.numbers !== null && Object.values(r.numbers).every((v) => Number.isFinite(v))
  );
}

// isEmpty reports a reading that says nothing.
export function isEmpty(r: Reading): boolean {
  return Object.keys(r.numbers).length === 0 && !("fish" in r.choices) && r.note === "";
}

// parts splits what was typed, such as "72 [degF]", into its number and its unit's code.
export function parts(text = ""): [number: string, code: string] {
  const [, number = "", code = ""] = /^(\S+)(?: (\S+))?$/.exec(text) ?? [];
  return [number, code];
}

// meant is what such a text is in the test's own unit.
function meant(text: string | undefined, test: Test): number {
  const [digits, code] = parts(text);
  const unit = test.units.find((u) => (u.symbol === "" ? code === "" : u.code === code));
  return unit ? inOwn(typed(digits).value, unit, test) : NaN;
}

// whole gives a reading how its kits count, as far as nothing says otherwise, and
// takes away choices that say nothing. What was typed counts only as long as it
// means the number: somebody may have changed that in a spreadsheet.
export function whole(r: Reading, { tests, choices }: Declared): Reading {
  const chosen: Record<string, string> = {};
  const typed: Record<string, string> = {};
  for (const c of choices) {
    const value = r.choices[c.name] ?? c.byDefault;
    const counts = c.kit ? tests.some((t) => t.basis === c.name && r.numbers[t.name] !== undefined) : value !== c.byDefault;
    if (counts) chosen[c.name] = value;
  }
  for (const t of tests) {
    const value = r.numbers[t.name];
    if (value !== undefined) typed[t.name] = meant(r.typed[t.name], t) === value ? r.typed[t.name]! : asTyped(String(value), own(t));
  }
  return { ...r, choices: chosen, typed };
}
