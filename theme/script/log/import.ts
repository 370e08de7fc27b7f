// Takes readings from a file: asks about dates that read two ways, adds what is not
// here yet, and lists the rows that were not taken.
import { said as saidDate, type Order } from "./dates";
import { parse, rows as table, type Parsed } from "./file";
import { same, type Declared, type Reading } from "./reading";
import type { Fineness } from "./time";
import { today } from "../shared/day";
import { Unreadable } from "../shared/unreadable";

interface Keeper {
  all(): Reading[];
  put(readings: Reading[], says: string): Promise<string>; // what went wrong, in words; says is on the button that takes them out again
  tell(...lines: string[]): void;
  saveAs(text: string, name: string, type: string): void;
}

const badShown = 50;
const finenesses: Fineness[] = [10, 16, 19];

export function openImport(leaf: HTMLElement, of: Declared, keeper: Keeper): void {
  const part = <E extends HTMLElement = HTMLElement>(name: string): E => leaf.querySelector<E>(`[data-part="${name}"]`)!;
  const press = (name: string, act: () => void): void => leaf.querySelector(`[data-do="${name}"]`)!.addEventListener("click", act);
  let bad: Parsed | undefined;
  let waiting: File | undefined; // whose dates read two ways

  async function take(file: File, order?: Order): Promise<void> {
    const from = `the file ${file.name}`;
    part("dates").hidden = true;
    let parsed: Parsed;
    try {
      parsed = parse(await file.arrayBuffer(), of, order);
    } catch (reason) {
      console.debug(reason);
      keeper.tell(reason instanceof Unreadable ? `Nothing was taken: ${from} ${reason.message}. What was kept here is as it was.` : `Nothing was taken: this browser cannot read ${from}. Choose it again, or a copy of it. What was kept here is as it was.`);
      return;
    }
    if (parsed.asks) return ask(file, parsed.asks);
    const { fresh, beside } = sift(parsed);
    const trouble = fresh.length > 0 ? await keeper.put(fresh, `Take the ${count(fresh.length)} of that file out again`) : "";
    bad = parsed.bad.length > 0 ? parsed : undefined;
    showBad();
    const doubles = parsed.readings.length - fresh.length;
    keeper.tell(
      trouble ? `Nothing was taken from ${from}. ${trouble}` : `Taken from ${from}: ${count(fresh.length)}.`,
      doubles > 0 ? `${count(doubles)} of it ${doubles === 1 ? "was" : "were"} here already and ${doubles === 1 ? "was" : "were"} not doubled.` : "",
      beside > 0 && !trouble ? `${count(beside)} of it ${beside === 1 ? "has" : "have"} the time of another reading and other numbers: both are kept.` : "",
      bad ? `Not taken: ${bad.bad.length === 1 ? "1 row" : `${bad.bad.length} rows`}, listed below with what is wrong.` : "",
      ...parsed.notes,
    );
  }

  // sift leaves out what is here already: of the same moment, or of the same minute or
  // day if the file, saved by a spreadsheet, says no more.
  function sift({ readings, to }: Parsed): { fresh: Reading[]; beside: number } {
    const here = new Set<string>();
    const add = (r: Reading): void => finenesses.forEach((f) => here.add(f + same(r, f)));
    keeper.all().forEach(add);
    const times = new Set(keeper.all().map((r) => Date.parse(r.at)));
    const fresh: Reading[] = [];
    let beside = 0; // readings of a time for which there is another
    for (const r of readings) {
      const f = to.get(r) ?? 19;
      if (here.has(f + same(r, f))) continue;
      add(r);
      if (times.has(Date.parse(r.at))) beside++;
      fresh.push(r);
    }
    return { fresh, beside };
  }

  // ask has the reader say what comes first in the file's dates.
  function ask(file: File, example: string): void {
    waiting = file;
    keeper.tell();
    part("reads").textContent = `The dates of the file ${file.name} read two ways: is ${example} the ${saidDate(example, "day")} or the ${saidDate(example, "month")}? Nothing is taken until you say.`;
    for (const order of ["day", "month"] as const) leaf.querySelector(`[data-do="${order}"]`)!.textContent = saidDate(example, order);
    part("dates").hidden = false;
    part("reads").focus();
  }

  function showBad(): void {
    part("bad").hidden = !bad;
    part("rows").replaceChildren(
      ...(bad?.bad ?? []).slice(0, badShown).map(({ row, why }) => {
        const li = document.createElement("li");
        li.textContent = `${bad?.heading[0] === "reading" ? "Reading" : "Row"} ${row}: ${why}.`;
        return li;
      }),
    );
    if (bad && bad.bad.length > badShown) {
      const li = document.createElement("li");
      li.textContent = `And ${bad.bad.length - badShown} more: the file of these rows has all of them.`;
      part("rows").append(li);
    }
  }

  for (const order of ["day", "month"] as const) press(order, () => waiting && void take(waiting, order));
  press("neither", () => {
    part("dates").hidden = true;
    keeper.tell(`Nothing was taken from the file ${waiting?.name ?? ""}.`);
  });
  press("bad", () => {
    if (bad) keeper.saveAs(table([[...bad.heading, "fault"], ...bad.bad.map(({ cells, why }) => [...bad!.heading.map((_, i) => cells[i] ?? ""), why, ...cells.slice(bad!.heading.length)])]), `pond-log-not-taken-${today()}.csv`, "text/csv");
  });
  part<HTMLInputElement>("import").addEventListener("change", (e) => {
    const field = e.target as HTMLInputElement;
    const file = field.files?.[0];
    if (file) void take(file).finally(() => (field.value = ""));
  });
}

function count(n: number): string {
  return n === 1 ? "1 reading" : `${n} readings`;
}
