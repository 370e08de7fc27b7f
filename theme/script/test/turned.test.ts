// Tests of the unit code without a browser; TestScripts runs them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { value } from "../shared/number";
import { below, convert, placed, turned } from "../units/convert";

const nb = (text: string): string => text.replaceAll("_", "\u00a0");

test("a marked quantity is said in the reader's unit, with no more digits than it has", () => {
  for (const [text, mark, system, want] of [
    ["9,100_L", "9100 L", "us", "2,400_gal_(US)"],
    ["9,100_L", "9100 L", "imperial", "2,000_gal_(imp)"],
    ["9,100_L", "9100 L", "metric", undefined],
    ["18 to 25_°C", "18 25 Cel", "us", "64 to 77_°F"],
    ["18 to 25_°C", "18 25 Cel", "imperial", undefined],
    ["2.0_°C", "2 K", "us", "3.6_°F"],
    ["1_°C a day", "1 K/d", "us", "1.8_°F_a_day"],
    ["0_g/d", "0 g/d", "us", "0_oz/d"],
    ["−4_°C", "-4 Cel", "us", "25_°F"],
    ["560 × 360 × 270_mm", "560 360 270 mm", "us", "22 × 14 × 11_in"],
    ["560 × 360 × 270_mm", "*560 360 270 mm", "us", "560 × 360 × 270_mm (22.0 × 14.2 × 10.6_in)"],
    ["6_mm", "*6 mm", "us", "6_mm (0.236_in)"],
    ["100_mm", "*100 mm", "us", "100_mm (3.94_in)"],
    ["28.3_L", "=28.3 L", "us", undefined],
    ["0.05_mg/L", "0.05 mg/L", "us", undefined],
    ["45_L to 270_L", "45 270 L", "us", "12_gal_(US) to 71_gal_(US)"],
    ["ten litres", "10 L", "us", "2.6_gal_(US)"],
    ["10-litre", "10 L", "us", "2.6_gal_(US)"],
    ["4 ft 6 in", "4.5 [ft_i]", "metric", "1.37_m"],
    ["1½_in", "1.5 [in_i]", "metric", "38_mm"],
    ["93_g/d (3.3 oz/d)", "93 g/d", "us", "3.3_oz/d"], // a link says both
    ["2_g", "=2 g", "us", undefined],
    ["5_m/s", "5 m/s", "us", "16_ft/s"],
    ["5_m/s", "5 m/s{wind}", "us", "11_mph"],
    ["52_L/min", "52 L/min{air}", "us", "1.8_cu_ft/min"],
    ["84 holes", "84 {hole}", "us", undefined],
    ["L/h", "L/h", "us", "gal_(US)/h"],
    ["millimetres", "mm", "us", "inches"],
    ["mm", "*mm", "us", "mm (in)"],
    ["0", "0 L", "us", "0"],
  ] as const) {
    const now = turned(nb(text), mark, system);
    assert.equal(now, want === undefined ? want : nb(want), `${text} as ${mark} in ${system}`);
  }
});

test("a text that can hold no elements is turned where its mark says", () => {
  assert.equal(placed("from 3.2\u00a0m at 40\u00a0mm", "5,5,3.2 m;14,5,*40 mm", "us"), "from 10\u00a0ft at 40\u00a0mm (1.57\u00a0in)");
  assert.equal(placed("Lengths\u00a0in\u00a0mm.", "11,2,mm", "us"), "Lengths\u00a0in\u00a0inches.");
  assert.equal(placed("as it is", "", "us"), "as it is");
});

test("numbers are read as they are printed", () => {
  for (const [text, want] of [["9,100", 9100], ["−0.5", -0.5], ["1½", 1.5], ["1 1/2", 1.5], ["3/4", 0.75], ["½", 0.5], ["1,234.5", 1234.5]] as const) assert.equal(value(text), want, text);
});

test("bare numbers are said in the unit of their column", () => {
  for (const [text, mark, system, want] of [
    ["9,100", "L", "us", "2,400"],
    ["46–72", "g", "us", "1.6–2.5"],
    ["12 (10–14)", "Cel", "us", "54 (50–57)"],
    ["≥ 30", "cm", "imperial", "≥ 12"],
    ["6 to 8", "*mm", "us", "6 to 8 (0.236 to 0.315)"],
    ["0.05", "mg/L", "us", undefined],
    ["9,100", "L", "metric", undefined],
  ] as const) {
    assert.equal(below(text, mark, system), want, `${text} below ${mark} in ${system}`);
  }
});

test("a number never claims more digits than it had, and is right to half of its last", () => {
  let state = 7;
  for (let i = 0; i < 5000; i++) {
    state = (state * 48271) % 2147483647;
    const digits = 1 + (state % 5);
    const text = Number((10 ** ((state / 2147483647) * 7 - 2)).toPrecision(digits)).toLocaleString("en", { maximumFractionDigits: 8, useGrouping: true });
    const now = convert(value(text), text, "L", "[gal_us]");
    const exact = value(text) / 3.785411784;
    const step = 10 ** (Math.floor(Math.log10(exact)) + 1 - Math.max(2, digits));
    assert.ok(Math.abs(value(now) - exact) <= 0.5000001 * step * 10 ** Math.max(0, digits - text.replace(/\D/g, "").replace(/^0+|0+$/g, "").length), `${text} L is ${now}`);
  }
});
