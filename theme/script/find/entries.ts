// All that can be found: titles, headings, captions and sentences, by the words
// that they hold.
import type { Index, Leaf } from "./index";
import { Vocabulary } from "./vocabulary";
import { wordsOf } from "./words";

export interface Entry {
  leaf: number;
  section: number;
  shown: string; // what a result shows
  weight: number;
  size: number; // count of words
  above: number; // entry of the heading above it, or of the title
}

export const weights = { urgent: 1.7, title: 1.6, calculator: 1.5, heading: 1.2, sentence: 1 };
const pressing = 1.15; // how much more a page is worth to which the cover leads a reader in need

export class Entries {
  readonly list: Entry[] = [];
  readonly titles: number[] = []; // entry of each page's title
  private readonly postings: number[][] = []; // entries by the number of a word

  constructor(
    index: Index,
    private readonly vocabulary: Vocabulary,
  ) {
    const path = (to: string): string => to.replace(/#.*/, "");
    const inNeed = new Set(index.leaves.filter((leaf) => leaf.k === "urgent").map((leaf) => path(leaf.to)));
    index.leaves.forEach((leaf, i) => this.takeLeaf(leaf, i, leaf.k !== "urgent" && inNeed.has(path(leaf.to)) ? pressing : 1));
  }

  // having lists the entries that hold a word, by its number.
  having(word: number): readonly number[] {
    return this.postings[word] ?? [];
  }

  private takeLeaf(leaf: Leaf, i: number, worth: number): void {
    const first = leaf.in?.[0]?.s?.[0] ?? "";
    const title = this.add(i, 0, [leaf.t, ...(leaf.o ?? []), leaf.r ?? ""].join(" "), first, leaf.k === "urgent" || leaf.k === "calculator" ? weights[leaf.k] : weights.title);
    this.titles.push(title);
    leaf.in?.forEach((section, j) => {
      const under = section.h ? this.add(i, j, section.h, section.s?.[0] ?? "", weights.heading, title) : title;
      for (const c of section.c ?? []) this.add(i, j, c, c, weights.heading, under);
      for (const s of section.s ?? []) this.add(i, j, s, s, worth * weights.sentence, under);
    });
  }

  private add(leaf: number, section: number, text: string, shown: string, weight: number, above = this.list.length): number {
    const words = wordsOf(text);
    const n = this.list.push({ leaf, section, shown, weight, size: words.length, above }) - 1;
    for (const w of words) {
      const list = (this.postings[this.vocabulary.take(w)] ??= []);
      if (list.at(-1) !== n) list.push(n);
    }
    return n;
  }
}
