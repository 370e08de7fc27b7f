// Tests of what stands in the form of the log, without a page; TestScripts runs them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { Entry, fresh, isDirty, parted, readingOf, sheetOf, type Sheet } from "../log/entry";
import { iso } from "../log/time";
import { of, reading } from "./pond";

const [, , temperature, kh] = of.tests;
const sheet = (fields: Record<string, string>, units: Record<string, string> = {}): Sheet => ({ at: "2026-06-01T07:05", fields: { "kh-unit": "caco3", fish: "unseen", ...fields }, units });
const read = (fields: Record<string, string>, units = {}) => readingOf(sheet(fields, units), of, "a", "2026-06-01T07:05:00+00:00", "");

test("a sheet becomes a reading, as typed and in the tests' own units", () => {
  const { reading, wrong } = read({ tan: "0,25", temperature: "72.5", kh: "3", "kh-unit": "german", note: " rain " }, { temperature: "[degF]" });
  assert.deepEqual(wrong, []);
  assert.deepEqual([reading.numbers, reading.typed], [{ tan: 0.25, temperature: 22.5, kh: 3 }, { tan: "0.25 mg/L", temperature: "72.5 [degF]", kh: "3" }]);
  assert.deepEqual([reading.choices, reading.note], [{ "kh-unit": "german" }, "rain"]);
});

test("a unit that is typed counts, whatever the choice beside it says", () => {
  assert.deepEqual(read({ tan: "0.012 g/L", temperature: "72.5 F", ph: "8.2 pH" }).reading.numbers, { tan: 12, temperature: 22.5, ph: 8.2 });
  assert.equal(read({ tan: "0.012 g/L" }).reading.typed.tan, "0.012 g/L");
  assert.deepEqual(read({ tan: "3 dKH", temperature: "20 mg/L", ph: "1,234" }).wrong.map(([name, why]) => [name, /in a unit that is not taken here|may be 1234 or 1.234/.test(why)]), [["tan", true], ["ph", true], ["temperature", true]]);
});

test("a typed unit moves into its choice, or into what the kit counts in", () => {
  assert.deepEqual(parted(sheet({ temperature: "72,5 °F" }), temperature!, of).units, { temperature: "[degF]" });
  assert.equal(parted(sheet({ temperature: "72,5 °F" }), temperature!, of).fields.temperature, "72,5");
  for (const [text, kit] of [["3dKH", "german"], ["3 °dH", "german"], ["54 ppm", "caco3"], ["54 mg/L as CaCO3", "caco3"]] as const) {
    const { fields } = parted(sheet({ kh: text, "kh-unit": kit === "german" ? "caco3" : "german" }), kh!, of);
    assert.deepEqual([fields.kh, fields["kh-unit"]], [text.match(/\d+/)![0], kit], text);
  }
  for (const text of ["", "3", "3 furlongs", "much dKH"]) assert.equal(parted(sheet({ kh: text }), kh!, of).fields.kh, text);
  assert.equal(parted(sheet({ tan: "0.012 g/L" }), of.tests[0]!, of).fields.tan, "0.012 g/L"); // which the form does not offer
});

test("a reading comes back into the sheet as it was typed", () => {
  const { reading } = read({ tan: "0.012 g/L", temperature: "72.5", kh: "3", "kh-unit": "german", fish: "gasping" }, { temperature: "[degF]" });
  const back = sheetOf(reading, of);
  assert.deepEqual([back.fields.tan, back.fields.temperature, back.units.temperature, back.fields["kh-unit"], back.fields.fish], ["12", "72.5", "[degF]", "german", "gasping"]);
  assert.deepEqual(readingOf(back, of, "a", reading.at, "").reading.numbers, reading.numbers);
});

test("a form begins as the last reading counted, or else as the pond record says", () => {
  const facts: Record<string, string> = { temperature: "68 [degF]", "kh-kit": "german" };
  const by = (last = {}) => fresh(of, "id" in last ? undefined : { ...reading("2026-06-01T07:05:00Z", {}), ...last }, (name) => facts[name]);
  assert.deepEqual([by().units.temperature, by().fields["kh-unit"], by().fields.fish], ["[degF]", "german", "unseen"]);
  assert.deepEqual([by({ typed: { temperature: "20 Cel" }, choices: { "kh-unit": "caco3", fish: "gasping" } }).units.temperature, by({ choices: { "kh-unit": "caco3" } }).fields["kh-unit"]], ["Cel", "caco3"]);
  facts["kh-kit"] = "scottish";
  assert.equal(by().fields["kh-unit"], "caco3");
});

test("only what says something makes a sheet dirty", () => {
  assert.deepEqual([sheet({}), sheet({ "kh-unit": "german" }), sheet({ ph: "8" }), sheet({ note: "x" }), sheet({ fish: "gasping" })].map((s) => isDirty(s, of)), [false, false, true, true, true]);
});

test("a reading is of the moment when its first number was typed", () => {
  const entry = new Entry();
  const at = entry.type(false);
  assert.equal(entry.moment(at), iso(entry.began!));
  assert.equal(entry.type(false), "");
  assert.equal(entry.moment("2026-13-01T07:05"), "");
  entry.type(true);
  assert.equal(entry.moment("2026-06-01T07:05").slice(0, 16), "2026-06-01T07:05");
  entry.begin(reading("2026-06-01T07:05:23+05:00", {}));
  assert.equal(entry.moment("2026-06-01T07:05"), "2026-06-01T07:05:23+05:00");
});

test("a clock that went astray is asked about, once", () => {
  const entry = new Entry();
  const ago = (days: number): string => iso(new Date(Date.now() - days * 86_400_000));
  assert.match(entry.question(ago(-1), []), /in the future/);
  assert.match(entry.question(ago(0), [{ ...reading(ago(0), {}), entered: new Date(Date.now() + 3_600_000).toISOString() }]), /has gone back/);
  assert.match(entry.question(ago(0), [reading(ago(400), {})]), /more than a year after/);
  assert.equal(entry.question(ago(0), [reading(ago(300), {})]), "");
  entry.sure = true;
  assert.equal(entry.question(ago(-1), []), "");
});

test("a draft is taken up, unless it has been saved", () => {
  const entry = new Entry();
  entry.type(false);
  const draft = entry.draft(sheet({ ph: "8" }));
  const other = new Entry();
  assert.equal(other.restore(draft, []), true);
  assert.deepEqual([other.id, other.began?.getTime(), other.touched], [entry.id, Math.floor(entry.began!.getTime() / 1000) * 1000, true]);
  const there = reading("2026-06-01T07:05:00Z", { ph: 8 }, entry.id);
  assert.equal(other.restore(draft, [there]), false);
  assert.equal(other.restore({ ...draft, changes: true }, [there]), true);
  assert.equal(other.editing, there);
  assert.equal(other.restore({ ...draft, changes: true }, []), true); // it was erased meanwhile
  assert.notEqual(other.id, entry.id);
});
