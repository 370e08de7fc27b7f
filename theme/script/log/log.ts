// The log as a leaf has it: the readings that are kept, what is done to them, and how
// the last of that is undone.
import { keep } from "../record/kept";
import { today } from "../shared/day";
import { kitOf, same, sort, type Declared, type Reading } from "./reading";
import type { Change, Store } from "./store";
import { time } from "./time";
import { summary } from "./words";

interface Undo {
  says: string; // on the button
  change: Change;
}

const full = "This browser has no room left. Save your readings as a file below, make room on the device, and try again.";
const refused = "This browser did not keep it. Save your readings as a file below, reload the leaf, and try again.";

export class Log {
  all: Reading[] = []; // sorted by time
  unread: unknown[] = []; // what is kept and is no reading of this edition
  undo: Undo | undefined;
  store: Store | undefined; // once it is open

  // show is called when the readings have changed, tell with what is to be told.
  constructor(readonly opening: Promise<Store>, readonly of: Declared, readonly show: () => void, readonly tell: (...lines: string[]) => void) {}

  // refresh reads what is kept now, which another tab may have changed.
  async refresh(): Promise<void> {
    this.store ??= await this.opening;
    try {
      const { readings, unread } = await this.store.read();
      [this.all, this.unread] = [sort(readings), unread];
    } catch (reason) {
      console.debug(reason);
      return this.tell("This browser does not let the leaf read what is kept. Nothing is lost: reload the leaf and try again.");
    }
    this.show();
  }

  // change makes a change and offers to take it back. It reports in words what
  // went wrong; "" if nothing did.
  async change(change: Change, says: string): Promise<string> {
    const before = new Map(this.all.map((r) => [r.id, r]));
    const touched = [...change.put.map((r) => r.id), ...change.remove];
    const inverse: Change = { put: touched.flatMap((id) => before.get(id) ?? []), remove: change.put.map((r) => r.id).filter((id) => !before.has(id)) };
    return this.#attempt((store) => store.change(change), says ? { says, change: inverse } : undefined);
  }

  async #attempt(act: (store: Store) => Promise<void>, undo: Undo | undefined): Promise<string> {
    this.store ??= await this.opening;
    try {
      await act(this.store);
    } catch (reason) {
      console.debug(reason);
      return reason instanceof DOMException && reason.name === "QuotaExceededError" ? full : refused;
    }
    this.undo = undo;
    await this.refresh();
    return "";
  }

  // save keeps a reading. It is false if that failed: then the form must hold it on.
  async save(reading: Reading, changes: boolean): Promise<boolean> {
    const others = this.all.filter((r) => r.id !== reading.id);
    if (others.some((r) => same(r) === same(reading))) {
      this.tell(`The same reading of ${time(reading.at)} is here already; it was not doubled.`);
      return true;
    }
    const later = others.some((r) => Date.parse(r.at) > Date.parse(reading.at));
    const trouble = await this.change({ put: [reading], remove: [] }, changes ? "Take the change back" : "Take this reading back");
    if (trouble) {
      this.tell(`The reading is not saved, and stays in the form. ${trouble}`);
      return false;
    }
    this.tell(`${changes ? "Changed" : "Saved"}: ${this.#named(reading)}${later ? " There are later readings, so it stands below them in the list." : ""}${this.store?.why ? " It is held only until you leave this leaf." : ""}`);
    if (!changes && !later) this.#lend(reading);
    return true;
  }

  async remove(reading: Reading): Promise<void> {
    const trouble = await this.change({ put: [], remove: [reading.id] }, "Bring the deleted reading back");
    this.tell(trouble ? `The reading is not deleted. ${trouble}` : `Deleted: ${this.#named(reading)}`);
  }

  async erase(): Promise<void> {
    const had = this.all;
    const unread = this.unread.filter((x): x is Reading => typeof (x as Reading | null)?.id === "string");
    const trouble = await this.#attempt((store) => store.erase(), had.length > 0 ? { says: "Bring the erased readings back", change: { put: [...had, ...unread], remove: [] } } : undefined);
    const back = had.length > 0 ? " Until you leave this leaf they can be brought back." : "";
    this.tell(trouble ? `Nothing is erased. ${trouble}` : `Erased: no reading is kept in this browser any more.${back}`);
  }

  async takeBack(): Promise<void> {
    const had = this.undo;
    if (!had) return;
    const trouble = await this.change(had.change, "");
    this.tell(trouble ? `It is not taken back. ${trouble}` : "The readings are as they were before.");
  }

  find(id: string): Reading | undefined {
    return this.all.find((r) => r.id === id);
  }

  // past are the readings up to now: one dated in the future says nothing of today.
  past(): Reading[] {
    const some = this.all.filter((r) => !inFuture(r));
    return some.length > 0 ? some : this.all;
  }

  // trouble says what the reader must know of how the readings are kept.
  trouble(): string {
    return [this.store?.why, this.unread.length > 0 && `${this.unread.length} of what is kept here cannot be read by this edition. It stays as it is, and “Save as JSON” has it.`].filter(Boolean).join(" ");
  }

  #named(reading: Reading): string {
    return `${time(reading.at)}. ${summary(reading, this.of)}.`;
  }

  // #lend puts today's newest reading into the pond record, as if it had been typed
  // into a calculator.
  #lend(reading: Reading): void {
    if (reading.at.slice(0, 10) !== today()) return;
    for (const t of this.of.tests) {
      const typed = reading.typed[t.name];
      if (typed === undefined) continue;
      keep(t.fact, typed);
      const kit = kitOf(t, this.of);
      if (kit) keep(kit.fact, reading.choices[kit.name] ?? kit.byDefault);
    }
  }
}

export const inFuture = (r: Reading): boolean => Date.parse(r.at) > Date.now() + 120_000;
