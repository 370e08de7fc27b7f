// The names of pages and terms, and what was typed with other names in its place.
import type { Index } from "./index";
import type { Vocabulary } from "./vocabulary";
import { wordsOf } from "./words";

const otherName = { main: 0.85, other: 0.62 }; // worth of what is found by another name
const mostPhrases = 6;
const longestName = 4; // words

export interface Phrase {
  words: string[];
  worth: number;
}

export class Names {
  // The names of each page, the main one first, as words and as stems: "carbon
  // hard".
  readonly words: string[][][];
  readonly keys: string[][];
  private readonly terms: number[]; // those with other names

  constructor(
    index: Index,
    private readonly vocabulary: Vocabulary,
  ) {
    this.words = index.leaves.map((leaf) => [leaf.t, ...(leaf.o ?? [])].map(wordsOf));
    this.keys = this.words.map((group) => group.map((name) => this.key(name)));
    this.terms = [...this.words.keys()].filter((i) => index.leaves[i]!.k === "term" && index.leaves[i]!.o);
  }

  // phrases returns what was typed, and the same with other names for its terms,
  // each with its worth.
  phrases(typed: string[]): Phrase[] {
    const all: Phrase[] = [{ words: typed, worth: 1 }];
    for (let from = 0; from < typed.length; from++) {
      for (let to = from + 1; to <= Math.min(typed.length, from + longestName); to++) {
        const name = this.key(typed.slice(from, to));
        for (const term of this.terms) {
          if (!this.keys[term]!.includes(name)) continue;
          this.words[term]!.forEach((other, i) => {
            if (this.keys[term]![i] === name || all.length === mostPhrases) return;
            all.push({ words: [...typed.slice(0, from), ...other, ...typed.slice(to)], worth: i === 0 ? otherName.main : otherName.other });
          });
        }
      }
    }
    return all;
  }

  private key(name: string[]): string {
    return name.map((w) => this.vocabulary.keyOf(w)).join(" ");
  }
}
