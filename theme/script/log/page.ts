// The leaf of the log of readings. Its markup is made by the template log.html;
// the elements named by data-do are its buttons, by data-part its other parts.
import { fill } from "../module/answer";
import { due, judge, type Due, type Judged } from "./advice";
import { chart, type Point } from "./chart";
import { toCSV, toJSON } from "./file";
import { openForm } from "./form";
import { openImport } from "./import";
import { counted, declared, same, sort, withUnit, type Reading } from "./reading";
import { openStore, type Change, type Held, type Store } from "./store";
import { date, iso, time } from "./time";
import type { Ask } from "../module/load";
import { keep, look } from "../record/kept";
import { today } from "../shared/day";

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

interface Undo {
  says: string; // on the button
  change: Change;
}

const atOnce = 20; // readings in the list before "Show older ones"
const slice = 12; // ms

export function openLog(leaf: HTMLElement, on: Shelf, module: () => Promise<Ask>): void {
  const { site, store: opening } = on;
  const part = <E extends HTMLElement = HTMLElement>(name: string): E => leaf.querySelector<E>(`[data-part="${name}"]`)!;
  const press = (name: string, act: () => void): void => leaf.querySelector(`[data-do="${name}"]`)!.addEventListener("click", act);
  const of = declared(leaf);
  const kinds = new Map(of.tests.map((t) => [t.name, t]));
  const judgements = new Map<string, Judged | undefined>();
  let store: Store | undefined;
  let held: Held = { readings: [], unread: [] };
  let all: Reading[] = []; // sorted by time
  let ask: Ask | undefined;
  let lacks = ""; // why there is no advice
  let listed = atOnce;
  let undo: Undo | undefined;
  let round = 0; // of think

  const form = openForm(leaf, of, site, {
    save,
    tell,
    newest: () => all.at(-1),
    lastEntered: () => Math.max(...all.map((r) => Date.parse(r.entered) || 0), 0),
    find: (id) => all.find((r) => r.id === id),
  });

  // ---- keeping

  // refresh reads what is kept now, which another tab may have changed.
  async function refresh(): Promise<void> {
    store ??= await opening;
    try {
      held = await store.read();
    } catch (reason) {
      console.debug(reason);
      tell("This browser does not let the leaf read what is kept. Nothing is lost: reload the leaf and try again.");
      return;
    }
    all = sort(held.readings);
    show();
  }

  // change makes a change and offers to take it back. It reports in words what
  // went wrong; "" if nothing did.
  async function change(change: Change, says: string): Promise<string> {
    store ??= await opening;
    const before = new Map(all.map((r) => [r.id, r]));
    const touched = [...change.put.map((r) => r.id), ...change.remove];
    const inverse: Change = { put: touched.flatMap((id) => before.get(id) ?? []), remove: change.put.map((r) => r.id).filter((id) => !before.has(id)) };
    try {
      await store.change(change);
    } catch (reason) {
      console.debug(reason);
      return reason instanceof DOMException && reason.name === "QuotaExceededError" ? full : refused;
    }
    undo = says ? { says, change: inverse } : undefined;
    await refresh();
    return "";
  }

  const full = "This browser has no room left. Save your readings as a file below, make room on the device, and try again.";
  const refused = "This browser did not keep it. Save your readings as a file below, reload the leaf, and try again.";

  async function save(reading: Reading, changes: boolean): Promise<boolean> {
    const twin = all.find((r) => r.id !== reading.id && same(r) === same(reading));
    if (twin) {
      tell(`The same reading of ${time(twin.at)} is here already; it was not doubled.`);
      return true;
    }
    const later = all.some((r) => r.id !== reading.id && Date.parse(r.at) > Date.parse(reading.at));
    const trouble = await change({ put: [reading], remove: [] }, changes ? "Take the change back" : "Take this reading back");
    if (trouble) {
      tell(`The reading is not saved, and stays in the form. ${trouble}`);
      return false;
    }
    tell(`${changes ? "Changed" : "Saved"}: ${time(reading.at)}. ${summary(reading)}.${later ? " There are later readings, so it stands below them in the list." : ""}${store?.why ? " It is held only until you leave this leaf." : ""}`);
    if (!changes && !later) lend(reading);
    void navigator.storage?.persist?.().catch(() => false); // so that the browser erases other things first
    return true;
  }

  // lend puts today's newest reading into the pond record, as if it had been typed
  // into a calculator.
  function lend(reading: Reading): void {
    if (reading.at.slice(0, 10) !== today()) return;
    for (const t of of.tests) {
      const typed = reading.typed[t.name];
      if (typed === undefined) continue;
      keep(t.fact, typed);
      const kit = of.choices.find((c) => c.name === t.basis);
      if (kit) keep(kit.fact, reading.choices[kit.name] ?? kit.byDefault);
    }
  }

  // ---- showing

  function show(): void {
    part("none").hidden = all.length > 0;
    part("any").hidden = all.length === 0;
    const back = part("back");
    back.hidden = !undo;
    if (undo) back.querySelector("button")!.textContent = undo.says;
    const troubles = [store?.why ?? "", held.unread.length > 0 ? `${held.unread.length} of what is kept here cannot be read by this edition. It stays as it is, and “Save as JSON” has it.` : ""].filter(Boolean);
    part("trouble").hidden = troubles.length === 0;
    part("trouble").textContent = troubles.join(" ");
    part("erasing").hidden = true;
    showCharts();
    showList();
    void think();
  }

  // think asks the calculators about what is shown, and shows what they answer. It
  // gives up once the readings have changed.
  async function think(): Promise<void> {
    const mine = ++round;
    const answer = part("answer");
    part("lacks").hidden = lacks === "";
    part("lacks").textContent = lacks;
    const newest = past().at(-1);
    part("about").textContent = newest ? `By your reading of ${time(newest.at)}: ${summary(newest)}.` : "";
    if (!ask || !newest) return advise(undefined, undefined, undefined);
    answer.setAttribute("aria-busy", "true");
    try {
      const facts = look();
      const besides = of.asked.filter(({ key }) => facts.get(key)?.text);
      const advice = await judge(ask, newest, of, new Map(besides.map(({ name, key }) => [name, facts.get(key)?.text ?? ""])));
      const next = await due(ask, past(), of);
      if (mine !== round) return;
      if (besides.length > 0) part("about").textContent += ` My pond adds: ${besides.map((f) => f.label).join(", ")}.`;
      advise(newest, advice, next);
      await judgeAll(ask, mine);
    } catch (reason) {
      console.debug(reason);
      if (mine !== round) return;
      advise(undefined, undefined, undefined);
      part("lacks").hidden = false;
      part("lacks").textContent = "The calculators have stopped: advice, toxic ammonia and the next test are missing. Your readings are kept. Reload the leaf.";
    }
    if (mine === round) answer.removeAttribute("aria-busy");
  }

  // judgeAll asks about each reading that is listed or drawn, once. Where the
  // calculators share the thread of the leaf it lets go of it time and again, so
  // that a finger on the page is never kept waiting.
  async function judgeAll(ask: Ask, mine: number): Promise<void> {
    let fresh = false;
    let until = performance.now() + slice;
    for (const [i, r] of [...all].reverse().entries()) {
      if ((i >= listed && r.numbers.tan === undefined) || judgements.has(same(r))) continue;
      const judged = await judge(ask, r, of);
      if (performance.now() > until) {
        await new Promise((resolve) => setTimeout(resolve));
        until = performance.now() + slice;
      }
      if (mine !== round) return;
      judgements.set(same(r), judged);
      fresh = true;
      const li = part("list").children[i];
      if (li) describe(li as HTMLElement, r);
    }
    if (fresh) showCharts();
  }

  // past are the readings up to now: one dated in the future says nothing of today.
  function past(): Reading[] {
    const some = all.filter((r) => !inFuture(r));
    return some.length > 0 ? some : all;
  }

  // advise shows what to do by the newest reading, and when to test again; without
  // one, nothing of either.
  function advise(newest: Reading | undefined, advice: Judged | undefined, next: Due | undefined): void {
    const [answer, rest] = [part("answer"), part("rest")];
    answer.replaceChildren();
    rest.hidden = !advice;
    rest.querySelectorAll(":scope > :not(summary)").forEach((e) => e.remove());
    if (advice) {
      const whole = fill(advice.html, "log", leaf.dataset);
      const found = whole.querySelector(".found");
      if (found) answer.append(found);
      rest.append(whole);
    } else if (newest) answer.textContent = "This reading is a note: the calculator has nothing to say of it.";
    const by = next && iso(new Date(next.by));
    part("due").textContent = !by ? "" : next.by < Date.now() ? `Your next test was due by ${time(by)}. Test now.` : `Next test due by ${time(by)}.`;
    part("open").hidden = !next || next.open.length === 0;
    part("open").textContent = next ? `Not tested again since: ${next.open.map((o) => `${date(o.reading.at)}: ${summary(o.reading)} (${of.levels[o.level]})`).join("; ")}.` : "";
  }

  function showCharts(): void {
    const days = Number(part<HTMLSelectElement>("span").value);
    const from = days > 0 ? Date.now() - days * 24 * 3600 * 1000 : -Infinity;
    const some = all.filter((r) => Date.parse(r.at) >= from);
    const charts = of.series.flatMap((series) => {
      const points: Point[] = [];
      for (const r of some) {
        const test = kinds.get(series.name);
        const value = test ? counted(r, test, of.choices) : r.numbers.tan === undefined ? undefined : judgements.get(same(r))?.toxic;
        if (value !== undefined) points.push({ at: r.at, value });
      }
      return points.length > 0 ? [chart(series, points)] : [];
    });
    const none = document.createElement("p");
    none.textContent = "No reading lies in that time.";
    part("charts").replaceChildren(...(some.length > 0 ? charts : [none]));
  }

  function showList(): void {
    const list = part("list");
    list.replaceChildren(...[...all].reverse().slice(0, listed).map(item));
    part("more").hidden = listed >= all.length;
  }

  function item(reading: Reading): HTMLElement {
    const li = document.createElement("li");
    li.dataset.id = reading.id;
    for (const [tag, name] of [["b", "when"], ["span", "level"], ["span", "values"]] as const) {
      const e = document.createElement(tag);
      e.className = name;
      li.append(e, " ");
    }
    describe(li, reading);
    const tools = document.createElement("span");
    tools.className = "tools";
    for (const [says, act] of [["Change", () => edit(reading)], ["Delete", () => void erase(reading)]] as const) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = says;
      button.setAttribute("aria-label", `${says} the reading of ${time(reading.at)}`);
      button.addEventListener("click", act);
      tools.append(button, " ");
    }
    li.append(tools);
    return li;
  }

  // describe writes a reading into the list, with what the calculators have said of
  // it so far.
  function describe(li: HTMLElement, reading: Reading): void {
    const says = judgements.get(same(reading));
    const toxic = reading.numbers.tan === undefined || says?.toxic === undefined ? "" : ` · toxic ammonia ${withUnit(says.toxic, kinds.get("tan")?.symbol ?? "")}`;
    for (const [name, text] of [
      ["when", time(reading.at) + (inFuture(reading) ? " (in the future)" : "")],
      ["level", says ? (of.levels[says.level] ?? "") : ""],
      ["values", summary(reading) + toxic],
    ] as const) {
      li.querySelector(`.${name}`)!.textContent = text;
    }
  }

  // summary lists a reading's numbers as they were typed.
  function summary(reading: Reading): string {
    const said = of.tests.flatMap((t) => {
      const typed = reading.typed[t.name];
      if (typed === undefined) return [];
      const [, number = "", code = ""] = /^(\S+)(?: (\S+))?$/.exec(typed) ?? [];
      const text = withUnit(number, t.units.find((u) => u.code === code)?.symbol ?? "");
      const kit = of.choices.find((c) => c.name === t.basis);
      const option = kit?.options.find((o) => o.name === reading.choices[kit.name]);
      // How a kit counts is said where it is not as the bands count, or no unit says it.
      return [`${t.label} ${text}${option && (option.per !== 1 || t.symbol === "") ? ` ${option.label}` : ""}`];
    });
    for (const c of of.choices) {
      const option = c.kit ? undefined : c.options.find((o) => o.name === reading.choices[c.name]);
      if (option) said.push(`${c.label}: ${option.label}`);
    }
    if (reading.note) said.push(`“${reading.note}”`);
    return said.join(" · ");
  }

  const inFuture = (r: Reading): boolean => Date.parse(r.at) > Date.now() + 120_000;

  function tell(...lines: string[]): void {
    part("said").replaceChildren(
      ...lines.filter(Boolean).map((line) => {
        const p = document.createElement("p");
        p.textContent = line;
        return p;
      }),
    );
    if (lines.length > 0) part("said").focus();
  }

  // ---- what readers do

  function edit(reading: Reading): void {
    if (form.edit(reading)) return;
    tell("The form holds a reading that is not saved. Save it first, or empty the form.");
  }

  async function erase(reading: Reading): Promise<void> {
    const trouble = await change({ put: [], remove: [reading.id] }, "Bring the deleted reading back");
    tell(trouble ? `The reading is not deleted. ${trouble}` : `Deleted: ${time(reading.at)}. ${summary(reading)}.`);
  }

  openImport(leaf, of, { all: () => all, put: (readings, says) => change({ put: readings, remove: [] }, says), tell, saveAs });

  press("csv", () => saveAs(toCSV(all, of), `pond-log-${today()}.csv`, "text/csv"));
  press("json", () => saveAs(toJSON(all, held.unread, of), `pond-log-${today()}.json`, "application/json"));
  press("more", () => {
    const next = listed;
    listed += 5 * atOnce;
    showList();
    void think();
    part("list").children[next]?.querySelector("button")?.focus();
  });
  press("back", () => {
    const had = undo;
    if (!had) return;
    void change(had.change, "").then((trouble) => {
      if (trouble) undo = had;
      show();
      tell(trouble ? `It is not taken back. ${trouble}` : "The readings are as they were before.");
    });
  });
  press("erase", () => {
    part("erasing").hidden = false;
    part("erasing").querySelector("button")!.focus();
  });
  press("no", () => {
    part("erasing").hidden = true;
    leaf.querySelector<HTMLElement>('[data-do="erase"]')!.focus();
  });
  press("yes", () => void eraseAll());
  async function eraseAll(): Promise<void> {
    const had = all;
    const unread = held.unread.filter((x): x is Reading => typeof (x as Reading | null)?.id === "string");
    try {
      store ??= await opening;
      await store.erase();
    } catch (reason) {
      console.debug(reason);
      tell(`Nothing is erased. ${refused}`);
      return;
    }
    undo = had.length > 0 ? { says: "Bring the erased readings back", change: { put: [...had, ...unread], remove: [] } } : undefined;
    await refresh();
    tell(`Erased: no reading is kept in this browser any more.${had.length > 0 ? " Until you leave this leaf they can be brought back." : ""}`);
  }
  part("span").addEventListener("change", showCharts);

  // Other tabs, and a leaf that slept and heard nothing of them.
  on.changed = () => void refresh();
  const listening = new AbortController();
  const awake = (): void => {
    if (!leaf.isConnected) listening.abort();
    else if (document.visibilityState === "visible") void refresh();
  };
  document.addEventListener("visibilitychange", awake, { signal: listening.signal });
  addEventListener("pageshow", (e) => e.persisted && awake(), { signal: listening.signal });
  addEventListener(
    "beforeunload",
    (e) => {
      if (leaf.isConnected && store?.why && all.length > 0) e.preventDefault();
    },
    { signal: listening.signal },
  );

  module().then(
    (loaded) => {
      ask = loaded;
      if (store) show();
      leaf.dataset.calculators = "ready";
    },
    (reason: unknown) => {
      console.debug(reason);
      lacks = "Advice, toxic ammonia and the next test are missing: the calculators did not load. Your readings are kept and drawn all the same. Reload the leaf when you have a signal.";
      if (store) show();
    },
  );

  leaf.querySelectorAll<HTMLElement>("[data-ready]").forEach((e) => (e.hidden = false));
  part("plain").hidden = true;
  void refresh().then(() => {
    form.begin();
    leaf.dataset.state = "ready";
  });
}

// saveAs downloads a text.
function saveAs(text: string, name: string, type: string): void {
  const a = document.createElement("a");
  const address = URL.createObjectURL(new Blob([text], { type }));
  a.href = address;
  a.download = name;
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
