// Tests of files of readings that a spreadsheet has saved again, without a browser;
// TestScripts runs them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { parse, toCSV, type Parsed } from "../log/file";
import { same, type Declared, type Reading } from "../log/reading";
import type { Order } from "../log/dates";
import { of as pond } from "./pond";

const celsius = { code: "Cel", symbol: "°C", per: 1, add: 0 };
const milligrams = { code: "mg/L", symbol: "mg/L", per: 1, add: 0 };
const of: Declared = {
  tests: [
    { name: "tan", label: "Ammonia", fact: "tan", basis: "", low: 0, high: 20, code: "mg/L", symbol: "mg/L", units: [milligrams] },
    { name: "temperature", label: "Temperature", fact: "temperature", basis: "", low: 0, high: 40, code: "Cel", symbol: "°C", units: [celsius, { code: "[degF]", symbol: "°F", per: 5 / 9, add: -160 / 9 }] },
  ],
  choices: [], series: [], levels: [], asked: [],
};

const read = (text: string, order?: Order): Parsed => parse(new TextEncoder().encode(text).buffer, of, order);
const at = (p: Parsed): string[] => p.readings.map((r) => r.at.slice(0, 16));
const reading = (moment: string, numbers: Record<string, number>): Reading => ({ id: "a", at: moment, entered: "", numbers, typed: {}, choices: {}, note: "" });

test("local dates are read when they read one way", () => {
  const german = "sep=;\r\ndate;tan [mg/L];temperature [Cel];note\r\n01.06.2026 07:05;0,25;18,5;\r\n2.6.2026;1,250;;Regen, kühl\r\n";
  assert.deepEqual(at(read(german)), ["2026-06-01T07:05", "2026-06-02T12:00"]);
  assert.deepEqual(read(german).readings.map((r) => r.numbers), [{ tan: 0.25, temperature: 18.5 }, { tan: 1.25 }]);
  const american = "date,tan [mg/L]\n6/1/2026 7:05 AM,0.25\n6/13/2026,0.5\n";
  assert.deepEqual(at(read(american)), ["2026-06-01T07:05", "2026-06-13T12:00"]);
  assert.match(read(american).notes.join(" "), /month first/);
});

test("dates that read two ways are asked about, and nothing is taken before", () => {
  const text = "date,tan [mg/L]\n6/1/2026,0.25\n7/2/2026,0.5\n";
  assert.deepEqual([read(text).asks, read(text).readings.length, read(text).bad.length], ["6/1/2026", 0, 0]);
  assert.deepEqual(at(read(text, "month")), ["2026-06-01T12:00", "2026-07-02T12:00"]);
  assert.deepEqual(at(read(text, "day")), ["2026-01-06T12:00", "2026-02-07T12:00"]);
});

test("an impossible date is refused at its row", () => {
  const parsed = read("date,tan [mg/L]\n31/02/2026,0.25\n25/02/2026,0.5\n");
  assert.deepEqual([parsed.readings.length, parsed.bad.map((b) => b.row)], [1, [2]]);
});

test("numbers have a decimal comma, and two readings are refused by name", () => {
  const parsed = read('date,tan [mg/L],temperature [Cel]\n2026-06-01,"0,5","18,5"\n2026-06-02,"1,234",15.000\n');
  assert.deepEqual(parsed.readings.map((r) => r.numbers), [{ tan: 0.5, temperature: 18.5 }]);
  assert.match(parsed.bad[0]?.why ?? "", /tan is “1,234”, which may be 1234 or 1.234; .*temperature is “15.000”, which may be 15 or 15000/);
});

test("the log's own file comes back from a spreadsheet, and doubles nothing", () => {
  const mine = [reading("2026-06-01T07:05:23+00:00", { tan: 0.25, temperature: 18.5 }), reading("2026-06-14T19:30:09+00:00", { tan: 1.5 })];
  const own = toCSV(mine, of);
  assert.deepEqual(read(own).readings.map((r) => same(r)), mine.map((r) => same(r)));
  const quoted = own.trim().split("\r\n").map((line) => `"${line.replaceAll('"', '""')}"`).join("\r\n"); // a line taken for one cell
  assert.deepEqual(read(`${own.split("\r\n")[0]}\r\n${quoted.split("\r\n").slice(1).join("\r\n")}`).readings.map((r) => same(r)), mine.map((r) => same(r)));
  const local = (r: Reading): string => `${Number(r.at.slice(5, 7))}/${Number(r.at.slice(8, 10))}/${r.at.slice(0, 4)} ${r.at.slice(11, 16)}`;
  const saved = read(`date,tan [mg/L],temperature [Cel],,\r\n${mine.map((r) => `${local(r)},${r.numbers.tan},${r.numbers.temperature ?? ""},,`).join("\r\n")}`);
  assert.deepEqual(saved.readings.map((r) => same(r, saved.to.get(r))), mine.map((r) => same({ ...r, at: new Date(r.at.slice(0, 16)).toISOString() }, 16)));
});

test("a unit behind a number, or in a heading, is understood as in the form", () => {
  const take = (text: string): Parsed => parse(new TextEncoder().encode(text).buffer, pond);
  const typed = take("date,tan [mg/L],temperature [Cel],kh\n2026-06-01,0.012 g/L,72.5 F,3 dKH\n2026-06-02,0.5 ppm,20 °C,54 mg/L as CaCO3\n2026-06-03,3 furlongs,20 mg/L,3\n");
  assert.deepEqual(typed.readings.map((r) => [r.numbers, r.choices]), [
    [{ tan: 12, temperature: 22.5, kh: 3 }, { "kh-unit": "german" }],
    [{ tan: 0.5, temperature: 20, kh: 54 }, { "kh-unit": "caco3" }],
  ]);
  assert.deepEqual([typed.readings[0]!.typed.tan, typed.readings[0]!.typed.temperature], ["0.012 g/L", "72.5 [degF]"]);
  assert.match(typed.bad[0]!.why, /tan is “3 furlongs”, in a unit that is not taken here; .*temperature is “20 mg\/L”, in a unit/);
  assert.deepEqual(take("date;kh [dKH];temperature [°F]\n2026-06-01;3,5;72,5\n").readings.map((r) => [r.numbers, r.choices]), [[{ temperature: 22.5, kh: 3.5 }, { "kh-unit": "german" }]]);
  assert.match(take("date,kh,kh-unit\n2026-06-01,3 dKH,caco3\n").bad[0]!.why, /kh-unit is caco3, and the unit of the number means german/);
});
