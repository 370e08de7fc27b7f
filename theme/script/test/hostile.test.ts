// Tests of files and links that no leaf of the handbook has made: each is refused in
// words, or read without harm. TestScripts runs them, without a browser.
import assert from "node:assert/strict";
import { test } from "node:test";
import { deflateRawSync } from "node:zlib";
import * as log from "../log/file";
import type { Declared } from "../log/reading";
import * as record from "../record/kept";
import { fragment, unpack } from "../record/link";
import { Unreadable } from "../shared/unreadable";

const milligrams = { code: "mg/L", symbol: "mg/L", per: 1, add: 0 };
const of: Declared = {
  tests: [{ name: "tan", label: "Ammonia", fact: "tan", basis: "", low: 0, high: 20, code: "mg/L", symbol: "mg/L", units: [milligrams] }],
  choices: [], series: [], levels: [], asked: [],
};
const bytes = (content: string | number[]): ArrayBuffer => (typeof content === "string" ? new TextEncoder().encode(content) : Uint8Array.from(content)).buffer as ArrayBuffer;
const deep = (levels: number): string => '{"a":['.repeat(levels / 2) + "]}".repeat(levels / 2);
const log1 = (readings: string): string => `{"pond log": 1, "readings": [${readings}]}`;
const dated = (numbers: string): string => log1(`{"at": "2025-07-12T07:05:00+02:00", "numbers": {${numbers}}}`);

test("a hostile log is refused whole, in words", () => {
  for (const content of ["", "\0", "x", [0xff, 0xfe, 0x00], [0xc3, 0x28], "date\0,tan [mg/L]\n", "null", "[]", "[".repeat(100_000), log1('{"at": '), deep(1000), '{"pond log": "1", "readings": []}', '{"pond log": 1e999, "readings": []}', "=1+1", "x".repeat(10_000_000)]) {
    assert.throws(() => log.parse(bytes(content), of), Unreadable, String(content).slice(0, 40));
  }
  assert.throws(() => log.parse(new ArrayBuffer(20_000_001), of), Unreadable);
});

test("a hostile reading of a log is refused at its row, and the others are taken", () => {
  for (const [content, rows] of [
    [log1("null, 1, [], \"a\", {}"), 5],
    [log1(deep(1000)), 1],
    [dated('"tan": 1e308'), 1],
    [dated('"tan": 1e999'), 1],
    [dated('"tan": "1"'), 1],
    [dated('"__proto__": 1'), 1],
    [dated('"constructor": 1'), 1],
    ["date,tan [mg/L]\n2025-07-12,=1+1\n", 1],
    ["date,tan [mg/L]\n2025-07-12,1e308\n2025-07-12,NaN\n2025-07-12,Infinity\n2025-07-12,0x1\n", 4],
    ['date,tan [mg/L]\n2025-07-12,"1\n2025-07-13,2\n', 1],
    ["date,tan [mg/L]\n2025-07-12," + ",".repeat(100_000) + "\n", 1],
    ["date,tan [mg/L]\n=cmd|' /C calc'!A0,1\n", 1],
  ] as const) {
    const parsed = log.parse(bytes(content), of);
    assert.deepEqual([parsed.bad.length, parsed.readings.length], [rows, 0], content.slice(0, 60));
    for (const b of parsed.bad) assert.ok(b.why !== "" && !b.why.includes("\n"), b.why);
  }
  assert.equal(({} as { tan?: number }).tan, undefined);
});

test("what is harmless in a log is read as it stands", () => {
  for (const content of ["\ufeffdate,tan [mg/L],note\n2025-07-12,1,<script>alert(1)</script>\n", "date,tan [mg/L],note\r2025-07-12,1,<script>alert(1)</script>\r"]) {
    const parsed = log.parse(bytes(content), of);
    assert.deepEqual(parsed.readings.map((r) => [r.numbers["tan"], r.note]), [[1, "<script>alert(1)</script>"]]);
  }
  assert.equal(log.parse(bytes("date,note\n2025-07-12," + "x".repeat(10_000_000) + "\n"), of).readings.length, 1);
});

test("a hostile record is refused in words, or its facts are left out", () => {
  for (const text of ["", "\0", "null", "[]", "1e999", "[".repeat(100_000), deep(1000), '{"pond record": "1", "facts": {}}', '{"pond record": 1, "facts": null}', '{"pond record": 1, "facts": {"volume": "9']) {
    assert.throws(() => record.parse(text), Unreadable, text.slice(0, 40));
  }
  const parsed = record.parse(`{"pond record": 1, "facts": {"volume": 1e308, "depth": ${deep(1000)}, "__proto__": "x", "fish": "<script>"}, "typed": {"fish": "<b>"}}`);
  assert.deepEqual(parsed.left.length, 2);
  assert.deepEqual(parsed.facts.get("fish"), { text: "<script>", typed: "" });
  assert.equal(({} as { text?: string }).text, undefined);
});

test("a hostile link to a record is refused", async () => {
  const whole = await fragment('{"pond record": 1, "facts": {"volume": "9100 L"}}');
  assert.equal(await unpack(whole), '{"pond record": 1, "facts": {"volume": "9100 L"}}');
  const packed = (content: string | Uint8Array): string => "#record=" + deflateRawSync(content).toString("base64url");
  for (const [name, hash] of [
    ["cut short", whole.slice(0, whole.length / 2)],
    ["no letters", "#record=%00%ff"],
    ["not packed", "#record=" + Buffer.from("{}").toString("base64url")],
    ["not UTF-8", packed(Uint8Array.from([0xc3, 0x28]))],
    ["a bomb", packed("x".repeat(100_000_000))],
  ] as const) {
    const start = performance.now();
    await assert.rejects(unpack(hash), Error, name);
    assert.ok(performance.now() - start < 20_000, `${name} took too long`);
  }
});
