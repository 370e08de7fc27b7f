// Which fields of a pad hold the reader's own numbers: fills them from the pond
// record as far as the calculator takes it, keeps what is typed once the calculator
// has taken it, and says so at the field and above the pad.
import { boxes, fill, labelOf, names, offers, saidOf, unfold } from "./fields";
import { day, drop, keep, look, problem, type Entry, type Facts } from "../record/kept";

export interface Yours {
  lend(name: string, story: string): void; // all fields hold a ready scenario's numbers now
  has(box: HTMLElement): boolean; // the record has a number for it
  renew(): Promise<boolean>; // takes over what the record says; true if a field has changed
  typed(box: HTMLElement): void; // what stands in a box is the reader's, and kept once it is settled
  settle(blamed: Set<HTMLElement>): void; // keeps what was typed and answered, but not what was refused
  left(): void; // the reader has left a field
  leave(): void; // keeps what was typed and not answered yet, as the leaf is left
  say(): string; // writes whose numbers these are; returns what is to be said of keeping them
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

// yours looks after a pad. brought are the fields that a link has filled, which
// the record must leave alone.
export function yours(form: HTMLFormElement, brought: Iterable<HTMLElement>, limits: Limits): Yours {
  const linked = new Set(brought);
  const pending = new Map<HTMLElement, string>(); // typed and not kept: on its way, or refused
  const refused = new Set<HTMLElement>(); // of these
  const begun = new Map<HTMLElement, Begun>(); // since the reader came to the field
  const unkept = new Set<HTMLElement>(); // typed, but this browser did not keep it
  const shown = new Map<HTMLElement, string>(); // what each box held last
  const marked = new Set<HTMLElement>();
  const lent = new Set<HTMLElement>(); // a ready scenario's, which the record must leave alone
  const checked = new Map<string, string>(); // why the record's text is not for its box, by both; "" if it is
  let whoseElse = "the worked example";
  let tale = "";
  let keeps = false;
  const all = boxes(form, "input");
  for (const box of all) shown.set(box, saidOf(box));
  for (const box of linked) mark(box, saidOf(box) && "from the link");

  const ask = (box: HTMLElement, entry: Entry): string => `${box.dataset.input}\n${entry.text}`;

  // check asks which of the record's texts the boxes may have. What no calculator
  // takes is no fact, whoever kept it, and goes.
  async function check(facts: Facts): Promise<void> {
    const open = all.flatMap((box) => {
      const entry = kept(facts, form, box);
      return entry && entry.text !== "" && entry.text !== saidOf(box) && !checked.has(ask(box, entry)) ? [{ box, entry }] : [];
    });
    if (open.length === 0) return;
    const faults = await limits(form.dataset.calculator ?? "", open.map(({ box, entry }) => [box.dataset.input ?? "", entry.text]));
    const wrong = open.filter(({ box }) => faults.has(box.dataset.input ?? ""));
    const nowhere = wrong.length > 0 ? await limits("", wrong.map(({ box, entry }) => [nameOf(form, box), entry.text])) : faults;
    for (const { box, entry } of open) checked.set(ask(box, entry), faults.get(box.dataset.input ?? "") ?? "");
    for (const { box, entry } of wrong) if (nowhere.has(nameOf(form, box))) drop(nameOf(form, box), entry.text);
  }

  function take(box: HTMLElement, entry: Entry | undefined): boolean {
    if (unkept.has(box) && entry?.text === saidOf(box)) unkept.delete(box);
    if (linked.has(box) || lent.has(box) || unkept.has(box) || pending.has(box) || box.contains(document.activeElement)) return false;
    if (!entry || !offers(box, entry.text) || checked.get(ask(box, entry))) {
      if (marked.delete(box)) keepOnLeaf(box); // erased elsewhere; it stays until the leaf is left
      return false;
    }
    const changed = saidOf(box) !== entry.text;
    if (changed && entry.text !== "" && !checked.has(ask(box, entry))) return false; // came while others were checked
    if (changed) {
      fill(box, entry.text);
      shown.set(box, saidOf(box));
      if (entry.text) unfold(box);
    }
    own(box, entry);
    return changed;
  }

  function own(box: HTMLElement, entry: Entry): void {
    marked.add(box);
    box.dataset.stated = "";
    mark(box, entry.text === "" ? "" : entry.typed ? `yours, ${day(entry.typed)}` : "yours");
  }

  function keepOnLeaf(box: HTMLElement): void {
    unkept.add(box);
    mark(box, saidOf(box) && "yours, not kept");
  }

  function keepNow(box: HTMLElement, text: string): void {
    pending.delete(box);
    refused.delete(box);
    const name = nameOf(form, box);
    if (!begun.has(box)) begun.set(box, { before: look().get(name), kept: "" });
    if (keep(name, text)) {
      keeps = true;
      begun.get(box)!.kept = text;
      unkept.delete(box);
      own(box, look().get(name) ?? { text, typed: "" });
    } else {
      marked.delete(box);
      keepOnLeaf(box);
    }
  }

  // leftOut says which of the record's texts do not stand in their boxes, and why.
  function leftOut(): string {
    return all
      .flatMap((box) => [...checked].flatMap(([key, why]) => (why && key.startsWith(`${box.dataset.input}\n`) ? [`Left out: what was kept of “${labelOf(box)}” ${why}.`] : [])))
      .join(" ");
  }

  return {
    lend(name, story) {
      whoseElse = `“${name}”`;
      tale = `${name}. ${story} `;
      for (const set of [linked, pending, refused, unkept, marked]) set.clear();
      for (const box of all) {
        lent.add(box);
        shown.set(box, saidOf(box));
        mark(box, "");
      }
    },
    has(box) {
      return kept(look(), form, box) !== undefined;
    },
    async renew() {
      await check(look());
      const facts = look();
      return all.map((box) => take(box, kept(facts, form, box))).includes(true);
    },
    typed(box) {
      const text = saidOf(box);
      if (shown.get(box) === text) return; // an event without a change
      shown.set(box, text);
      box.dataset.stated = "";
      linked.delete(box);
      lent.delete(box);
      refused.delete(box);
      pending.set(box, text);
    },
    settle(blamed) {
      for (const [box, text] of [...pending]) {
        if (saidOf(box) !== text) continue;
        if (!blamed.has(box)) keepNow(box, text);
        else {
          const { before, kept } = begun.get(box) ?? { kept: "" };
          if (kept) drop(nameOf(form, box), kept, before);
          begun.delete(box);
          refused.add(box);
          marked.delete(box);
          mark(box, "");
        }
      }
    },
    left() {
      begun.clear();
    },
    leave() {
      for (const [box, text] of [...pending]) if (!refused.has(box)) keepNow(box, text);
    },
    say() {
      const whose = form.querySelector(".note .whose");
      const of = (set: Set<HTMLElement>): boolean => [...set].some((box) => !box.hidden && saidOf(box) !== "");
      const mine = of(marked) || of(unkept);
      if (whose && (mine || of(linked))) {
        const rest = all.filter((box) => !box.hidden && ![marked, unkept, linked, refused].some((set) => set.has(box)) && saidOf(box) !== "").map(labelOf);
        const these = mine ? "Your pond's numbers" : "The link's numbers";
        whose.textContent = rest.length > 0 ? `${these} are marked ✓. Still from ${whoseElse}: ${rest.join("; ")}. ` : `${these}. `;
      } else if (whose && tale) whose.textContent = tale;
      if (problem()) return problem();
      if (of(refused)) return "What is refused is not kept: put it right, and it is.";
      if (leftOut()) return leftOut();
      if ([...lent].some((box) => this.has(box))) return "Your own numbers are still kept, under My pond at the foot of the leaf.";
      if (keeps) return "What you type is kept in this browser, under My pond at the foot of the leaf.";
      return mine ? "" : "Change the numbers to yours.";
    },
  };
}

// nameOf names what a box states: a fact that other calculators ask for too, or
// its own.
function nameOf(form: HTMLFormElement, box: HTMLElement): string {
  return box.dataset.fact ?? `${form.dataset.calculator}.${box.dataset.input}`;
}

// kept finds what the record says to a box: under its name of today, or as an
// earlier edition named it.
function kept(facts: Facts, form: HTMLFormElement, box: HTMLElement): Entry | undefined {
  for (const name of [nameOf(form, box), ...names(box).slice(1).map((own) => `${form.dataset.calculator}.${own}`)]) {
    const entry = facts.get(name);
    if (entry) return entry;
  }
  return undefined;
}

// mark writes behind the help of a box where its number is from.
function mark(box: HTMLElement, from: string): void {
  const old = box.querySelector(".from");
  if (!from) {
    old?.remove();
    return;
  }
  const text = old ?? document.createElement("b");
  text.className = "from";
  text.textContent = from;
  if (!old) box.querySelector("legend small, label small")?.append(" ", text);
}
