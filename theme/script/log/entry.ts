// What stands in the form, apart from the page: whether it is a reading, what is wrong
// with it, and of which moment it is.
import { local } from "../shared/day";
import { asTyped, measured, newId, parts, whole, type Declared, type Measured, type Reading, type Test } from "./reading";
import { date, iso, time } from "./time";

// A Sheet is what the fields hold.
export interface Sheet {
  at: string; // the field for date and time
  fields: Record<string, string>; // the others by their names
  units: Record<string, string>; // by test
}

// A Draft is an entry with its sheet, kept from key to key.
export interface Draft extends Sheet {
  id: string; // of the reading that it will be
  changes: boolean; // it changes a reading that is kept
  dated: boolean; // the reader has set the time
}

const slack = 120_000; // ms that two clocks may differ without a question
const year = 370 * 24 * 3600 * 1000;

const said = ({ fields }: Sheet, name: string): string => (fields[name] ?? "").trim();

function measure(sheet: Sheet, test: Test, of: Declared): Measured | undefined {
  const beside = test.units.find((u) => u.code === sheet.units[test.name]) ?? test.units[0]!;
  return said(sheet, test.name) === "" ? undefined : measured(said(sheet, test.name), beside, test, of);
}

// isDirty reports a sheet that holds more than how kits count.
export function isDirty(sheet: Sheet, { tests, choices }: Declared): boolean {
  return [...tests.map((t) => t.name), "note"].some((name) => said(sheet, name) !== "") || choices.some((c) => !c.kit && said(sheet, c.name) !== c.byDefault);
}

// parted is a sheet with a unit that was typed behind a number put where it belongs:
// into the choice of units, or of what the kit counts in.
export function parted(sheet: Sheet, test: Test, of: Declared): Sheet {
  const number = measure(sheet, test, of);
  if (!number?.behind || Number.isNaN(number.value)) return sheet;
  const { option, in: unit } = number;
  if (!option && unit.filed) return sheet; // the number keeps it
  const fields = { ...sheet.fields, [test.name]: said(sheet, test.name).replace(number.unit, "").trim() };
  if (option) fields[test.basis] = option.name;
  return { ...sheet, fields, units: option ? sheet.units : { ...sheet.units, [test.name]: unit.code } };
}

// readingOf makes a reading of a sheet, and says what is wrong with numbers, by test.
export function readingOf(sheet: Sheet, of: Declared, id: string, at: string, entered: string): { reading: Reading; wrong: [test: string, why: string][] } {
  const reading: Reading = { id, at, entered, numbers: {}, typed: {}, choices: {}, note: said(sheet, "note") };
  const wrong: [string, string][] = [];
  for (const t of of.tests) {
    const number = measure(sheet, t, of);
    if (!number) continue;
    if (number.why) wrong.push([t.name, number.why]);
    reading.numbers[t.name] = number.own;
    reading.typed[t.name] = asTyped(number.plain, number.in);
  }
  for (const c of of.choices) reading.choices[c.name] = said(sheet, c.name);
  return { reading: whole(reading, of), wrong };
}

// sheetOf is the sheet that shows a reading.
export function sheetOf(reading: Reading, of: Declared): Sheet {
  const sheet: Sheet = { at: reading.at.slice(0, 16), fields: { note: reading.note }, units: {} };
  for (const t of of.tests) {
    const typed = reading.typed[t.name];
    const [number, code] = parts(typed);
    const unit = t.units.find((u) => u.code === (code || t.code) && !u.filed);
    sheet.units[t.name] = unit?.code ?? t.code;
    sheet.fields[t.name] = typed === undefined ? "" : unit ? number : String(reading.numbers[t.name]);
  }
  for (const c of of.choices) {
    const name = reading.choices[c.name] ?? (c.kit ? undefined : c.byDefault);
    if (name !== undefined) sheet.fields[c.name] = name;
  }
  return sheet;
}

// fresh is what a form begins with: how the last reading counted, or else the pond
// record, by the names of facts.
export function fresh(of: Declared, newest: Reading | undefined, fact: (name: string) => string | undefined): Sheet {
  const sheet: Sheet = { at: "", fields: {}, units: {} };
  for (const c of of.choices) {
    const kept = c.kit ? (newest?.choices[c.name] ?? fact(c.fact)) : undefined;
    sheet.fields[c.name] = c.options.some((o) => o.name === kept) ? kept! : c.byDefault;
  }
  for (const t of of.tests) sheet.units[t.name] = /\s(\S+)$/.exec(newest?.typed[t.name] ?? fact(t.fact) ?? "")?.[1] ?? "";
  return sheet;
}

// An Entry is the reading under way.
export class Entry {
  id = "";
  editing: Reading | undefined; // the one that is changed
  dated = false; // the reader has set date and time
  began: Date | undefined; // when the first thing was typed: that is when it was read
  sure = false; // the reader wants the date as it is
  touched = false; // it holds something that is not saved

  constructor() {
    this.begin();
  }

  // begin makes it a new reading, or the change of one.
  begin(editing?: Reading): void {
    Object.assign(this, { id: editing?.id ?? newId(), editing, dated: false, began: undefined, sure: false, touched: false });
  }

  // type hears that something was typed. It returns what the field for date and time
  // is to hold from then on; "" for what it holds.
  type(date: boolean): string {
    this.touched = true;
    if (date) [this.dated, this.sure] = [true, false];
    if (date || this.began || this.dated || this.editing) return "";
    this.began = new Date();
    return local(this.began);
  }

  // moment is when it was read, by what the field for date and time holds; "" if that
  // is none.
  moment(at: string): string {
    if (this.editing && at === this.editing.at.slice(0, 16)) return this.editing.at; // to the second, and with its offset
    if (!this.dated && this.began && at === local(this.began)) return iso(this.began);
    const made = new Date(at);
    return Number.isNaN(made.getTime()) ? "" : iso(made);
  }

  // question asks about a date that a clock may have got wrong; "" if none is to ask.
  // all are sorted by time.
  question(at: string, all: Reading[]): string {
    if (this.sure) return "";
    const [now, then] = [Date.now(), Date.parse(at)];
    if (then > now + slack) return `The reading is dated ${time(at)}, which is in the future: it is ${time(iso(new Date()))} now by this device’s clock. Is the date right?`;
    if (this.editing || this.dated) return "";
    const entered = Math.max(...all.map((r) => Date.parse(r.entered) || 0), 0);
    if (now < entered - slack) return `This device’s clock says ${time(at)}, but you entered a reading before, when it said ${time(iso(new Date(entered)))}. The clock has gone back. Is the date right?`;
    const newest = all.at(-1);
    if (newest && then - Date.parse(newest.at) > year) return `This device’s clock says ${time(at)}, more than a year after your last reading of ${date(newest.at)}. Is the date right?`;
    return "";
  }

  // draft is what is kept of it from key to key.
  draft(sheet: Sheet): Draft {
    const at = !this.dated && this.began ? local(this.began) + iso(this.began).slice(16, 19) : sheet.at;
    return { ...sheet, at, id: this.id, changes: this.editing !== undefined, dated: this.dated };
  }

  // restore takes a draft up. It is false if the leaf was lost after it had been saved.
  restore({ id, changes, dated, at }: Draft, all: Reading[]): boolean {
    const there = all.find((r) => r.id === id);
    if (there && !changes) return false;
    // Was it erased meanwhile, what was typed is a reading of its own.
    Object.assign(this, { id: changes && !there ? newId() : id, editing: there, dated, touched: true, began: dated ? undefined : new Date(at) });
    return true;
  }
}
