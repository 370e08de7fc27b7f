// The leaf of the log of readings. Its markup is made by the template log.html.
import type { Ask } from "../module/load";
import { fill } from "../module/answer";
import { look } from "../record/kept";
import { today } from "../shared/day";
import { element, leafOf, saveAs, show as showText, type Leaf } from "../shared/leaf";
import { due, judge, Judging, type Due, type Judged } from "./advice";
import { chart } from "./chart";
import { toCSV, toJSON } from "./file";
import { openForm } from "./form";
import { openImport } from "./import";
import { openList, type List } from "./list";
import { Log } from "./log";
import { counted, type Declared, type Reading, type Series } from "./reading";
import { openStore, type Store } from "./store";
import { date, iso, time } from "./time";
import { summary } from "./words";

// A Shelf is where the readings of a site are, from the first leaf that asks to
// the last: held in memory they must outlive the leaf of the single file.
export interface Shelf {
  site: string;
  store: Promise<Store>;
  changed: () => void; // called when another tab has changed them
}

export function shelf(site: string): Shelf {
  const made: Shelf = { site, changed: () => undefined, store: openStore(site, () => made.changed()) };
  return made;
}

const unloaded = "Advice, toxic ammonia and the next test are missing: the calculators did not load. Your readings are kept and drawn all the same. Reload the leaf when you have a signal.";
const stopped = "The calculators have stopped: advice, toxic ammonia and the next test are missing. Your readings are kept. Reload the leaf.";

export function openLog(root: HTMLElement, on: Shelf, module: () => Promise<Ask>): void {
  const leaf = leafOf(root);
  const { part, button } = leaf;
  const of = JSON.parse(root.dataset.declared!) as Declared;
  const judging = new Judging();
  const tell = (...lines: string[]): void => {
    leaf.tell(...lines);
    if (lines.length > 0) part("said").focus();
  };
  const log = new Log(on.store, of, show, tell);
  const form = openForm(leaf, on.site, log);
  const list = openList(leaf, judging, log, (r) => form.edit(r) || tell("The form holds a reading that is not saved. Save it first, or empty the form."));
  const charts = (): void => part("charts").replaceChildren(...drawn(log.all, part<HTMLSelectElement>("span").value, of, judging));
  const { think, come } = thinking(leaf, log, judging, list, charts);

  function show(): void {
    part("none").hidden = log.all.length > 0;
    part("any").hidden = log.all.length === 0;
    part("back").hidden = !log.undo;
    button("back").textContent = log.undo?.says ?? "";
    showText(part("trouble"), log.trouble());
    part("erasing").hidden = true;
    charts();
    list.show();
    void think();
  }

  leaf.on("more", () => {
    list.more();
    void think();
  });
  buttons(leaf, log);
  part("span").addEventListener("change", charts);
  openImport(leaf, log);
  follow(root, on, log);
  module().then(
    (ask) => {
      come(ask, "");
      root.dataset.calculators = "ready";
    },
    (reason: unknown) => {
      console.debug(reason);
      come(undefined, unloaded);
    },
  );
  void log.refresh().then(() => {
    form.begin();
    root.dataset.state = "ready";
  });
}

function buttons({ part, button, on }: Leaf, log: Log): void {
  on("csv", () => saveAs(toCSV(log.all, log.of), `pond-log-${today()}.csv`, "text/csv"));
  on("json", () => saveAs(toJSON(log.all, log.unread, log.of), `pond-log-${today()}.json`, "application/json"));
  on("back", () => void log.takeBack());
  on("erase", () => {
    part("erasing").hidden = false;
    button("yes").focus();
  });
  on("no", () => {
    part("erasing").hidden = true;
    button("erase").focus();
  });
  on("yes", () => void log.erase());
}

// follow hears of other tabs, and of a leaf that slept and heard nothing of them.
function follow(root: HTMLElement, on: Shelf, log: Log): void {
  on.changed = () => void log.refresh();
  const listening = new AbortController();
  const { signal } = listening;
  const awake = (): void => {
    if (!root.isConnected) listening.abort();
    else if (document.visibilityState === "visible") void log.refresh();
  };
  document.addEventListener("visibilitychange", awake, { signal });
  addEventListener("pageshow", (e) => e.persisted && awake(), { signal });
  const stay = (e: Event): void => {
    if (root.isConnected && log.store?.why && log.all.length > 0) e.preventDefault();
  };
  addEventListener("beforeunload", stay, { signal });
}

// thinking asks the calculators about what is shown, and shows what they answer. It
// gives up once the readings have changed. come says that they are there, or why not.
function thinking(leaf: Leaf, log: Log, judging: Judging, list: List, charts: () => void): { think: () => Promise<void>; come: (ask: Ask | undefined, lacks: string) => void } {
  const { of } = log;
  const { part } = leaf;
  let ask: Ask | undefined;
  let lacks = "";
  let round = 0;

  async function answer(ask: Ask, newest: Reading, past: Reading[], stale: () => boolean): Promise<void> {
    const facts = look();
    const besides = of.asked.filter(({ key }) => facts.get(key)?.text);
    const advice = await judge(ask, newest, of, new Map(besides.map(({ name, key }) => [name, facts.get(key)!.text])));
    const next = await due(ask, past, of);
    if (stale()) return;
    if (besides.length > 0) part("about").textContent += ` My pond adds: ${besides.map((f) => f.label).join(", ")}.`;
    advise(leaf, of, newest, advice, next);
    const wanted = [...log.all].reverse().filter((r, i) => i < list.listed() || r.numbers.tan !== undefined);
    if (await judging.all(ask, wanted, of, stale, list.renew)) charts();
  }

  async function think(): Promise<void> {
    const mine = ++round;
    const past = log.past();
    const newest = past.at(-1);
    showText(part("lacks"), lacks);
    part("about").textContent = newest ? `By your reading of ${time(newest.at)}: ${summary(newest, of)}.` : "";
    if (!ask || !newest) return advise(leaf, of);
    part("answer").setAttribute("aria-busy", "true");
    try {
      await answer(ask, newest, past, () => mine !== round);
    } catch (reason) {
      console.debug(reason);
      if (mine !== round) return;
      advise(leaf, of);
      showText(part("lacks"), stopped);
    }
    if (mine === round) part("answer").removeAttribute("aria-busy");
  }

  return {
    think,
    come(now, why) {
      [ask, lacks] = [now, why];
      if (log.store) void think();
    },
  };
}

// advise shows what to do by the newest reading, and when to test again; without
// one, nothing of either.
function advise({ root, part }: Leaf, of: Declared, newest?: Reading, advice?: Judged, next?: Due): void {
  const [answer, rest] = [part("answer"), part("rest")];
  answer.replaceChildren();
  rest.hidden = !advice;
  rest.querySelectorAll(":scope > :not(summary)").forEach((e) => e.remove());
  if (advice) {
    const whole = fill(advice.html, "log", root.dataset);
    answer.append(whole.querySelector(".found") ?? "");
    rest.append(whole);
  } else if (newest) answer.textContent = "This reading is a note: the calculator has nothing to say of it.";
  const by = next && time(iso(new Date(next.by)));
  part("due").textContent = !by ? "" : next.by < Date.now() ? `Your next test was due by ${by}. Test now.` : `Next test due by ${by}.`;
  const open = (next?.open ?? []).map((o) => `${date(o.reading.at)}: ${summary(o.reading, of)} (${of.levels[o.level]})`);
  showText(part("open"), open.length > 0 ? `Not tested again since: ${open.join("; ")}.` : "");
}

// drawn are the charts of the last days, or of all of them.
function drawn(all: Reading[], days: string, of: Declared, judging: Judging): HTMLElement[] {
  const from = days ? Date.now() - Number(days) * 24 * 3600 * 1000 : -Infinity;
  const some = all.filter((r) => Date.parse(r.at) >= from);
  if (some.length === 0) return [element("p", "No reading lies in that time.")];
  const valueOf = (r: Reading, { name }: Series): number | undefined => {
    const test = of.tests.find((t) => t.name === name);
    return test ? counted(r, test, of) : r.numbers.tan === undefined ? undefined : judging.of(r)?.toxic;
  };
  return of.series.flatMap((series) => {
    const points = some.map((r) => ({ at: r.at, value: valueOf(r, series)! })).filter((p) => p.value !== undefined);
    return points.length > 0 ? [chart(series, points)] : [];
  });
}
