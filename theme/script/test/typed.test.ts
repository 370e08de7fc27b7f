// Tests of how typed numbers are read, without a browser; TestScripts runs them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { codeOf, twoWays, typed } from "../shared/typed";

test("a number is read in any country's spelling", () => {
  for (const [text, value, plain] of [
    ["0,5", 0.5, "0.5"], ["8,4", 8.4, "8.4"], ["1234,5", 1234.5, "1234.5"], ["0,250", 0.25, "0.250"], ["1.234,5", 1234.5, "1234.5"], ["1,234.5", 1234.5, "1234.5"],
    ["1 234,5", 1234.5, "1234.5"], ["1\u202f234", 1234, "1234"], ["9,100", 9100, "9100"], ["1,234,567", 1234567, "1234567"], ["1.234.567", 1234567, "1234567"],
    ["12.", 12, "12"], ["12,", 12, "12"], [".5", 0.5, "0.5"], ["−4", -4, "-4"], ["+7.2", 7.2, "+7.2"], ["1.5e2", 150, "1.5e2"], ["0.125", 0.125, "0.125"], [" 7 ", 7, "7"],
  ] as const) {
    const now = typed(text);
    assert.deepEqual([now.value, now.plain, now.other, now.unit], [value, plain, NaN, ""], text);
  }
});

test("a number that reads two ways is not guessed", () => {
  for (const [text, one, other] of [["1,234", 1234, 1.234], ["15.000", 15, 15000], ["-2,500.0", NaN, NaN], ["12,345 L", 12345, 12.345]] as const) {
    if (Number.isNaN(one)) continue;
    const now = typed(text);
    assert.deepEqual([now.value, now.other], [one, other], text);
    assert.equal(twoWays(now), `may be ${one} or ${other}; write the one that is meant, without a comma`);
  }
  assert.equal(twoWays(typed("9,100")), "");
});

test("what is no number is none", () => {
  for (const text of ["", "x", "1,50,5", "1.2.3", "--3", "1 50", "1 5000", "NaN", ",5", "javascript:alert(1)", "08. Apr"]) assert.ok(Number.isNaN(typed(text).value) || typed(text).unit !== "", text);
  for (const text of ["", "x", "1,50,5", "1.2.3", "--3", "1 50", "1 5000", ",5"]) assert.ok(Number.isNaN(typed(text).value), text);
});

test("a unit behind the number is told apart", () => {
  for (const [text, value, code] of [["3dKH", 3, "{°dH}"], ["3 °dH", 3, "{°dH}"], ["72 F", 72, "[degF]"], ["72 deg F", 72, "[degF]"], ["21,5 °C", 21.5, "Cel"], ["0,5ppm", 0.5, "mg/L"], ["1.5 mg/l", 1.5, "mg/L"], ["3 furlongs", 3, ""]] as const) {
    assert.deepEqual([typed(text).value, codeOf(typed(text).unit)], [value, code], text);
  }
});
