// Readings as files: CSV by RFC 4180, with ISO 8601 dates and the UCUM code of
// each unit in its heading, as the figure sets of this handbook have them; and
// JSON.
import { Unreadable } from "../shared/unreadable";
import { orderOf, type Order } from "./dates";
import { asTyped, isEmpty, isReading, measured, named, newId, own, whole, type Choice, type Declared, type Option, type Reading, type Test, type Unit } from "./reading";
import { rows, separatorOf, split } from "./table";
import { read as readTime, type Fineness } from "./time";

const version = 1;
const mark = "pond log";
const most = 20_000_000; // characters, far above any log

// A bad row was not taken.
export interface Bad {
  row: number; // as a spreadsheet counts: the heading is row 1
  why: string;
  cells: string[];
}

export interface Parsed {
  readings: Reading[];
  bad: Bad[];
  heading: string[]; // of the bad rows
  notes: string[]; // what else is to be said of the file
  to: Map<Reading, Fineness>; // of those whose time is less fine than a second
  asks: string; // a date that reads two ways, before any row is taken; "" if there is none
}

// A column of the CSV has a heading and the text of a reading.
interface Column {
  heading: string;
  of: (r: Reading) => string;
}

// bracket writes a unit into a heading; some codes bring their brackets along.
const bracket = (code: string): string => (/^\[.*\]$/.test(code) ? code : `[${code}]`);

function columns({ tests, choices }: Declared): Column[] {
  const choice = (c: Choice): Column => ({ heading: c.name, of: (r) => r.choices[c.name] ?? "" });
  const all: Column[] = [{ heading: "date", of: (r) => r.at }];
  for (const t of tests) {
    all.push({ heading: `${t.name} ${bracket(t.code)}`, of: (r) => (r.numbers[t.name] === undefined ? "" : String(r.numbers[t.name])) });
    for (const c of choices) if (c.name === t.basis) all.push(choice(c));
  }
  for (const c of choices) if (!c.kit) all.push(choice(c));
  all.push({ heading: "note", of: (r) => r.note }, { heading: "typed", of: (r) => typedText(r, tests) }, { heading: "entered", of: (r) => r.entered });
  return all;
}

// typedText lists what was typed, where the number alone does not tell it.
function typedText(r: Reading, tests: Test[]): string {
  return tests
    .filter((t) => r.typed[t.name] !== undefined && r.typed[t.name] !== asTyped(String(r.numbers[t.name]), own(t)))
    .map((t) => `${t.name}=${r.typed[t.name]}`)
    .join("; ");
}

export function toCSV(readings: Reading[], of: Declared): string {
  const all = columns(of);
  return rows([all.map((c) => c.heading), ...readings.map((r) => all.map((c) => c.of(r)))]);
}

export function toJSON(readings: Reading[], unread: unknown[], of: Declared): string {
  const units = Object.fromEntries(of.tests.map((t) => [t.name, t.code]));
  const plainly = readings.map(({ at, entered, numbers, typed, choices, note }) => ({ at, entered, numbers, typed, choices, note }));
  return JSON.stringify({ [mark]: version, units, readings: plainly, ...(unread.length > 0 ? { unread } : {}) }, null, 1) + "\n";
}

// parse reads a file of either kind. order is what a reader has said of its dates.
export function parse(bytes: ArrayBuffer, of: Declared, order?: Order): Parsed {
  if (bytes.byteLength > most) throw new Unreadable("is larger than any log of readings; nothing was taken from it");
  const text = decode(bytes);
  return /^\s*[{[]/.test(text) ? fromJSON(text, of) : fromCSV(text, of, order);
}

const wrong = "is no log of readings: choose a file that was saved on this leaf, or a table in CSV whose first row names the columns, beginning with date";

function decode(bytes: ArrayBuffer): string {
  const [a, b] = new Uint8Array(bytes);
  const as = a === 0xff && b === 0xfe ? "utf-16le" : a === 0xfe && b === 0xff ? "utf-16be" : "utf-8";
  try {
    const text = new TextDecoder(as, { fatal: true }).decode(bytes); // which takes a byte order mark away
    if (!text.includes("\0")) return text;
  } catch (reason) {
    console.debug(reason);
  }
  throw new Unreadable(wrong);
}

function fromJSON(text: string, of: Declared): Parsed {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    throw new Unreadable("is damaged or cut short: save it again where it came from, and read that file");
  }
  const made = data as Record<string, unknown> | null;
  if (made?.["pond record"] !== undefined) throw new Unreadable("is a pond record, not a log of readings: read it on the leaf My pond");
  const by = made?.[mark];
  if (typeof by !== "number" || !Array.isArray(made?.readings)) throw new Unreadable(wrong);
  if (by > version) throw new Unreadable("comes from a newer edition of this handbook: reload this leaf to get that edition, then read the file again; the file itself is whole");
  const parsed: Parsed = { readings: [], bad: [], heading: ["reading"], notes: [], to: new Map(), asks: "" };
  made.readings.forEach((x: unknown, i: number) => {
    const given = { id: newId(), entered: "", typed: {}, choices: {}, numbers: {}, note: "", ...(typeof x === "object" ? x : {}) } as Reading;
    const moment = readTime(String((x as Reading | null)?.at ?? ""));
    const why = moment.at === "" ? dateFault(String((x as Reading | null)?.at ?? "")) : !isReading({ ...given, at: moment.at }) ? "is no reading; expected numbers, choices and a note as this leaf saves them" : check(given, of);
    if (why) parsed.bad.push({ row: i + 1, why, cells: [JSON.stringify(x)] });
    else parsed.readings.push(whole({ ...given, id: newId(), at: moment.at }, of));
  });
  if (Array.isArray(made.unread) && made.unread.length > 0) parsed.notes.push(`${made.unread.length} of its readings could not be read where it was saved; they are left in the file.`);
  return parsed;
}

// check says what is wrong with a reading's numbers and choices.
function check(r: Reading, of: Declared): string {
  const { tests, choices } = of;
  const wrong: string[] = [];
  for (const [name, value] of Object.entries(r.numbers)) {
    const test = tests.find((t) => t.name === name);
    if (!test) wrong.push(`${name}: no test of this edition`);
    else if (!(value >= test.low && value <= test.high)) wrong.push(`${test.label} ${measured(String(value), own(test), test, of).why}`);
  }
  for (const [name, value] of Object.entries(r.choices)) {
    const choice = choices.find((c) => c.name === name);
    if (!choice) wrong.push(`${name}: no choice of this edition`);
    else if (!choice.options.some((o) => o.name === value)) wrong.push(choiceFault(choice, value));
  }
  if (wrong.length === 0 && isEmpty(r)) wrong.push(nothing);
  return wrong.join("; ");
}

const nothing = "holds no reading; expected at least one number, what the fish do, or a note";
const choiceFault = (c: Choice, value: string): string => `${c.name} is “${value.slice(0, 30)}”; expected ${c.options.map((o) => o.name).join(", ")}`;
const dateFault = (text: string): string => (text.trim() === "" ? "has no date; expected one such as 2025-07-12T07:05+02:00" : `the date is “${text.trim().slice(0, 30)}”; expected year, month, day as in 2025-07-12T07:05+02:00, or a date as a spreadsheet writes it`);

// A Row is taken cell by cell. What the column "typed" says is understood last.
interface Row {
  reading: Reading;
  assumed: boolean;
  to: Fineness;
  typed: string;
  kits: [choice: string, option: string][]; // that units in the row mean
}

// A Field takes a cell of its column into a row, and says what is wrong with it.
interface Field {
  kind: "date" | "reading" | "other";
  take: (cell: string, row: Row, separator: string, order: Order | undefined) => string | undefined;
}

function fromCSV(file: string, of: Declared, said?: Order): Parsed {
  const text = file.replace(/^sep=.\r?\n/i, ""); // which some spreadsheets put first
  const separator = separatorOf(text);
  const { table: lines, open } = split(text, separator);
  // A spreadsheet that took a line for one cell has put quotes round it.
  const table = lines.map((cells) => (cells.length === 1 && cells[0]!.includes(separator) ? (split(cells[0]!, separator).table[0] ?? cells) : cells));
  const heading = table[0] ?? [];
  const notes: string[] = [];
  const fields = heading.map((h) => fieldOf(h.trim(), of, notes));
  if (!fields.some((f) => f.kind === "date") || !fields.some((f) => f.kind === "reading")) throw new Unreadable(wrong);
  const parsed: Parsed = { readings: [], bad: [], heading, notes, to: new Map(), asks: "" };
  const dates = fields.findIndex((f) => f.kind === "date");
  const column = orderOf(table.slice(1).map((cells) => cells[dates] ?? ""));
  const order = column.order ?? said;
  if (!order && column.example) return { ...parsed, asks: column.example };
  if (column.why) notes.push(column.why);
  let assumed = 0;
  table.forEach((cells, i) => {
    if (i === 0 || cells.every((c) => c.trim() === "")) return;
    const bad = (why: string): void => void parsed.bad.push({ row: i + 1, why, cells });
    if (open && i === table.length - 1) return bad("has a quote that is not closed, so that all below may belong to it; expected a second quote behind the cell");
    while (cells.length > heading.length && cells.at(-1)!.trim() === "") cells.pop();
    if (cells.length > heading.length) return bad(`has ${cells.length} cells; expected ${heading.length}, as the first row has. A comma inside a cell needs quotes round the cell`);
    const made = reading(cells, fields, separator, order, of);
    if (typeof made === "string") return bad(made);
    if (made.assumed) assumed++;
    if (made.to !== 19) parsed.to.set(made.reading, made.to);
    parsed.readings.push(made.reading);
  });
  if (assumed > 0) notes.push(`${assumed === 1 ? "1 date says" : `${assumed} dates say`} no time zone: taken as this device’s time${assumed === 1 ? "" : "s"}.`);
  return parsed;
}

// fieldOf finds what a column holds by its heading.
function fieldOf(heading: string, of: Declared, notes: string[]): Field {
  const [, name = "", code = ""] = /^([^[\]]*?)\s*(\[.*\])?$/.exec(heading) ?? [];
  const plainly = name.toLowerCase();
  if (Object.hasOwn(plainFields, plainly)) return plainFields[plainly]!;
  const choice = of.choices.find((c) => c.name === plainly);
  if (choice) return { kind: "reading", take: (cell, row) => pick(cell, row.reading, choice) };
  const test = of.tests.find((t) => t.name === plainly);
  const { unit, option } = (test && unitOf(code, test, of)) ?? {};
  if (test && (unit || option)) return { kind: "reading", take: (cell, row, separator) => count(cell, row, separator, test, unit ?? own(test), option, of) };
  if (heading !== "") notes.push(test ? `The column “${heading}” was not taken: its unit is none of ${test.units.map((u) => u.code).join(", ")}.` : `The column “${heading.slice(0, 40)}” was not taken: this edition has no test of that name.`);
  return { kind: "other", take: () => undefined };
}

// unitOf finds the unit that stands in brackets in a heading.
function unitOf(code: string, test: Test, of: Declared): { unit?: Unit | undefined; option?: Option | undefined } {
  const unit = code === "" ? own(test) : test.units.find((u) => bracket(u.code) === code || `[${u.code}]` === code);
  return unit ? { unit } : named(code.slice(1, -1), test, of);
}

const plainFields: Record<string, Field> = {
  date: {
    kind: "date",
    take(cell, row, _, order) {
      const moment = readTime(cell, order);
      ({ at: row.reading.at, assumed: row.assumed, to: row.to } = moment);
      return moment.at === "" ? dateFault(cell) : "";
    },
  },
  note: { kind: "reading", take: (cell, { reading }) => void (reading.note = cell) },
  typed: { kind: "other", take: (cell, row) => void (row.typed = cell) },
  entered: { kind: "other", take: (cell, { reading }) => void (reading.entered = Number.isNaN(Date.parse(cell)) ? "" : cell) },
  fault: { kind: "other", take: () => undefined },
};

function pick(cell: string, reading: Reading, choice: Choice): string {
  if (cell === "") return "";
  if (!choice.options.some((o) => o.name === cell)) return choiceFault(choice, cell);
  reading.choices[choice.name] = cell;
  return "";
}

function count(cell: string, { reading, kits }: Row, separator: string, test: Test, unit: Unit, option: Option | undefined, of: Declared): string {
  if (cell === "") return "";
  // Where semicolons part the cells, a comma is the decimal mark.
  const text = separator === "," ? cell : cell.replace(/^([-−+]?\d+),(\d+)(?![\d.,])/, (_, whole: string, part: string) => `${whole}.${part}${part.length === 3 ? "0" : ""}`);
  const number = measured(text, unit, test, of);
  reading.numbers[test.name] = number.own;
  if (number.in.code !== test.code) reading.typed[test.name] = asTyped(number.plain, number.in);
  const counts = number.option ?? option;
  if (counts) kits.push([test.basis, counts.name]);
  return number.why && `${test.name} ${number.why}`;
}

// reading makes a reading of a row, or says what is wrong with it.
function reading(cells: string[], fields: Field[], separator: string, order: Order | undefined, of: Declared): Row | string {
  const row: Row = { reading: { id: newId(), at: "", entered: "", numbers: {}, typed: {}, choices: {}, note: "" }, assumed: false, to: 19, typed: "", kits: [] };
  const r = row.reading;
  const wrong = fields.flatMap((f, i) => f.take((cells[i] ?? "").trim(), row, separator, order) || []);
  for (const [name, option] of row.kits) {
    const said = (r.choices[name] ??= option);
    if (said !== option) wrong.push(`${name} is ${said}, and the unit of the number means ${option}; expected one of the two`);
  }
  if (wrong.length === 0 && isEmpty(r)) wrong.push(nothing);
  if (wrong.length > 0) return wrong.join("; ");
  remember(r, row.typed);
  return { ...row, reading: whole(r, of) };
}

// remember takes over what was typed.
function remember(r: Reading, typed: string): void {
  for (const part of typed.split("; ")) {
    const [, name = "", text = ""] = /^([^=]+)=(.+)$/.exec(part) ?? [];
    if (name in r.numbers) r.typed[name] = text;
  }
}
