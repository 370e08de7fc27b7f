// Tests of the log without a page and without a database; TestScripts runs them.
import assert from "node:assert/strict";
import { test } from "node:test";
import { storage } from "./kept";
import { Judging, due } from "../log/advice";
import { Log } from "../log/log";
import { memory, openStore, type Store } from "../log/store";
import { iso } from "../log/time";
import { say } from "../log/trend";
import { summary } from "../log/words";
import { begin, look } from "../record/kept";
import type { Ask } from "../module/load";
import { of, reading } from "./pond";

function opened(store: Store = memory("")): { log: Log; said: string[]; shown: () => number } {
  const said: string[] = [];
  let shown = 0;
  return { log: new Log(Promise.resolve(store), of, () => shown++, (text) => said.push(text)), said, shown: () => shown };
}
const ids = ({ all }: Log): string[] => all.map((r) => r.id);
const early = reading("2026-06-01T07:05:00+00:00", { ph: 8.2 }, "early");
const late = reading("2026-06-02T07:05:00+00:00", { tan: 0.5 }, "late");

test("readings are kept in the order of time, none doubled", async () => {
  const { log, said, shown } = opened();
  assert.equal(await log.save(late, false), true);
  assert.equal(await log.save(early, false), true);
  assert.deepEqual([ids(log), shown()], [["early", "late"], 2]);
  assert.match(said[1]!, /^Saved: 1 Jun 2026, 07:05\. pH 8\.2\. There are later readings/);
  assert.equal(await log.save({ ...early, id: "twin" }, false), true);
  assert.match(said[2]!, /is here already; it was not doubled/);
  assert.equal(log.all.length, 2);
});

test("every change is taken back whole", async () => {
  const { log, said } = opened();
  await log.save(early, false);
  await log.save({ ...early, note: "rain" }, true);
  await log.takeBack();
  assert.equal(log.all[0]!.note, "");
  await log.remove(early);
  assert.match(said.at(-1)!, /^Deleted: 1 Jun 2026/);
  await log.takeBack();
  await log.save(late, false);
  await log.erase();
  assert.deepEqual([ids(log), said.at(-1)!.includes("they can be brought back")], [[], true]);
  await log.takeBack();
  assert.deepEqual([ids(log), log.undo, said.at(-1)], [["early", "late"], undefined, "The readings are as they were before."]);
});

test("what is not kept is said, and nothing is claimed", async () => {
  for (const [reason, says] of [[new DOMException("", "QuotaExceededError"), /no room left/], [new Error("silent"), /did not keep it/]] as const) {
    const store = memory("");
    const { log, said } = opened(store);
    await log.save(early, false);
    const fails = (): Promise<never> => Promise.reject(reason);
    Object.assign(store, { change: fails, erase: fails });
    assert.equal(await log.save(late, false), false);
    await log.remove(early);
    await log.erase();
    await log.takeBack();
    assert.deepEqual(said.slice(1).map((s) => s.slice(0, 22)), ["The reading is not sav", "The reading is not del", "Nothing is erased. Thi", "It is not taken back. "]);
    for (const text of said.slice(1)) assert.match(text, says);
    assert.deepEqual([ids(log), log.undo!.says], [["early"], "Take this reading back"]);
  }
});

test("what this edition cannot read stays, and comes back after an erasure", async () => {
  const store = memory("held for this visit");
  const strange = { id: "strange", of: "another edition" };
  store.read = async () => ({ readings: [early], unread: [strange, null] });
  const { log } = opened(store);
  await log.refresh();
  assert.match(log.trouble(), /^held for this visit 2 of what is kept here cannot be read/);
  await log.erase();
  assert.deepEqual(log.undo!.change.put, [early, strange]);
});

test("today's newest reading fills the pond record, an older one does not", async () => {
  begin("test");
  const { log } = opened();
  const now = iso(new Date());
  await log.save(reading(now, { tan: 0.5, kh: 3 }), false);
  assert.deepEqual([look().get("ammonia")?.text, look().get("kh")?.text, look().get("kh-kit")?.text], ["0.5 mg/L", "3", "caco3"]);
  await log.save(reading(`${now.slice(0, 11)}00:00:00${now.slice(19)}`, { tan: 9 }), false);
  assert.equal(look().get("ammonia")?.text, "0.5 mg/L");
  storage.clear();
});

test("a reading of the future says nothing of today, unless there is no other", async () => {
  const { log } = opened();
  const ahead = reading(iso(new Date(Date.now() + 86_400_000)), { ph: 8 }, "ahead");
  await log.save(ahead, false);
  assert.deepEqual(log.past().map((r) => r.id), ["ahead"]);
  await log.save(early, false);
  assert.deepEqual(log.past().map((r) => r.id), ["early"]);
});

test("without a database readings are held for the visit, and the leaf says so", async () => {
  Reflect.deleteProperty(globalThis, "BroadcastChannel"); // an open one would keep Node running
  const store = await openStore("test", () => undefined);
  assert.match(store.why, /keeps nothing for this handbook/);
  await store.change({ put: [early, late], remove: [] });
  await store.change({ put: [], remove: ["late"] });
  assert.deepEqual((await store.read()).readings, [early]);
});

test("each reading is judged once, and what goes stale is let go", async () => {
  let asked = 0;
  const ask: Ask = async () => (asked++, { ok: true, html: "", values: { urgency: "2", "test-again": "24" } });
  const judging = new Judging();
  assert.equal(await judging.all(ask, [early, late, early], of, () => false, () => undefined), true);
  assert.deepEqual([asked, judging.of(late)?.level], [2, 2]);
  assert.equal(await judging.all(ask, [early], of, () => false, () => undefined), false);
  assert.equal(await new Judging().all(ask, [early], of, () => true, () => assert.fail("stale")), false);
});

test("the next test is due by what nobody has tested since", async () => {
  const ask: Ask = async (request) => ({ ok: true, html: "", values: request.includes("tan=") ? { urgency: "3", "test-again": "12" } : { urgency: "0", "test-again": "168" } });
  const next = await due(ask, [reading("2026-06-01T07:00:00Z", { tan: 2 }), reading("2026-06-01T08:00:00Z", { ph: 8 })], of);
  assert.equal(new Date(next!.by).toISOString(), "2026-06-01T19:00:00.000Z");
  assert.deepEqual(next!.open.map((o) => [o.reading.numbers, o.level]), [[{ tan: 2 }, 3]]);
  assert.equal(await due(ask, [], of), undefined);
});

test("a trend is a straight line by least squares, or none", () => {
  const series = { name: "ph", label: "pH", as: "", symbol: "", limits: [] };
  const says = (...values: number[]): string => say(series, values.map((value, i) => ({ at: `2026-06-0${i + 1}T07:00:00Z`, value })));
  assert.match(says(1, 3, 2, 4, 3.9), /rises from 1\.4 to 4\.1 in 4 days\.$/); // by hand: slope 0.68 a day, 2.78 in the middle: 1.42 to 4.14
  assert.match(says(8, 8, 8), /the same\.$/);
  assert.match(says(1, 5, 1, 5, 1), /No clear trend/);
  assert.match(says(8, 9), /Too few readings/);
});

test("a reading in words says how the kit counted, where it matters", () => {
  const r = { ...reading("2026-06-01T07:05:00Z", { tan: 0.5, kh: 3 }), choices: { "kh-unit": "german", fish: "gasping" }, note: "rain" };
  assert.equal(summary(r, of), "Ammonia 0.5\u00a0mg/L · KH 3 German degrees · The fish: gasp · “rain”");
});
