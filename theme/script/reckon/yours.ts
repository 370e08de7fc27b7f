// Which fields of a pad hold the reader's own numbers: takes them from the pond
// record as far as the calculator would, keeps what is typed once the calculator
// has taken it, and says so at the field and above the pad.
import { day, drop, keep, look, problem, type Entry, type Facts } from "../record/kept";

// A Box is one input of a pad, as far as it matters whose its number is.
export interface Box {
  readonly name: string; // of the input
  readonly keys: string[]; // in the record: of today, then as earlier editions named it
  readonly label: string;
  hidden(): boolean;
  active(): boolean; // the reader is in it
  said(): string; // what stands in it
  offers(text: string): boolean; // a choice must have it
  fill(text: string): void;
  state(): void; // what stands in it is meant, even if it is the default
  mark(from: string): void; // says behind its help where the number is from
}

// Begun is a field that is being typed into. The digits of a number are kept as they
// come, or whoever went on at once would lose it; but if the whole is refused, the "7"
// of "74" was never meant.
interface Begun {
  before: Entry | undefined; // what was kept until then
  kept: string; // since
}

// Limits returns what a calculator, or if none is named, all that ask for the keys of
// a record, say of the values that they refuse.
export type Limits = (of: string, values: [name: string, text: string][]) => Promise<Map<string, string>>;

const keyOf = (box: Box): string => box.keys[0]!;
const kept = (facts: Facts, { keys }: Box): Entry | undefined => keys.map((k) => facts.get(k)).find(Boolean);
const pair = ({ name }: Box, text: string): string => `${name}\n${text}`;

export class Yours {
  readonly #all: Box[];
  readonly #linked: Set<Box>; // filled by a link: the record must leave them alone
  readonly #lent = new Set<Box>(); // a ready scenario's, likewise
  readonly #pending = new Map<Box, string>(); // typed and not kept: on its way, or refused
  readonly #refused = new Set<Box>(); // of these
  readonly #begun = new Map<Box, Begun>(); // since the reader came to the field
  readonly #unkept = new Set<Box>(); // typed, but this browser did not keep it
  readonly #marked = new Set<Box>(); // the reader's, and kept
  readonly #shown = new Map<Box, string>(); // what each box held last
  readonly #checked = new Map<string, string>(); // why the record's text is not for its box, by both; "" if it is
  #whoseElse = "the worked example";
  #tale = "";
  #keeps = false;

  constructor(all: Box[], linked: Iterable<Box>, readonly calculator: string, readonly limits: Limits) {
    [this.#all, this.#linked] = [all, new Set(linked)];
    for (const box of all) this.#shown.set(box, box.said());
    for (const box of this.#linked) box.mark(box.said() && "from the link");
  }

  // lend: all fields hold a ready scenario's numbers now.
  lend(name: string, story: string): void {
    this.#whoseElse = `“${name}”`;
    this.#tale = `${name}. ${story} `;
    for (const set of [this.#linked, this.#pending, this.#refused, this.#unkept, this.#marked]) set.clear();
    for (const box of this.#all) {
      this.#lent.add(box);
      this.#shown.set(box, box.said());
      box.mark("");
    }
  }

  // has reports whether the record has a number for a box.
  has(box: Box): boolean {
    return kept(look(), box) !== undefined;
  }

  // renew takes over what the record says. It is true if a field has changed.
  async renew(): Promise<boolean> {
    await this.#check(look());
    const facts = look();
    return this.#all.map((box) => this.#take(box, kept(facts, box))).includes(true);
  }

  // #check asks which of the record's texts the boxes may have. What no calculator
  // takes is no fact, whoever kept it, and goes.
  async #check(facts: Facts): Promise<void> {
    const open = this.#all.flatMap((box) => {
      const text = kept(facts, box)?.text;
      return text && text !== box.said() && !this.#checked.has(pair(box, text)) ? [{ box, text }] : [];
    });
    if (open.length === 0) return;
    const faults = await this.limits(this.calculator, open.map(({ box, text }) => [box.name, text]));
    const wrong = open.filter(({ box }) => faults.has(box.name));
    const nowhere = wrong.length > 0 ? await this.limits("", wrong.map(({ box, text }) => [keyOf(box), text])) : faults;
    for (const { box, text } of open) this.#checked.set(pair(box, text), faults.get(box.name) ?? "");
    for (const { box, text } of wrong) if (nowhere.has(keyOf(box))) drop(keyOf(box), text);
  }

  #take(box: Box, entry: Entry | undefined): boolean {
    if (entry?.text === box.said()) this.#unkept.delete(box);
    if ([this.#linked, this.#lent, this.#unkept, this.#pending].some((set) => set.has(box)) || box.active()) return false;
    const why = entry && this.#checked.get(pair(box, entry.text));
    if (!entry || !box.offers(entry.text) || why) {
      if (this.#marked.delete(box)) this.#keepOnLeaf(box); // erased elsewhere; it stays until the leaf is left
      return false;
    }
    const changed = box.said() !== entry.text;
    if (changed && entry.text !== "" && why === undefined) return false; // came while others were checked
    if (changed) {
      box.fill(entry.text);
      this.#shown.set(box, box.said());
    }
    this.#own(box, entry);
    return changed;
  }

  #own(box: Box, { text, typed }: Entry): void {
    this.#marked.add(box);
    box.state();
    box.mark(text === "" ? "" : typed ? `yours, ${day(typed)}` : "yours");
  }

  #keepOnLeaf(box: Box): void {
    this.#unkept.add(box);
    box.mark(box.said() && "yours, not kept");
  }

  // typed: what stands in a box is the reader's, and kept once it is settled.
  typed(box: Box): void {
    const text = box.said();
    if (this.#shown.get(box) === text) return; // an event without a change
    this.#shown.set(box, text);
    box.state();
    for (const set of [this.#linked, this.#lent, this.#refused]) set.delete(box);
    this.#pending.set(box, text);
  }

  // settle keeps what was typed and answered, but not what was refused.
  settle(blamed: Set<Box>): void {
    for (const [box, text] of [...this.#pending]) {
      if (box.said() !== text) continue;
      if (!blamed.has(box)) {
        this.#keepNow(box, text);
        continue;
      }
      const { before, kept } = this.#begun.get(box) ?? { before: undefined, kept: "" };
      if (kept) drop(keyOf(box), kept, before);
      this.#begun.delete(box);
      this.#refused.add(box);
      this.#marked.delete(box);
      box.mark("");
    }
  }

  #keepNow(box: Box, text: string): void {
    this.#pending.delete(box);
    this.#refused.delete(box);
    const begun = this.#begun.get(box) ?? { before: look().get(keyOf(box)), kept: "" };
    this.#begun.set(box, begun);
    if (keep(keyOf(box), text)) {
      this.#keeps = true;
      begun.kept = text;
      this.#unkept.delete(box);
      this.#own(box, look().get(keyOf(box)) ?? { text, typed: "" });
    } else {
      this.#marked.delete(box);
      this.#keepOnLeaf(box);
    }
  }

  // left: the reader has left a field.
  left(): void {
    this.#begun.clear();
  }

  // leave keeps what was typed and not answered yet, as the leaf is left.
  leave(): void {
    for (const [box, text] of [...this.#pending]) if (!this.#refused.has(box)) this.#keepNow(box, text);
  }

  #any(...sets: Set<Box>[]): boolean {
    return sets.some((set) => [...set].some((box) => !box.hidden() && box.said() !== ""));
  }

  // whose says above the pad whose these numbers are; "" to leave what stands there.
  whose(): string {
    const mine = this.#any(this.#marked, this.#unkept);
    if (!mine && !this.#any(this.#linked)) return this.#tale;
    const known = [this.#marked, this.#unkept, this.#linked, this.#refused];
    const rest = this.#all.filter((box) => !box.hidden() && !known.some((set) => set.has(box)) && box.said() !== "").map((box) => box.label);
    const these = mine ? "Your pond's numbers" : "The link's numbers";
    return rest.length > 0 ? `${these} are marked ✓. Still from ${this.#whoseElse}: ${rest.join("; ")}. ` : `${these}. `;
  }

  // keeping is what is to be said of keeping them.
  keeping(): string {
    if (problem()) return problem();
    if (this.#any(this.#refused)) return "What is refused is not kept: put it right, and it is.";
    // Texts of the record that do not stand in their boxes, and why.
    const left = this.#all.flatMap((box) => [...this.#checked].flatMap(([key, why]) => (why && key.startsWith(pair(box, "")) ? [`Left out: what was kept of “${box.label}” ${why}.`] : [])));
    if (left.length > 0) return left.join(" ");
    if ([...this.#lent].some((box) => this.has(box))) return "Your own numbers are still kept, under My pond at the foot of the leaf.";
    if (this.#keeps) return "What you type is kept in this browser, under My pond at the foot of the leaf.";
    return this.#any(this.#marked, this.#unkept) ? "" : "Change the numbers to yours.";
  }
}
