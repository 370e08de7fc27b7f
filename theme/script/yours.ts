// Which fields of a pad hold the reader's own numbers: fills them from the pond
// record, keeps what is typed, and says so at the field and above the pad.
import { boxes, fill, labelOf, names, offers, saidOf, unfold } from "./fields";
import { day, keep, look, problem, type Entry, type Facts } from "./record";

export interface Yours {
  lend(name: string, story: string): void; // all fields hold a ready scenario's numbers now
  has(box: HTMLElement): boolean; // the record has a number for it
  renew(): boolean; // takes over what the record says; true if a field has changed
  typed(box: HTMLElement): void; // keeps what stands in a box
  say(): string; // writes whose numbers these are; returns what is to be said of keeping them
}

// yours looks after a pad. brought are the fields that a link has filled, which
// the record must leave alone.
export function yours(form: HTMLFormElement, brought: Iterable<HTMLElement>): Yours {
  const linked = new Set(brought);
  const unkept = new Set<HTMLElement>(); // typed, but this browser did not keep it
  const shown = new Map<HTMLElement, string>(); // what each box held last
  const marked = new Set<HTMLElement>();
  const lent = new Set<HTMLElement>(); // a ready scenario's, which the record must leave alone
  let whoseElse = "the worked example";
  let tale = "";
  let keeps = false;
  const all = boxes(form, "input");
  for (const box of all) shown.set(box, saidOf(box));
  for (const box of linked) mark(box, saidOf(box) && "from the link");

  function take(box: HTMLElement, entry: Entry | undefined): boolean {
    if (unkept.has(box) && entry?.text === saidOf(box)) unkept.delete(box);
    if (linked.has(box) || lent.has(box) || unkept.has(box) || box.contains(document.activeElement)) return false;
    if (!entry || !offers(box, entry.text)) {
      if (marked.delete(box)) keepOnLeaf(box); // erased elsewhere; it stays until the leaf is left
      return false;
    }
    const changed = saidOf(box) !== entry.text;
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

  return {
    lend(name, story) {
      whoseElse = `“${name}”`;
      tale = `${name}. ${story} `;
      for (const set of [linked, unkept, marked]) set.clear();
      for (const box of all) {
        lent.add(box);
        shown.set(box, saidOf(box));
        mark(box, "");
      }
    },
    has(box) {
      return kept(look(), form, box) !== undefined;
    },
    renew() {
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
      const name = nameOf(form, box);
      if (keep(name, text)) {
        keeps = true;
        unkept.delete(box);
        own(box, look().get(name) ?? { text, typed: "" });
      } else {
        marked.delete(box);
        keepOnLeaf(box);
      }
    },
    say() {
      const whose = form.querySelector(".note .whose");
      const of = (set: Set<HTMLElement>): boolean => [...set].some((box) => !box.hidden && saidOf(box) !== "");
      const mine = of(marked) || of(unkept);
      if (whose && (mine || of(linked))) {
        const rest = all.filter((box) => !box.hidden && !marked.has(box) && !unkept.has(box) && !linked.has(box) && saidOf(box) !== "").map(labelOf);
        const these = mine ? "Your pond's numbers" : "The link's numbers";
        whose.textContent = rest.length > 0 ? `${these} are marked ✓. Still from ${whoseElse}: ${rest.join("; ")}. ` : `${these}. `;
      } else if (whose && tale) whose.textContent = tale;
      if (problem()) return problem();
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
