// Words, as a text has them and as the index knows them.

export const longest = 40; // letters of a word whose spelling is forgiven

// split returns the words of a text as they stand there, with what is between
// them: words at odd places.
export const split = (text: string): string[] => text.split(/([\p{L}\p{N}\p{M}]+)/u);

// word writes a word as the index knows it: small letters, no accents, "nh3".
export const word = (text: string): string => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();

export const wordsOf = (text: string): string[] => split(text).filter((_, i) => i % 2 === 1).map(word);

// anchor names a heading in an address as the Go function page.Anchor does.
export const anchor = (heading: string): string =>
  heading.toLowerCase().replace(/['’]/g, "").replace(/[^\p{L}\p{Nd}]+/gu, "-").replace(/^-|-$/g, "");

// distance counts the letters to change, put in, leave out or swap to get from
// one word to the other (the optimal string alignment distance), or if open to the
// beginning of it; more than most is told as more. The three rows that it fills are
// the caller's, because it is asked thousands of times for one key.
export function distance(from: string, to: string, most: number, open: boolean, rows: Uint8Array[]): number {
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
