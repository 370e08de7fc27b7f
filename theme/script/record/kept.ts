// The pond record: what a reader has typed into calculators, by fact ("volume")
// or by calculator and input ("free-ammonia.tan"). It is kept in this browser
// only, read anew for each use, because other tabs write it too, and never
// written over while it cannot be read.
import { spoken, today } from "../shared/day";
import { store as put, stored } from "../shared/storage";
import { Unreadable } from "../shared/unreadable";

const version = 1;

export interface Entry {
  text: string; // "9100 L"; "" for a field that the reader has emptied
  typed: string; // the day, "2025-07-12"; "" if not known
}

export type Facts = Map<string, Entry>;

export interface Parsed {
  facts: Facts;
  left: string[]; // what of it is no fact, and why
}

let key = "pond record";
let unreadable = ""; // why nothing is read
let unwritten = ""; // why what was typed last is not kept
const watchers = new Set<() => void>();
const leavers = new Set<() => void>();

// begin names the handbook by the path of its site: several may share a host.
export function begin(site: string): void {
  key = `pond record ${site}`;
  addEventListener("storage", (e) => {
    if (e.key === key || e.key === null) tell();
  });
  addEventListener("pageshow", (e) => {
    if (e.persisted) tell(); // a leaf that slept heard nothing of other leaves
  });
  addEventListener("pagehide", () => leavers.forEach((leave) => leave()));
}

// watch calls back whenever the record has changed, in this tab or another.
export function watch(changed: () => void): void {
  watchers.add(changed);
}

// onLeave calls back before the leaf is left.
export function onLeave(leave: () => void): void {
  leavers.add(leave);
}

// forget lets go of all that watch, because the leaf they stood on is gone.
export function forget(): void {
  for (const leave of leavers) leave();
  watchers.clear();
  leavers.clear();
}

function tell(): void {
  for (const changed of watchers) changed();
}

// problem is one plain sentence if the record is not being kept; "" if it is.
export function problem(): string {
  return unreadable || unwritten;
}

export function parse(text: string): Parsed {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    throw new Unreadable("is damaged or no pond record");
  }
  const made = data as { "pond record"?: unknown; facts?: unknown; typed?: unknown } | null;
  const by = made?.["pond record"];
  if (typeof by !== "number" || typeof made?.facts !== "object" || made.facts === null) throw new Unreadable("is no pond record");
  if (by > version) throw new Unreadable("comes from a newer edition of this handbook than this leaf", true);
  const days = new Map(Object.entries(made.typed ?? {}));
  const facts: Facts = new Map();
  const left: string[] = [];
  for (const [name, value] of Object.entries(made.facts)) {
    const day: unknown = days.get(name);
    if (typeof value !== "string") left.push(`${name}: is not text in quotes`);
    else facts.set(name, { text: value, typed: typeof day === "string" && /^\d{4}-\d\d-\d\d$/.test(day) ? day : "" });
  }
  return { facts, left };
}

// write makes the text that parse reads, in the order of names, so that the same
// facts always make the same text.
export function write(facts: Facts, indent = 0): string {
  const sorted = [...facts].sort(([a], [b]) => (a < b ? -1 : 1));
  const typed = sorted.filter(([, e]) => e.typed !== "").map(([name, e]) => [name, e.typed]);
  return JSON.stringify({ "pond record": version, facts: Object.fromEntries(sorted.map(([name, e]) => [name, e.text])), typed: Object.fromEntries(typed) }, null, indent);
}

// look returns what is kept.
export const look = (): Facts => read().facts;

// read tells "there is none" from "it cannot be read", which must not be
// overwritten.
function read(): { facts: Facts; unread?: Unreadable; text: string } {
  const none: Facts = new Map();
  const text = stored(key);
  if (text === undefined) {
    unreadable = "This browser keeps nothing for this handbook: what you type is gone when you leave the leaf.";
    return { facts: none, text: "" };
  }
  try {
    const facts = text === null ? none : parse(text).facts;
    unreadable = "";
    return { facts, text: text ?? "" };
  } catch (reason) {
    const unread = reason instanceof Unreadable ? reason : new Unreadable("cannot be read");
    unreadable = unread.newer
      ? "Your pond record was kept by a newer edition of this handbook. Reload the leaf to get that; until then what you type is not kept."
      : "Your pond record cannot be read. It is not lost: My pond, at the foot of the leaf, has it as a file.";
    return { facts: none, unread, text: text ?? "" };
  }
}

// change puts other facts in the place of those that are kept now. It reports whether
// that worked.
function change(other: (facts: Facts) => Facts): boolean {
  const { facts, unread, text } = read();
  if (unread && (unread.newer || !putAside(text))) return false;
  return store(other(facts));
}

// keep writes one fact into what is kept.
export const keep = (name: string, text: string): boolean => change((facts) => facts.set(name, { text, typed: today() }));

export const replace = (facts: Facts): boolean => change(() => facts);

// drop takes one fact out of what is kept, if it still says the text, and puts back
// what stood there before, if anything did.
export function drop(name: string, text: string, before?: Entry): boolean {
  const { facts, unread } = read();
  if (unread || facts.get(name)?.text !== text) return false;
  if (before) facts.set(name, before);
  else facts.delete(name);
  return store(facts);
}

const store = (facts: Facts): boolean => attempt(() => put(key, write(facts)));

const putAside = (text: string): boolean => attempt(() => put(asideKey(asides().length + 1), text));

function attempt(change: () => boolean): boolean {
  unwritten = change() ? "" : "This browser has no room left, or refuses to keep anything: what you type now is gone when you leave the leaf.";
  if (!unwritten) tell();
  return !unwritten;
}

const asideKey = (n: number): string => `${key} aside ${n}`;

// asides are the texts that were put aside.
function asides(): string[] {
  const texts: string[] = [];
  for (;;) {
    const text = stored(asideKey(texts.length + 1));
    if (typeof text !== "string") return texts;
    texts.push(text);
  }
}

// unread returns the texts that could not be read as records.
export function unread(): string[] {
  const now = read();
  return [...(now.unread ? [now.text] : []), ...asides()];
}

// erase takes all of it out of this browser, what was put aside too.
export function erase(): boolean {
  return attempt(() => [key, ...asides().map((_, i) => asideKey(i + 1))].every((k) => put(k, null)));
}

// day prints a day as the reader's language does.
export function day(typed: string): string {
  return typed === today() ? "today" : spoken(typed, "long");
}
