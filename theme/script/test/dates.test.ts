// Tests of dates as spreadsheets write them, without a browser; TestScripts runs
// them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { international, orderOf, said } from "../log/dates";

test("a date that reads one way is read", () => {
  for (const [text, want] of [
    ["01.06.2026", "2026-06-01"], ["1.6.2026 7:05", "2026-06-01T07:05"], ["1. 6. 2026", "2026-06-01"], ["01.06.26, 07:05:30", "2026-06-01T07:05:30"], ["1.6.2026 7.05", "2026-06-01T07:05"],
    ["25/06/2026", "2026-06-25"], ["6/25/2026", "2026-06-25"], ["6/25/2026 7:05 PM", "2026-06-25T19:05"], ["6/25/2026, 12:05 AM", "2026-06-25T00:05"], ["6/25/2026, 7:05\u202fp.m.", "2026-06-25T19:05"],
    ["6/6/2026", "2026-06-06"], ["25-06-2026", "2026-06-25"], ["2026/06/01", "2026-06-01"], ["2026-6-1 7:05", "2026-06-01T07:05"], ["2026. 06. 01. 7:05", "2026-06-01T07:05"],
    ["1 Jun 2026", "2026-06-01"], ["1 June 2026, 07:05", "2026-06-01T07:05"], ["Jun 1, 2026", "2026-06-01"], ["1-Jun-2026", "2026-06-01"],
  ] as const) assert.equal(international(text, undefined), want, text);
});

test("a date that reads two ways needs an order", () => {
  assert.equal(international("6/1/2026", undefined), "");
  assert.equal(international("6/1/2026 7:05", "month"), "2026-06-01T07:05");
  assert.equal(international("6/1/2026 7:05", "day"), "2026-01-06T07:05");
  assert.equal(said("6/1/2026", "day"), "6 January 2026");
  assert.equal(said("6/1/2026", "month"), "1 June 2026");
});

test("what is no date is none", () => {
  for (const text of ["", "yesterday", "13/13/2026x", "6/25/2026 25:00", "6/25/2026 13:00 PM", "6.25", "1.6.2026 noon", "2026-06", "1 Foo 2026", "8.4"]) assert.equal(international(text, "day"), "", text);
});

test("a column settles the order of its dates", () => {
  for (const [cells, order, asks] of [
    [["6/1/2026", "6/13/2026"], "month", false], [["6/1/2026", "13/6/2026"], "day", false], [["6/1/2026", "7/1/2026"], undefined, true],
    [["6/6/2026", "7/7/2026"], undefined, false], [["01.06.2026", "02.06.2026"], undefined, false], [["2026-06-01"], undefined, false],
    [["13/6/2026", "6/13/2026", "6/1/2026"], undefined, true], [[], undefined, false],
  ] as const) {
    const column = orderOf(cells);
    assert.deepEqual([column.order, column.order === undefined && column.example !== ""], [order, asks], cells.join(" "));
  }
  assert.match(orderOf(["6/1/2026", "6/13/2026"]).why, /6\/1\/2026 are read with the month first, as 6\/13\/2026/);
});
