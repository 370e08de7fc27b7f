// Looks for words in the index that the Go package internal/search makes: what it
// holds, how it is searched, and what comes first. It knows nothing of the page.
import { Entries } from "./entries";
import type { Index, Leaf } from "./index";
import { Names } from "./names";
import { Ranking, type Scored } from "./rank";
import { Vocabulary, type Hits } from "./vocabulary";
import { anchor, word, wordsOf } from "./words";

export interface Found {
  leaf: Leaf;
  heading: string; // "" above the first
  to: string;
  text: string; // the sentence
  marked: (word: string) => boolean; // whether a word of it was looked for
}

export interface Outcome {
  found: Found[];
  unknown: string[]; // what the reader typed that no page has
}

const perLeaf = 4; // so many places of one page are enough

// prepare reads the index and returns what looks in it.
export function prepare(index: Index): (query: string) => Outcome {
  const vocabulary = new Vocabulary(index);
  const entries = new Entries(index, vocabulary);
  const names = new Names(index, vocabulary);
  const ranking = new Ranking(entries, vocabulary, names);
  return (query) => {
    const typed = wordsOf(query);
    const last = /[\p{L}\p{N}]$/u.test(query) ? typed.at(-1) : undefined;
    const meant = new Map<string, Hits>();
    const understand = (w: string): Hits => {
      const hits = meant.get(w) ?? vocabulary.hits(w, w === last);
      meant.set(w, hits);
      return hits;
    };
    const unknown = typed.filter((w) => understand(w).size === 0);
    const all = new Map<number, Scored>();
    for (const { words, worth } of typed.join("").length > 1 ? names.phrases(typed) : []) {
      words.forEach(understand);
      ranking.score(words, meant, worth, all);
    }
    return { found: choose(best(all), index, entries, vocabulary), unknown };
  };
}

// best puts what answers most of the question into order.
function best(all: Map<number, Scored>): Scored[] {
  let most = 0;
  for (const s of all.values()) most = Math.max(most, s.covered);
  return [...all.values()].filter((s) => s.covered > 0.6 * most).sort((a, b) => b.score - a.score || a.entry - b.entry);
}

// choose takes each place and each sentence once.
function choose(best: Scored[], index: Index, entries: Entries, vocabulary: Vocabulary): Found[] {
  const count = new Map<number, number>(); // by page
  const seen = new Set<string>();
  const found: Found[] = [];
  for (const { entry, marks } of best) {
    const { leaf: i, section, shown } = entries.list[entry]!;
    const leaf = index.leaves[i]!;
    const before = count.get(i) ?? 0;
    const once = `${i} ${section} ${shown}`;
    if (before === perLeaf || seen.has(once)) continue;
    count.set(i, before + 1);
    seen.add(once);
    const heading = leaf.in?.[section]?.h ?? "";
    found.push({ leaf, heading, to: heading ? `${leaf.to}#${anchor(heading)}` : leaf.to, text: shown, marked: (w) => marks.has(vocabulary.find(word(w)) ?? -1) });
  }
  return found;
}
