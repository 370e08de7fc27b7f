// Tests of whose the numbers of a pad are, and of the pond record behind them, without
// a page; TestScripts runs them.
import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";
import { storage } from "./kept";
import { Yours, type Box, type Limits } from "../reckon/yours";
import { found, known, readable, strange, type Asked } from "../record/asked";
import { begin, erase, keep, look, parse, problem, unread, write } from "../record/kept";
import type { Ask } from "../module/load";

interface Fake extends Box {
  text: string;
  from: string;
  here: boolean; // the reader is in it
}

function box(name: string, text = "", once: string[] = []): Fake {
  const made: Fake = {
    name, text, from: "", here: false, keys: [name, ...once], label: `The ${name}`,
    hidden: () => false, active: () => made.here, said: () => made.text, offers: () => true,
    fill: (now) => void (made.text = now), state: () => undefined, mark: (from) => void (made.from = from),
  };
  return made;
}
const takesAll: Limits = async () => new Map();
const kept = (name: string): string | undefined => look().get(name)?.text;
function type(own: Yours, box: Fake, text: string): void {
  box.text = text;
  own.typed(box);
}

begin("test");
beforeEach(() => {
  storage.full = false;
  storage.clear();
  look();
});

test("the record fills a pad, under its name of today or an earlier one", async () => {
  keep("volume", "9100 L");
  keep("old-depth", "1.2 m");
  const [volume, depth, flow] = [box("volume", "5000 L"), box("depth", "1 m", ["old-depth"]), box("flow", "3000 L/h")];
  const own = new Yours([volume, depth, flow], [], "tower", takesAll);
  assert.equal(await own.renew(), true);
  assert.deepEqual([volume.text, depth.text, flow.text, volume.from], ["9100 L", "1.2 m", "3000 L/h", "yours, today"]);
  assert.equal(own.whose(), "Your pond's numbers are marked ✓. Still from the worked example: The flow. ");
  assert.equal(await own.renew(), false);
});

test("a link, and the field that is typed into, are left alone", async () => {
  keep("volume", "9100 L");
  keep("flow", "4000 L/h");
  const [volume, flow] = [box("volume", "5000 L"), box("flow", "3000 L/h")];
  const own = new Yours([volume, flow], [volume], "tower", takesAll);
  flow.here = true;
  assert.equal(await own.renew(), false);
  assert.deepEqual([volume.text, volume.from, flow.text], ["5000 L", "from the link", "3000 L/h"]);
  assert.match(own.whose(), /^The link's numbers are marked/);
});

test("what is typed is kept once it is answered; what is refused is not", async () => {
  keep("volume", "9100 L");
  const volume = box("volume", "9100 L");
  const own = new Yours([volume], [], "tower", takesAll);
  await own.renew();
  type(own, volume, "7");
  own.settle(new Set());
  assert.equal(kept("volume"), "7");
  type(own, volume, "74 moons");
  own.settle(new Set([volume]));
  assert.equal(kept("volume"), "9100 L"); // and not the "7" on the way there
  assert.match(own.keeping(), /What is refused is not kept/);
  type(own, volume, "74 m3");
  own.settle(new Set());
  assert.deepEqual([kept("volume"), volume.from], ["74 m3", "yours, today"]);
});

test("what was typed and not answered yet is kept as the leaf is left", () => {
  const volume = box("volume");
  const own = new Yours([volume], [], "tower", takesAll);
  type(own, volume, "80 L");
  own.leave();
  assert.equal(kept("volume"), "80 L");
});

test("a full store is said, and the field keeps what was typed", async () => {
  const volume = box("volume");
  const own = new Yours([volume], [], "tower", takesAll);
  storage.full = true;
  type(own, volume, "80 L");
  own.settle(new Set());
  assert.deepEqual([volume.from, own.keeping()], ["yours, not kept", problem()]);
  await own.renew();
  assert.equal(volume.text, "80 L");
});

test("what the calculator would refuse is left out; what all would goes", async () => {
  keep("volume", "9100 L");
  keep("flow", "much");
  const [volume, flow] = [box("volume"), box("flow")];
  const refuses: Limits = async (of, values) => new Map(values.flatMap(([name, text]) => (of === "" ? text === "much" : true) ? [[name, `is ${text}`]] : []));
  const own = new Yours([volume, flow], [], "tower", refuses);
  assert.equal(await own.renew(), false);
  assert.deepEqual([volume.text, kept("volume"), kept("flow")], ["", "9100 L", undefined]);
  assert.match(own.keeping(), /Left out: what was kept of “The volume” is 9100 L/);
});

test("a ready scenario is not the reader's, and the record stays", async () => {
  keep("volume", "9100 L");
  const volume = box("volume");
  const own = new Yours([volume], [], "tower", takesAll);
  await own.renew();
  volume.text = "300 L";
  own.lend("A patio tub", "Small.");
  assert.equal(await own.renew(), false);
  assert.deepEqual([volume.text, kept("volume"), own.whose()], ["300 L", "9100 L", "A patio tub. Small. "]);
  assert.match(own.keeping(), /Your own numbers are still kept/);
});

test("a record that cannot be read is put aside, never overwritten; a newer one not even that", () => {
  storage.setItem("pond record test", "{broken");
  assert.match(problem() || (look(), problem()), /cannot be read\. It is not lost/);
  assert.equal(keep("volume", "1 L"), true);
  assert.deepEqual([unread(), kept("volume")], [["{broken"], "1 L"]);
  storage.setItem("pond record test", '{"pond record": 2, "facts": {}}');
  assert.equal(keep("volume", "2 L"), false);
  assert.match(problem(), /newer edition/);
  assert.equal(unread().length, 2);
  erase();
  assert.deepEqual([unread(), look().size], [[], 0]);
});

const asked: Asked[] = [
  { key: "volume", once: ["water"], label: "Water", choice: false, options: new Map() },
  { key: "kh-kit", once: [], label: "KH", choice: true, options: new Map([["german", "German degrees"]]) },
  { key: "fish", once: [], label: "Fish", choice: false, options: new Map([["koi", "koi, all kinds"]]) },
];

test("of a record this edition takes what its calculators ask for and accept", async () => {
  const ask: Ask = async () => ({ ok: false, html: "", errors: [{ input: "volume", text: "is too much" }] });
  const facts = new Map(Object.entries({ volume: "9e9 L", "kh-kit": "scottish", fish: "koi, 40 cm, 3", moat: "1 m", "": "x" }).map(([k, text]) => [k, { text, typed: "" }]));
  const sound = await known({ facts, left: ["a: is not text in quotes"] }, asked, async () => ask);
  assert.deepEqual([...sound.facts.keys()], ["fish"]);
  assert.deepEqual(sound.left, ["a: is not text in quotes", "kh-kit: “scottish” is none of german", "moat: no calculator of this edition asks for it", ": no calculator of this edition asks for it", "volume: is too much"]);
  assert.deepEqual(strange(facts, asked), ["moat", ""]);
});

test("a fact reads as its field shows it", () => {
  assert.equal(readable("koi, 40 cm, 3; tench, 20 cm, 1", asked[2]!, new Map([["cm", "cm"]])), "koi, all kinds, 40\u00a0cm, 3\ntench, 20\u00a0cm, 1");
  assert.equal(readable("2000 [gal_us]", asked[0]!, new Map([["[gal_us]", "gal (US)"]])), "2000\u00a0gal (US)");
  assert.equal(readable("", asked[0]!, new Map()), "left empty");
  assert.equal(found(new Map([["water", { text: "1 L", typed: "" }]]), asked[0]!)?.text, "1 L");
});

test("a record is written and read back, the same in any order", () => {
  const facts = new Map([["volume", { text: "9100 L", typed: "2026-06-01" }], ["depth", { text: "", typed: "" }]]);
  assert.deepEqual(parse(write(facts)).facts, new Map([...facts].sort()));
  assert.equal(write(facts), write(new Map([...facts].reverse())));
});
