// Readings as files: CSV by RFC 4180, with ISO 8601 dates and the UCUM code of
// each unit in its heading, as the figure sets of this handbook have them; and
// JSON.
import { Unreadable } from "../shared/unreadable";
import { asTyped, fault, inOwn, isReading, newId, type Choice, type Declared, type Reading, type Test, type Unit } from "./reading";
import { orderOf, type Order } from "./dates";
import { read as readTime, type Fineness } from "./time";
import { typed as readTyped } from "../shared/typed";

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

// rows writes a table by RFC 4180.
export function rows(table: string[][]): string {
  return table.map((row) => row.map((cell) => (/[",\r\n;\t]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(",") + "\r\n").join("");
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
function check(r: Reading, { tests, choices }: Declared): string {
  const wrong: string[] = [];
  for (const [name, value] of Object.entries(r.numbers)) {
    const test = tests.find((t) => t.name === name);
    if (!test) wrong.push(`${name}: no test of this edition`);
    else if (!(value >= test.low && value <= test.high)) wrong.push(`${test.label} ${fault(String(value), own(test), test)}`);
  }
  for (const [name, value] of Object.entries(r.choices)) {
    const choice = choices.find((c) => c.name === name);
    if (!choice) wrong.push(`${name}: no choice of this edition`);
    else if (!choice.options.some((o) => o.name === value)) wrong.push(choiceFault(choice, value));
  }
  if (wrong.length === 0 && isEmpty(r)) wrong.push(nothing);
  return wrong.join("; ");
}

const own = (t: Test): Unit => ({ code: t.code, symbol: t.symbol, per: 1, add: 0 });
const nothing = "holds no reading; expected at least one number, what the fish do, or a note";
const choiceFault = (c: Choice, value: string): string => `${c.name} is “${value.slice(0, 30)}”; expected ${c.options.map((o) => o.name).join(", ")}`;
const dateFault = (text: string): string => (text.trim() === "" ? "has no date; expected one such as 2025-07-12T07:05+02:00" : `the date is “${text.trim().slice(0, 30)}”; expected year, month, day as in 2025-07-12T07:05+02:00, or a date as a spreadsheet writes it`);

// isEmpty reports a reading that says nothing.
export function isEmpty(r: Reading): boolean {
  return Object.keys(r.numbers).length === 0 && !("fish" in r.choices) && r.note === "";
}

// means is what a text such as "72 [degF]" is in the test's own unit.
function means(text: string, test: Test): number {
  const [, digits = "", code = ""] = /^(\S+)(?: (\S+))?$/.exec(text) ?? [];
  const unit = test.units.find((u) => (u.symbol === "" ? code === "" : u.code === code));
  return unit ? inOwn(readTyped(digits).value, unit, test) : NaN;
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
    if (value !== undefined) typed[t.name] = means(r.typed[t.name] ?? "", t) === value ? r.typed[t.name]! : asTyped(String(value), own(t));
  }
  return { ...r, choices: chosen, typed };
}

// A Field says what a column of a table holds.
type Field = { kind: "date" | "note" | "typed" | "entered" | "fault" } | { kind: "test"; test: Test; unit: Unit } | { kind: "choice"; choice: Choice } | { kind: "unknown" };

function fromCSV(file: string, of: Declared, said?: Order): Parsed {
  const text = file.replace(/^sep=.\r?\n/i, ""); // which some spreadsheets put first
  const separator = separatorOf(text);
  const { table: lines, open } = split(text, separator);
  // A spreadsheet that took a line for one cell has put quotes round it.
  const table = lines.map((cells) => (cells.length === 1 && cells[0]!.includes(separator) ? (split(cells[0]!, separator).table[0] ?? cells) : cells));
  const heading = table[0] ?? [];
  const notes: string[] = [];
  const fields = heading.map((h) => fieldOf(h.trim(), of, notes));
  if (!fields.some((f) => f.kind === "date") || !fields.some((f) => f.kind === "test" || f.kind === "choice" || f.kind === "note")) throw new Unreadable(wrong);
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

function fieldOf(heading: string, { tests, choices }: Declared, notes: string[]): Field {
  const [, name = "", code = ""] = /^([^[\]]*?)\s*(\[.*\])?$/.exec(heading) ?? [];
  const plainly = name.toLowerCase();
  if (plainly === "date" || plainly === "note" || plainly === "typed" || plainly === "entered" || plainly === "fault") return { kind: plainly };
  const choice = choices.find((c) => c.name === plainly);
  if (choice) return { kind: "choice", choice };
  const test = tests.find((t) => t.name === plainly);
  const unit = test?.units.find((u) => code === "" ? u.code === test.code : bracket(u.code) === code || `[${u.code}]` === code);
  if (test && unit) return { kind: "test", test, unit };
  if (heading !== "") notes.push(test ? `The column “${heading}” was not taken: its unit is none of ${test.units.map((u) => u.code).join(", ")}.` : `The column “${heading.slice(0, 40)}” was not taken: this edition has no test of that name.`);
  return { kind: "unknown" };
}

// reading makes a reading of a row, or says what is wrong with it.
function reading(cells: string[], fields: Field[], separator: string, order: Order | undefined, of: Declared): { reading: Reading; assumed: boolean; to: Fineness } | string {
  const r: Reading = { id: newId(), at: "", entered: "", numbers: {}, typed: {}, choices: {}, note: "" };
  const wrong: string[] = [];
  let [assumed, to]: [boolean, Fineness] = [false, 19];
  let typed = "";
  fields.forEach((f, i) => {
    const cell = (cells[i] ?? "").trim();
    switch (f.kind) {
      case "date": {
        const moment = readTime(cell, order);
        if (moment.at === "") wrong.push(dateFault(cell));
        ({ at: r.at, assumed, to } = moment);
        break;
      }
      case "entered":
        r.entered = Number.isNaN(Date.parse(cell)) ? "" : cell;
        break;
      case "note":
        r.note = cell;
        break;
      case "typed":
        typed = cell;
        break;
      case "choice":
        if (cell === "") break;
        if (f.choice.options.some((o) => o.name === cell)) r.choices[f.choice.name] = cell;
        else wrong.push(choiceFault(f.choice, cell));
        break;
      case "test": {
        if (cell === "") break;
        // Where semicolons part the cells, a comma is the decimal mark.
        const text = separator === "," ? cell : cell.replace(/^([-−+]?\d+),(\d+)$/, (_, whole: string, part: string) => `${whole}.${part}${part.length === 3 ? "0" : ""}`);
        const why = fault(text, f.unit, f.test);
        if (why) wrong.push(`${f.test.name} ${why}`);
        const { value, plain } = readTyped(text);
        r.numbers[f.test.name] = inOwn(value, f.unit, f.test);
        if (f.unit.code !== f.test.code) r.typed[f.test.name] = asTyped(plain, f.unit);
      }
    }
  });
  if (wrong.length === 0 && isEmpty(r)) wrong.push(nothing);
  if (wrong.length > 0) return wrong.join("; ");
  remember(r, typed);
  return { reading: whole(r, of), assumed, to };
}

// remember takes over what was typed.
function remember(r: Reading, typed: string): void {
  for (const part of typed.split("; ")) {
    const [, name = "", text = ""] = /^([^=]+)=(.+)$/.exec(part) ?? [];
    if (name in r.numbers) r.typed[name] = text;
  }
}

// separatorOf finds what parts the cells of the first row: a comma, or as
// spreadsheets of some countries write it, a semicolon or a tab.
function separatorOf(text: string): string {
  const first = /^[^\r\n]*/.exec(text)?.[0] ?? "";
  if (first.includes(",")) return ",";
  return first.includes(";") ? ";" : first.includes("\t") ? "\t" : ",";
}

// split parts a table by RFC 4180. Lines may end in LF alone. open: the last cell
// has a quote that is not closed.
function split(text: string, separator: string): { table: string[][]; open: boolean } {
  const table: string[][] = [];
  let row: string[] = [];
  let cell = "";
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i]!;
    if (quoted) {
      if (c !== '"') cell += c;
      else if (text[i + 1] === '"') {
        cell += '"';
        i++;
      } else quoted = false;
    } else if (c === '"' && cell.trim() === "") {
      cell = "";
      quoted = true;
    } else if (c === separator) {
      row.push(cell);
      cell = "";
    } else if (c === "\n" || c === "\r") {
      if (c === "\r" && text[i + 1] === "\n") i++;
      table.push([...row, cell]);
      row = [];
      cell = "";
    } else cell += c;
  }
  if (cell !== "" || row.length > 0 || quoted) table.push([...row, cell]);
  return { table, open: quoted };
}
