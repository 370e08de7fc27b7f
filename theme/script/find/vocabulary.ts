// The words of the index by number, and which of them a typed word may mean.
import type { Index } from "./index";
import { distance, longest } from "./words";

export type Hits = Map<number, number>; // how well a word fits, from 0 to 1, by its number

export class Vocabulary {
  private readonly folds: { pattern: RegExp; to: string }[];
  private readonly stems = new Map<string, string>();
  private readonly numbers = new Map<string, number>();
  private readonly words: string[] = [];
  private readonly byKey = new Map<string, number[]>(); // words by their stem
  private readonly rows = [0, 1, 2].map(() => new Uint8Array(longest + 1)); // of distance

  constructor(index: Pick<Index, "folds" | "stems">) {
    this.folds = index.folds.map(([before, from, to, after]) => ({ pattern: new RegExp(`(${before})${from}(${after})`), to }));
    for (const [cut, add, words] of index.stems) {
      for (const w of words.split(" ")) this.stems.set(w, w.slice(0, w.length - cut) + add);
    }
  }

  // find is a word's number, if any text has it.
  find(w: string): number | undefined {
    return this.numbers.get(w);
  }

  // take is the number of a word that a text has.
  take(w: string): number {
    const known = this.numbers.get(w);
    if (known !== undefined) return known;
    const n = this.words.push(w) - 1;
    this.numbers.set(w, n);
    const key = this.keyOf(w);
    const same = this.byKey.get(key);
    if (same) same.push(n);
    else this.byKey.set(key, [n]);
    return n;
  }

  // keyOf is the stem of a word, by which forms of it are one.
  keyOf(w: string): string {
    const folded = this.fold(w);
    return this.stems.get(folded) ?? folded;
  }

  // hits returns the words that a typed one may mean. open: it may go on.
  hits(w: string, open: boolean): Hits {
    const all: Hits = new Map();
    for (const n of this.byKey.get(this.keyOf(w)) ?? []) all.set(n, 1);
    if (open && w.length > 1) this.begun(w, all);
    if (all.size > 0 || w.length < 4 || w.length > longest || /\d/.test(w)) return all;
    // An ending that the handbook does not have: "gasped", where it says "gasps".
    for (let end = w.length - 1; end >= Math.max(4, w.length - 4) && all.size === 0; end--) {
      for (const n of this.byKey.get(w.slice(0, end)) ?? []) all.set(n, 0.7);
    }
    this.misspelt(w, open, all);
    return all;
  }

  private fold(w: string): string {
    return this.folds.reduce((w, f) => w.replace(f.pattern, `$1${f.to}$2`), w);
  }

  // begun adds the words that begin with what is typed.
  private begun(w: string, all: Hits): void {
    const folded = this.fold(w);
    this.words.forEach((v, n) => {
      if (v.startsWith(w) || v.startsWith(folded)) better(all, n, 0.55 + (0.35 * w.length) / v.length);
    });
  }

  // misspelt adds the nearest words, all that are equally near.
  private misspelt(w: string, open: boolean, all: Hits): void {
    let least = w.length < 8 ? 1 : 2;
    const near: number[] = [];
    this.words.forEach((v, n) => {
      if (v.length < w.length - least || (!open && v.length > w.length + least) || v.length > longest) return;
      const d = distance(w, v, least, open, this.rows);
      if (d < least) near.length = 0;
      if (d > least) return;
      least = d;
      near.push(n);
    });
    for (const n of near) better(all, n, 0.65 / Math.max(1, least));
  }
}

function better(all: Hits, n: number, quality: number): void {
  if (quality > (all.get(n) ?? 0)) all.set(n, quality);
}
