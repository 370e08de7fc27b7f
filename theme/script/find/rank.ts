// How well entries answer what was typed.
import { weights, type Entries } from "./entries";
import type { Names } from "./names";
import type { Hits, Vocabulary } from "./vocabulary";

export interface Scored {
  entry: number;
  score: number;
  covered: number; // the share of what was typed that it answers
  marks: Set<number>; // words that were looked for
}

const named = 1.5; // how much more a title is worth that says just what was typed,
const begun = 1.2; // or begins with the first word typed

// A question is what was typed, or the same with another name of a term.
interface Question {
  typed: string[];
  words: string[]; // those that some text has, each once
  meant: Map<string, Hits>;
  rarity: number[]; // of the words
  worth: number;
}

export class Ranking {
  // How well each word typed fits each entry; kept from key to key.
  private readonly fits: Float32Array[] = [];

  constructor(
    private readonly entries: Entries,
    private readonly vocabulary: Vocabulary,
    private readonly names: Names,
  ) {}

  // score takes into the list what a question reaches, if it reaches more.
  score(typed: string[], meant: Map<string, Hits>, worth: number, into: Map<number, Scored>): void {
    const words = [...new Set(typed)].filter((w) => meant.get(w)!.size > 0);
    const q: Question = { typed, words, meant, rarity: words.map((w, t) => this.fit(t, meant.get(w)!)), worth };
    // What is common alone, such as "the", makes no candidate.
    const telling = q.words.filter((_, t) => q.rarity[t]! > 0.2 * Math.max(...q.rarity));
    const marks = new Set(telling.flatMap((w) => [...meant.get(w)!.keys()]));
    const touched = new Set([...marks].flatMap((n) => this.entries.having(n)));
    const apt = this.aptness(q);
    for (const e of touched) {
      const { score, covered } = this.reached(e, q, apt(e));
      if (score > (into.get(e)?.score ?? 0)) into.set(e, { entry: e, score, covered: worth * covered, marks });
    }
  }

  // fit notes how well the word typed at place t fits each entry, and returns how
  // rare that is.
  private fit(t: number, hits: Hits): number {
    const fits = (this.fits[t] ??= new Float32Array(this.entries.list.length)).fill(0);
    let count = 0;
    for (const [n, quality] of hits) {
      for (const e of this.entries.having(n)) {
        if (fits[e] === 0) count++;
        if (quality > fits[e]!) fits[e] = quality;
      }
    }
    return Math.log(1 + this.entries.list.length / Math.max(1, count)) ** 2;
  }

  // aptness tells how much more a title is worth.
  private aptness({ typed, meant }: Question): (e: number) => number {
    const whole = typed.map((w) => this.vocabulary.keyOf(w)).join(" ");
    const begins = new Set<number | undefined>(meant.get(typed[0]!)!.keys());
    return (e) => {
      const { leaf } = this.entries.list[e]!;
      if (e !== this.entries.titles[leaf]) return 1;
      if (this.names.keys[leaf]!.includes(whole)) return named;
      return begins.has(this.vocabulary.find(this.names.words[leaf]![0]![0]!)) ? begun : 1;
    };
  }

  private reached(e: number, { words, rarity, worth }: Question, apt: number): { score: number; covered: number } {
    const entry = this.entries.list[e]!;
    const title = this.entries.titles[entry.leaf]!;
    let [own, around, count] = [0, 0, 0];
    for (let t = 0; t < words.length; t++) {
      const fits = this.fits[t]!;
      if (fits[e]! > 0) count++;
      own += rarity[t]! * fits[e]!;
      around += rarity[t]! * Math.max(fits[e]!, 0.7 * fits[entry.above]!, 0.6 * fits[title]!);
    }
    const total = rarity.reduce((a, b) => a + b, 0);
    const brief = entry.weight >= weights.heading ? 0.8 + (0.2 * count) / entry.size : 1 - Math.min(0.15, entry.size / 200);
    const covered = around / total;
    return { score: worth * (0.75 * covered + (0.25 * own) / total) * entry.weight * brief * apt, covered };
  }
}
