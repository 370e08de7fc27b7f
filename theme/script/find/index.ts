// The index of words that the Go package internal/search makes.

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
