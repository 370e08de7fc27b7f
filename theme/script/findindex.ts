// Looks for words in the index that the Go package internal/search makes: what it
// holds, how it is searched, and what comes first. It knows nothing of the page.

export interface Index {
  leaves: Leaf[];
  folds: [before: string, from: string, to: string, after: string][];
  stems: [cut: number, add: string, words: string][];
}

export interface Leaf {
  k?: "urgent" | "term" | "calculator" | "part" | "tool"; // none for a chapter
  to: string; // its place, perhaps with #anchor
  t: string; // title
  r?: string; // "W 3"
  p?: string; // letter of the part
  o?: string[]; // other names
  in?: Section[];
}

interface Section {
  h?: string; // heading
  c?: string[]; // captions
  s?: string[]; // sentences
}

export interface Found {
  leaf: Leaf;
  heading: string; // "" above the first
  to: string;
  text: string; // the sentence
  marked: (word: string) => boolean; // whether a word of it was looked for
}

export interface Outcome {
  found: Found[];
  unknown: string[]; // what the reader typed that no leaf has
}

// An entry is what can be found: a title, a heading, a caption or a sentence.
interface Entry {
  leaf: number;
  section: number;
  text: string; // in which words are looked for
  shown: string; // what a result shows
  weight: number;
  size: number; // count of words
}

type Hits = Map<number, number>; // how well a word fits, from 0 to 1, by its number

const weights = { urgent: 1.7, title: 1.6, calculator: 1.5, heading: 1.2, sentence: 1 };
const pressing = 1.15; // how much more a leaf is worth to which the cover leads a reader in need
const named = 1.5; // how much more a title is worth that says just what was typed,
const begun = 1.2; // or begins with the first word typed
const otherName = { main: 0.85, other: 0.62 }; // worth of what is found by another name
const longest = 40; // letters of a word whose spelling is forgiven
const perLeaf = 4; // so many places of one leaf are enough

// split returns the words of a text as they stand there, with what is between
// them: words at odd places.
export const split = (text: string): string[] => text.split(/([\p{L}\p{N}\p{M}]+)/u);

// word writes a word as the index knows it: small letters, no accents, "nh3".
export const word = (text: string): string => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

const wordsOf = (text: string): string[] => split(text).filter((_, i) => i % 2 === 1).map(word);

// anchor names a heading in an address as the Go function page.Anchor does.
export const anchor = (heading: string): string =>
  heading.toLowerCase().replace(/['’]/g, "").replace(/[^\p{L}\p{Nd}]+/gu, "-").replace(/^-|-$/g, "");

export function prepare(index: Index): (query: string) => Outcome {
  const folds = index.folds.map(([before, from, to, after]) => ({ pattern: new RegExp(`(${before})${from}(${after})`), to }));
  const fold = (w: string): string => folds.reduce((w, f) => w.replace(f.pattern, `$1${f.to}$2`), w);
  const stems = new Map<string, string>();
  for (const [cut, add, words] of index.stems) {
    for (const w of words.split(" ")) stems.set(w, w.slice(0, w.length - cut) + add);
  }

  const entries: Entry[] = [];
  const titles: number[] = []; // entry of each leaf's title
  const headings: number[] = []; // entry of the heading above an entry, or of the title
  const numbers = new Map<string, number>(); // of each word
  const vocabulary: string[] = [];
  const postings: number[][] = []; // entries by the number of a word
  const byKey = new Map<string, number[]>(); // words by their stem

  function keyOf(w: string): string {
    const folded = fold(w);
    return stems.get(folded) ?? folded;
  }

  function numberOf(w: string): number {
    let n = numbers.get(w);
    if (n === undefined) {
      n = vocabulary.length;
      numbers.set(w, n);
      vocabulary.push(w);
      postings.push([]);
      const key = keyOf(w);
      const same = byKey.get(key);
      if (same) same.push(n);
      else byKey.set(key, [n]);
    }
    return n;
  }

  function add(leaf: number, section: number, text: string, shown: string, weight: number, under = entries.length): number {
    const words = wordsOf(text);
    const n = entries.length;
    entries.push({ leaf, section, text, shown, weight, size: words.length });
    headings.push(under);
    for (const w of words) {
      const list = postings[numberOf(w)]!;
      if (list.at(-1) !== n) list.push(n);
    }
    return n;
  }

  const path = (to: string): string => to.replace(/#.*/, "");
  const inNeed = new Set(index.leaves.filter((leaf) => leaf.k === "urgent").map((leaf) => path(leaf.to)));
  index.leaves.forEach((leaf, i) => {
    const worth = leaf.k !== "urgent" && inNeed.has(path(leaf.to)) ? pressing : 1;
    const first = leaf.in?.[0]?.s?.[0] ?? "";
    const title = add(i, 0, [leaf.t, ...(leaf.o ?? []), leaf.r ?? ""].join(" "), first, leaf.k === "urgent" || leaf.k === "calculator" ? weights[leaf.k] : weights.title);
    titles.push(title);
    leaf.in?.forEach((section, j) => {
      const under = section.h ? add(i, j, section.h, section.s?.[0] ?? "", weights.heading, title) : title;
      for (const c of section.c ?? []) add(i, j, c, c, weights.heading, under);
      for (const s of section.s ?? []) add(i, j, s, s, worth * weights.sentence, under);
    });
  });

  // The names of each leaf, the main one first, as words and as stems: "carbon
  // hard".
  const names = index.leaves.map((leaf) => [leaf.t, ...(leaf.o ?? [])].map(wordsOf));
  const nameKeys = names.map((group) => group.map((name) => name.map(keyOf).join(" ")));
  const groups = [...names.keys()].filter((i) => index.leaves[i]!.k === "term" && index.leaves[i]!.o);

  // phrases returns what was typed, and the same with other names for its terms,
  // each with its worth.
  function phrases(typed: string[]): { words: string[]; worth: number }[] {
    const all = [{ words: typed, worth: 1 }];
    const stemmed = typed.map(keyOf);
    for (let from = 0; from < typed.length; from++) {
      for (let to = from + 1; to <= Math.min(typed.length, from + 4); to++) {
        const name = stemmed.slice(from, to).join(" ");
        for (const g of groups) {
          const group = nameKeys[g]!;
          if (!group.includes(name)) continue;
          names[g]!.forEach((other, i) => {
            if (group[i] === name || all.length === 6) return;
            all.push({ words: [...typed.slice(0, from), ...other, ...typed.slice(to)], worth: i === 0 ? otherName.main : otherName.other });
          });
        }
      }
    }
    return all;
  }

  // hits returns the words that a typed one may mean. open: it may go on.
  function hits(w: string, open: boolean): Hits {
    const all: Hits = new Map();
    const take = (n: number, quality: number): void => {
      if (quality > (all.get(n) ?? 0)) all.set(n, quality);
    };
    for (const n of byKey.get(keyOf(w)) ?? []) take(n, 1);
    if (open && w.length > 1) {
      const folded = fold(w);
      vocabulary.forEach((v, n) => {
        if (v.startsWith(w) || v.startsWith(folded)) take(n, 0.55 + (0.35 * w.length) / v.length);
      });
    }
    if (all.size > 0 || w.length < 4 || w.length > longest || /\d/.test(w)) return all;
    // An ending that the handbook does not have: "gasped", where it says "gasps".
    for (let end = w.length - 1; end >= Math.max(4, w.length - 4) && all.size === 0; end--) {
      for (const n of byKey.get(w.slice(0, end)) ?? []) take(n, 0.7);
    }
    // A misspelt word: the nearest ones.
    let least = w.length < 8 ? 1 : 2;
    const near: number[] = [];
    vocabulary.forEach((v, n) => {
      if (v.length < w.length - least || (!open && v.length > w.length + least) || v.length > longest) return;
      const d = distance(w, v, least, open, rows);
      if (d < least) near.length = 0;
      if (d <= least) {
        least = d;
        near.push(n);
      }
    });
    for (const n of near) take(n, 0.65 / Math.max(1, least));
    return all;
  }

  const rows = [0, 1, 2].map(() => new Uint8Array(longest + 1));

  // Buffers by entry, one a word typed, are kept from key to key.
  const buffers: Float32Array[] = [];

  interface Scored {
    entry: number;
    score: number;
    covered: number;
    marks: Set<number>;
  }

  function score(typed: string[], meant: Map<string, Hits>, into: Map<number, Scored>, worth: number): void {
    const words = [...new Set(typed)].filter((w) => meant.get(w)!.size > 0);
    const touched = new Set<number>();
    const rarity: number[] = [];
    words.forEach((w, t) => {
      const fits = (buffers[t] ??= new Float32Array(entries.length)).fill(0);
      let count = 0;
      for (const [n, quality] of meant.get(w)!) {
        for (const e of postings[n]!) {
          if (fits[e] === 0) count++;
          if (quality > fits[e]!) fits[e] = quality;
        }
      }
      rarity.push(Math.log(1 + entries.length / Math.max(1, count)) ** 2);
    });
    const total = rarity.reduce((a, b) => a + b, 0);
    // What is common alone, such as "the", makes no candidate.
    const telling = rarity.map((r) => r > 0.2 * Math.max(...rarity));
    const whole = typed.map(keyOf).join(" ");
    const begins = new Set<number | undefined>(meant.get(typed[0]!)!.keys());
    const marks = new Set(words.flatMap((w, t) => (telling[t] ? [...meant.get(w)!.keys()] : [])));
    words.forEach((w, t) => {
      if (telling[t]) for (const n of meant.get(w)!.keys()) for (const e of postings[n]!) touched.add(e);
    });
    for (const e of touched) {
      const entry = entries[e]!;
      const [above, title] = [headings[e]!, titles[entry.leaf]!];
      let [own, around] = [0, 0];
      let count = 0;
      for (let t = 0; t < words.length; t++) {
        const fits = buffers[t]!;
        if (fits[e]! > 0) count++;
        own += rarity[t]! * fits[e]!;
        around += rarity[t]! * Math.max(fits[e]!, 0.7 * fits[above]!, 0.6 * fits[title]!);
      }
      const covered = around / total;
      const brief = entry.weight >= weights.heading ? 0.8 + (0.2 * count) / entry.size : 1 - Math.min(0.15, entry.size / 200);
      const apt = e !== title ? 1 : nameKeys[entry.leaf]!.includes(whole) ? named : begins.has(numbers.get(names[entry.leaf]![0]![0]!)) ? begun : 1;
      const reached = worth * (0.75 * covered + (0.25 * own) / total) * entry.weight * brief * apt;
      if (reached > (into.get(e)?.score ?? 0)) into.set(e, { entry: e, score: reached, covered: worth * covered, marks });
    }
  }

  return (query) => {
    const typed = wordsOf(query);
    const last = /[\p{L}\p{N}]$/u.test(query) ? typed.at(-1) : undefined;
    const meant = new Map<string, Hits>();
    const understand = (w: string): Hits => {
      let h = meant.get(w);
      if (!h) meant.set(w, (h = hits(w, w === last)));
      return h;
    };
    const unknown = typed.filter((w) => understand(w).size === 0);
    const all = new Map<number, Scored>();
    if (typed.join("").length > 1) {
      for (const { words, worth } of phrases(typed)) {
        words.forEach(understand);
        score(words, meant, all, worth);
      }
    }
    let most = 0;
    for (const s of all.values()) most = Math.max(most, s.covered);
    const best = [...all.values()].filter((s) => s.covered > 0.6 * most).sort((a, b) => b.score - a.score || a.entry - b.entry);
    return { found: choose(best), unknown };
  };

  // choose takes each place and each sentence once.
  function choose(best: Scored[]): Found[] {
    const of = new Map<number, number>();
    const seen = new Set<string>();
    const found: Found[] = [];
    for (const { entry, marks } of best) {
      const { leaf: i, section, shown } = entries[entry]!;
      const leaf = index.leaves[i]!;
      const count = of.get(i) ?? 0;
      const heading = leaf.in?.[section]?.h ?? "";
      const to = heading ? `${leaf.to}#${anchor(heading)}` : leaf.to;
      const once = `${i} ${section} ${shown}`;
      if (count === perLeaf || seen.has(once)) continue;
      of.set(i, count + 1);
      seen.add(once);
      found.push({ leaf, heading, to, text: shown, marked: (w) => marks.has(numbers.get(word(w)) ?? -1) });
    }
    return found;
  }
}

// distance counts the letters to change, put in, leave out or swap to get from
// one word to the other, or if open to the beginning of it; more than most is
// told as more. The three rows that it fills are the caller's, because it is
// asked thousands of times for one key.
function distance(from: string, to: string, most: number, open: boolean, rows: Uint8Array[]): number {
  let [before, row, next] = rows as [Uint8Array, Uint8Array, Uint8Array];
  for (let j = 0; j <= to.length; j++) row[j] = j;
  for (let i = 1; i <= from.length; i++) {
    let least = (next[0] = i);
    for (let j = 1; j <= to.length; j++) {
      let d = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (from[i - 1] === to[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1]) d = Math.min(d, before[j - 2]! + 1);
      next[j] = d;
      if (d < least) least = d;
    }
    if (least > most) return most + 1;
    [before, row, next] = [row, next, before];
  }
  return open ? Math.min(...row.subarray(0, to.length + 1)) : row[to.length]!;
}
