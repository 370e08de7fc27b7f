// The pond record: what a reader has typed into calculators, by fact ("volume")
// or by calculator and input ("free-ammonia.tan"). It is kept in this browser
// only, read anew for each use, because other tabs write it too, and never
// written over while it cannot be read.

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

// Unreadable says in a sentence's end why a text is no record: "is …".
export class Unreadable extends Error {
  newer = false;
}

let key = "pond record";
let unreadable = ""; // why nothing is read
let unwritten = ""; // why what was typed last is not kept
const watchers = new Set<() => void>();
const leavers = new Set<() => void>();

// begin names the handbook by the path of its site: several may share a host.
export function begin(site: string): void {
  key = `pond record ${site}`;
  window.addEventListener("storage", (e) => {
    if (e.key === key || e.key === null) tell();
  });
  window.addEventListener("pageshow", (e) => {
    if (e.persisted) tell(); // a leaf that slept heard nothing of other leaves
  });
  window.addEventListener("pagehide", () => leavers.forEach((leave) => leave()));
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
  if (by > version) {
    const reason = new Unreadable("comes from a newer edition of this handbook than this leaf");
    reason.newer = true;
    throw reason;
  }
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
export function look(): Facts {
  return read().facts;
}

// read tells "there is none" from "it cannot be read", which must not be
// overwritten.
function read(): { facts: Facts; unread?: Unreadable; text: string } {
  const none: Facts = new Map();
  let text: string | null;
  try {
    text = localStorage.getItem(key);
  } catch {
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

// keep writes one fact into what is kept now. It reports whether that worked.
export function keep(name: string, text: string): boolean {
  const { facts, unread, text: broken } = read();
  if (unread && (unread.newer || !putAside(broken))) return false;
  return store(facts.set(name, { text, typed: today() }));
}

// drop takes one fact out of what is kept, if it still says the text, and puts back
// what stood there before, if anything did.
export function drop(name: string, text: string, before?: Entry): boolean {
  const { facts, unread } = read();
  if (unread || facts.get(name)?.text !== text) return false;
  if (before) facts.set(name, before);
  else facts.delete(name);
  return store(facts);
}

// replace puts other facts in the place of all that are kept.
export function replace(facts: Facts): boolean {
  const { unread, text } = read();
  if (unread && (unread.newer || !putAside(text))) return false;
  return store(facts);
}

function store(facts: Facts): boolean {
  return attempt(() => {
    localStorage.setItem(key, write(facts));
  });
}

function putAside(text: string): boolean {
  return attempt(() => {
    let n = 1;
    while (localStorage.getItem(asideKey(n)) !== null) n++;
    localStorage.setItem(asideKey(n), text);
  });
}

function attempt(change: () => void): boolean {
  try {
    change();
    unwritten = "";
  } catch {
    unwritten = "This browser has no room left, or refuses to keep anything: what you type now is gone when you leave the leaf.";
    return false;
  }
  tell();
  return true;
}

function asideKey(n: number): string {
  return `${key} aside ${n}`;
}

// unread returns the texts that could not be read as records.
export function unread(): string[] {
  const texts: string[] = [];
  const now = read();
  if (now.unread) texts.push(now.text);
  try {
    for (let n = 1; ; n++) {
      const text = localStorage.getItem(asideKey(n));
      if (text === null) return texts;
      texts.push(text);
    }
  } catch {
    return texts;
  }
}

// erase takes all of it out of this browser, what was put aside too.
export function erase(): boolean {
  return attempt(() => {
    for (let n = 1; localStorage.getItem(asideKey(n)) !== null; n++) localStorage.removeItem(asideKey(n));
    localStorage.removeItem(key);
  });
}

// today is the reader's day, not Greenwich's.
export function today(): string {
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

// day prints a day as the reader's language does.
export function day(typed: string): string {
  if (typed === today()) return "today";
  return new Date(`${typed}T12:00`).toLocaleDateString(document.documentElement.lang, { day: "numeric", month: "long", year: "numeric" });
}
