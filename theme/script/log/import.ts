// Takes readings from a file: asks about dates that read two ways, adds what is not
// here yet, and lists the rows that were not taken.
import { today } from "../shared/day";
import { element, onFile, saveAs, type Leaf } from "../shared/leaf";
import { Unreadable } from "../shared/unreadable";
import { counting } from "../shared/words";
import { said as saidDate, type Order } from "./dates";
import { parse, type Parsed } from "./file";
import type { Log } from "./log";
import { same, type Reading } from "./reading";
import { rows as table } from "./table";
import type { Fineness } from "./time";

const badShown = 50;
const finenesses: Fineness[] = [10, 16, 19];
const count = (n: number): string => counting(n, "reading");

export function openImport(leaf: Leaf, log: Log): void {
  const { tell } = log;
  let bad: Parsed | undefined;
  let waiting: File | undefined; // whose dates read two ways

  async function take(file: File, order?: Order): Promise<void> {
    leaf.part("dates").hidden = true;
    let parsed: Parsed;
    try {
      parsed = parse(await file.arrayBuffer(), log.of, order);
    } catch (reason) {
      console.debug(reason);
      return tell(`Nothing was taken: ${reason instanceof Unreadable ? `the file ${file.name} ${reason.message}` : `this browser cannot read the file ${file.name}. Choose it again, or a copy of it`}. What was kept here is as it was.`);
    }
    if (parsed.asks) {
      waiting = file;
      tell();
      return ask(leaf, file, parsed.asks);
    }
    const sifted = sift(parsed, log.all);
    const n = sifted.fresh.length;
    const trouble = n > 0 ? await log.change({ put: sifted.fresh, remove: [] }, `Take the ${count(n)} of that file out again`) : "";
    bad = parsed.bad.length > 0 ? parsed : undefined;
    showBad(leaf, bad);
    tell(...report(`the file ${file.name}`, parsed, sifted, trouble));
  }

  for (const order of ["day", "month"] as const) leaf.on(order, () => waiting && void take(waiting, order));
  leaf.on("neither", () => {
    leaf.part("dates").hidden = true;
    tell(`Nothing was taken from the file ${waiting?.name ?? ""}.`);
  });
  leaf.on("bad", () => {
    if (bad) saveAs(tableOf(bad), `pond-log-not-taken-${today()}.csv`, "text/csv");
  });
  onFile(leaf.part<HTMLInputElement>("import"), take);
}

interface Sifted {
  fresh: Reading[];
  beside: number; // of these, whose time another reading has
}

// sift leaves out what is here already: of the same moment, or of the same minute or
// day if the file, saved by a spreadsheet, says no more.
export function sift({ readings, to }: Parsed, all: Reading[]): Sifted {
  const here = new Set<string>();
  const add = (r: Reading): void => finenesses.forEach((f) => here.add(f + same(r, f)));
  all.forEach(add);
  const times = new Set(all.map((r) => Date.parse(r.at)));
  const fresh = readings.filter((r) => {
    const f = to.get(r) ?? 19;
    const is = !here.has(f + same(r, f));
    if (is) add(r);
    return is;
  });
  return { fresh, beside: fresh.filter((r) => times.has(Date.parse(r.at))).length };
}

function report(from: string, { readings, bad, notes }: Parsed, { fresh, beside }: Sifted, trouble: string): string[] {
  const doubles = readings.length - fresh.length;
  const were = doubles === 1 ? "was" : "were";
  return [
    trouble ? `Nothing was taken from ${from}. ${trouble}` : `Taken from ${from}: ${count(fresh.length)}.`,
    doubles > 0 ? `${count(doubles)} of it ${were} here already and ${were} not doubled.` : "",
    beside > 0 && !trouble ? `${count(beside)} of it ${beside === 1 ? "has" : "have"} the time of another reading and other numbers: both are kept.` : "",
    bad.length > 0 ? `Not taken: ${counting(bad.length, "row")}, listed below with what is wrong.` : "",
    ...notes,
  ];
}

// ask has the reader say what comes first in the file's dates.
function ask({ part, button }: Leaf, file: File, example: string): void {
  const [day, month] = [saidDate(example, "day"), saidDate(example, "month")];
  part("reads").textContent = `The dates of the file ${file.name} read two ways: is ${example} the ${day} or the ${month}? Nothing is taken until you say.`;
  [button("day").textContent, button("month").textContent] = [day, month];
  part("dates").hidden = false;
  part("reads").focus();
}

function showBad({ part }: Leaf, parsed: Parsed | undefined): void {
  part("bad").hidden = !parsed;
  const { heading: [first = ""] = [], bad = [] } = parsed ?? {};
  part("rows").replaceChildren(...bad.slice(0, badShown).map(({ row, why }) => element("li", `${first === "reading" ? "Reading" : "Row"} ${row}: ${why}.`)));
  if (bad.length > badShown) part("rows").append(element("li", `And ${bad.length - badShown} more: the file of these rows has all of them.`));
}

// tableOf are the rows that were not taken, with what is wrong.
function tableOf({ heading, bad }: Parsed): string {
  return table([[...heading, "fault"], ...bad.map(({ cells, why }) => [...heading.map((_, i) => cells[i] ?? ""), why, ...cells.slice(heading.length)])]);
}
