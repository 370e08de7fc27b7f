// Tests of what looks in the index of words, without a page; TestScripts runs them.
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Index } from "../find/index";
import { prepare } from "../find/search";
import { anchor, distance, word, wordsOf } from "../find/words";

// osa is the optimal string alignment distance by its definition (Boytsov 2011, ACM
// Journal of Experimental Algorithmics 16, section 2.1), one letter at a time.
function osa(a: string, b: string): number {
  if (!a || !b) return a.length + b.length;
  const [restA, restB] = [a.slice(1), b.slice(1)];
  let least = Math.min(osa(restA, b) + 1, osa(a, restB) + 1, osa(restA, restB) + (a[0] === b[0] ? 0 : 1));
  if (a.length > 1 && b.length > 1 && a[0] === b[1] && a[1] === b[0]) least = Math.min(least, osa(a.slice(2), b.slice(2)) + 1);
  return least;
}

test("the distance of two words is that of the definition", () => {
  const rows = [0, 1, 2].map(() => new Uint8Array(41));
  let state = 11;
  const draw = (n: number): number => (state = (state * 48271) % 2147483647) % n;
  const text = (): string => Array.from({ length: draw(6) }, () => "abc"[draw(3)]).join("");
  for (let i = 0; i < 2000; i++) {
    const [a, b] = [text(), text()];
    assert.equal(distance(a, b, 9, false, rows), osa(a, b), `${a} ${b}`);
    const open = Math.min(...Array.from({ length: b.length + 1 }, (_, n) => osa(a, b.slice(0, n))));
    assert.equal(distance(a, b, 9, true, rows), open, `${a} ${b}…`);
  }
});

test("words are found as they are written", () => {
  assert.deepEqual(wordsOf("NH₃, Öl & 0.05 mg/L"), ["nh3", "ol", "0", "05", "mg", "l"]);
  assert.equal(word("Café"), "cafe");
  assert.equal(anchor("What Ines’s tower does, in L/h"), "what-iness-tower-does-in-l-h");
});

const index: Index = {
  leaves: [
    { k: "urgent", to: "water/oxygen.html#now", t: "Fish gasp at the surface" },
    { to: "water/oxygen.html", t: "Oxygen", r: "W 5", p: "W", in: [{ s: ["Air is what fish breathe."] }, { h: "At night", s: ["Plants take oxygen at night."] }] },
    { to: "water/kh.html", t: "Carbonate hardness", r: "W 6", p: "W", in: [{ s: ["It holds the pH."] }] },
    { k: "term", to: "terms.html#kh", t: "KH", o: ["carbonate hardness", "alkalinity"], in: [{ s: ["What holds the pH."] }] },
    { k: "calculator", to: "reckon/oxygen-night.html", t: "Oxygen at dawn", in: [{ s: ["How much oxygen is left at dawn?"] }] },
  ],
  folds: [["^", "ae", "e", ""]],
  stems: [[1, "", "plants breathes nights"]],
};
const find = prepare(index);
const places = (query: string): string[] => find(query).found.map((f) => f.to);

test("what says just what was typed comes first", () => {
  assert.equal(places("oxygen")[0], "water/oxygen.html");
  assert.equal(places("carbonate hardness")[0], "water/kh.html");
});

test("a word is found by its beginning, its forms, and misspelt", () => {
  assert.ok(places("gas").includes("water/oxygen.html#now"));
  assert.ok(places("plant ").includes("water/oxygen.html#at-night"));
  assert.ok(places("oxigen ").includes("water/oxygen.html"));
  assert.ok(places("aelkalinity ").includes("terms.html#kh"));
});

test("another name of a term finds it, for less", () => {
  assert.ok(places("alkalinity ").includes("terms.html#kh"));
  assert.ok(places("alkalinity ").includes("water/kh.html"));
});

test("what no page has is told, and finds nothing", () => {
  assert.deepEqual(find("xylophone "), { found: [], unknown: ["xylophone"] });
  assert.deepEqual(places(""), []);
});

test("the words that were looked for are marked, and no others", () => {
  const night = find("oxygen night ").found.find((f) => f.heading === "At night")!;
  assert.ok(night.marked("Oxygen") && night.marked("night") && !night.marked("Plants"));
});
