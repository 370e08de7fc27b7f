// The leaf of the pond record. Its markup is made by the template record.html;
// the elements named by data-do are its buttons, by data-part its other parts.
import { refused } from "../module/limits";
import type { Ask } from "../module/load";
import { day, erase, look, parse, problem, replace, today, unread, Unreadable, watch, write, type Entry, type Facts, type Parsed } from "./kept";
import { canLink, carries, fragment, unpack } from "./link";

// openRecord brings the leaf to life. The module is loaded only to check what a file
// or a link brings.
export function openRecord(leaf: HTMLElement, module: () => Promise<Ask>): void {
  const part = <E extends HTMLElement = HTMLElement>(name: string): E => leaf.querySelector<E>(`[data-part="${name}"]`)!;
  const on = (name: string, act: () => void): void => leaf.querySelector(`[data-do="${name}"]`)?.addEventListener("click", act);
  const entries = [...leaf.querySelectorAll<HTMLElement>("[data-key]")];
  const units = choices(part("units"));
  let before: Facts | undefined; // what was here until the last import, link or erasure
  let offered: Parsed | undefined; // what a link holds, until the reader has decided

  leaf.querySelectorAll<HTMLElement>("[data-ready]").forEach((e) => (e.hidden = false));
  part("plain").hidden = true;

  function show(): void {
    const facts = look();
    for (const entry of entries) {
      const kept = found(facts, entry);
      entry.hidden = !kept;
      if (kept) describe(entry, kept.text, kept.typed);
    }
    leaf.querySelectorAll<HTMLElement>("[data-group]").forEach((g) => (g.hidden = !g.querySelector("[data-key]:not([hidden])")));
    const strange = [...facts.keys()].filter((name) => !entries.some((e) => keys(e).includes(name)));
    part("none").hidden = facts.size > 0;
    part("all").hidden = facts.size === 0;
    part("strange").hidden = strange.length === 0;
    part("strange").textContent = `Kept as well, though no calculator of this edition asks for it: ${strange.join(", ")}.`;
    part("back").hidden = !before;
    part("trouble").hidden = !problem();
    part("trouble").textContent = problem();
    part("sure").hidden = true;
    saveAs(part("export"), write(facts, 2), `pond-record-${today()}.json`);
    aside();
    void link(facts);
  }

  function describe(entry: HTMLElement, text: string, typed: string): void {
    const value = entry.querySelector(".value");
    if (value) value.textContent = readable(entry, text);
    const when = entry.querySelector(".when");
    if (when) when.textContent = typed ? `typed ${typed === today() ? "today" : `on ${day(typed)}`}` : "";
  }

  // readable writes a value as its field shows it: options by their labels, units
  // by their symbols.
  function readable(entry: Element, text: string): string {
    if (text === "") return "left empty";
    const options = choices(entry);
    return text
      .split("; ")
      .map((row) => row.split(", ").map((cell) => options.get(cell) ?? withSymbol(cell)).join(", "))
      .join("\n");
  }

  function withSymbol(cell: string): string {
    return cell.replace(/^([-−\d]\S*) (\S.*)$/, (_, number: string, code: string) => `${number}\u00a0${units.get(code) ?? code}`);
  }

  function aside(): void {
    const list = part("aside");
    const texts = unread();
    list.hidden = texts.length === 0;
    list.querySelectorAll("a").forEach((a) => a.remove());
    texts.forEach((text, i) => {
      const a = document.createElement("a");
      a.className = "do";
      a.textContent = `Save what cannot be read${i > 0 ? ` (${i + 1})` : ""}`;
      saveAs(a, text, `pond-record-unread-${i + 1}.txt`);
      list.append(a);
    });
  }

  async function link(facts: Facts): Promise<void> {
    const field = part<HTMLInputElement>("link");
    field.value = canLink() && facts.size > 0 ? location.href.replace(/#.*/s, "") + (await fragment(write(facts))) : "";
    part("linked").hidden = field.value === "";
    part("unlinked").hidden = canLink();
  }

  function tell(...lines: string[]): void {
    part("said").replaceChildren(
      ...lines.map((line) => {
        const p = document.createElement("p");
        p.textContent = line;
        return p;
      }),
    );
  }

  // known parts what this edition's calculators ask for, and would take, from the rest.
  async function known({ facts, left }: Parsed): Promise<Parsed> {
    const taken: Facts = new Map();
    const not = [...left];
    for (const [name, entry] of facts) {
      const here = entries.find((e) => e.dataset.key === name);
      const options = here?.dataset.choice === undefined ? undefined : choices(here);
      if (!here) not.push(`${name}: no calculator of this edition asks for it`);
      else if (options && entry.text !== "" && !options.has(entry.text)) not.push(`${name}: “${entry.text.slice(0, 40)}” is none of ${[...options.keys()].join(", ")}`);
      else if (entry.text.length > 5000) not.push(`${name}: is longer than any field`);
      else taken.set(name, entry);
    }
    const faults = taken.size > 0 ? await refused(await checker(), "", [...taken].map(([name, entry]) => [name, entry.text])) : new Map<string, string>();
    for (const [name, why] of faults) {
      taken.delete(name);
      not.push(`${name}: ${why}`);
    }
    return { facts: taken, left: not };
  }

  async function checker(): Promise<Ask> {
    try {
      return await module();
    } catch (reason) {
      console.debug(reason);
      throw new Unreadable("could not be checked, because the calculators did not load; try again when you have a signal");
    }
  }

  // take puts what is known into the record.
  function take({ facts, left }: Parsed, from: string): void {
    const had = look();
    const not = left.map((why) => `Not taken: ${why}.`);
    if (facts.size === 0) {
      tell(`Nothing was taken from ${from}: it holds no fact that this edition knows and takes.`, ...not);
      return;
    }
    if (!replace(facts)) {
      tell(`Nothing was taken from ${from}. ${problem()}`);
      return;
    }
    before = had;
    show();
    tell(`Taken from ${from}: ${count(facts.size)}. ${had.size > 0 ? `The ${count(had.size)} kept before can be brought back until you leave this leaf.` : ""}`, ...not);
  }

  function refuse(reason: unknown, from: string): void {
    tell(`Nothing was taken: ${from} ${reason instanceof Unreadable ? reason.message : "is damaged or cut short"}. What was kept here is as it was.`);
  }

  async function open(): Promise<void> {
    if (!carries(location.hash)) return;
    const hash = location.hash;
    history.replaceState(null, "", location.pathname + location.search);
    try {
      const sound = await known(parse(await unpack(hash)));
      const here = look();
      if (write(sound.facts) === write(here) && sound.left.length === 0) tell("The link holds what is kept here already.");
      else if (here.size === 0 || sound.facts.size === 0) take(sound, "the link");
      else offer(sound, here);
    } catch (reason) {
      refuse(reason, "the link");
    }
  }

  // offer shows what a link holds beside what is here, and asks.
  function offer(parsed: Parsed, here: Facts): void {
    offered = parsed;
    const rows = entries.flatMap((entry) => {
      const name = entry.dataset.key ?? "";
      const [mine, theirs] = [found(here, entry), found(parsed.facts, entry)];
      if (mine?.text === theirs?.text) return [];
      const row = document.createElement("tr");
      for (const [tag, text] of [
        ["th", entry.querySelector("b")?.textContent ?? name],
        ["td", mine ? readable(entry, mine.text) : "–"],
        ["td", theirs ? readable(entry, theirs.text) : "–"],
      ] as const) {
        const cell = document.createElement(tag);
        if (tag === "th") cell.setAttribute("scope", "row");
        cell.textContent = text;
        row.append(cell);
      }
      return [row];
    });
    part("differ").replaceChildren(...rows);
    part("offer").hidden = false;
    part("offer").querySelector<HTMLElement>("h2")?.focus();
  }

  on("theirs", () => {
    part("offer").hidden = true;
    if (offered) take(offered, "the link");
    part("said").focus();
  });
  on("mine", () => {
    part("offer").hidden = true;
    tell("Nothing was taken from the link.");
    part("said").focus();
  });
  on("erase", () => {
    part("sure").hidden = false;
    part("sure").querySelector("button")?.focus();
  });
  on("keep", () => {
    part("sure").hidden = true;
    leaf.querySelector<HTMLElement>('[data-do="erase"]')?.focus();
  });
  on("yes", () => {
    const had = look();
    if (erase()) before = had.size > 0 ? had : undefined;
    show();
    tell(problem() || `Erased: nothing is kept in this browser any more.${before ? " Until you leave this leaf it can be brought back." : ""}`);
    part("said").focus();
  });
  on("back", () => {
    const had = look();
    if (before && replace(before)) {
      before = had.size > 0 ? had : undefined;
      show();
      tell("The record is as it was before.");
    } else tell(problem());
    part("said").focus();
  });
  on("copy", () => {
    const field = part<HTMLInputElement>("link");
    field.select();
    const copied = navigator.clipboard?.writeText(field.value) ?? Promise.reject();
    copied.then(
      () => tell("The link is copied."),
      () => tell("This browser does not let the leaf copy. The link is selected: copy it by hand."),
    );
  });
  part<HTMLInputElement>("import").addEventListener("change", (e) => {
    const field = e.target as HTMLInputElement;
    const file = field.files?.[0];
    if (!file) return;
    const from = `the file ${file.name}`;
    file
      .text()
      .then(async (text) => take(await known(parse(text)), from))
      .catch((reason: unknown) => refuse(reason, from))
      .finally(() => (field.value = ""));
  });
  window.addEventListener("hashchange", () => void open());
  watch(show);
  show();
  void open();
}

function count(n: number): string {
  return n === 1 ? "1 fact" : `${n} facts`;
}

// choices are the names and labels that stand hidden in an element.
function choices(scope: Element): Map<string, string> {
  return new Map([...scope.querySelectorAll("data")].map((d) => [d.value, d.textContent ?? ""]));
}

const addresses = new WeakMap<HTMLElement, string>();

// saveAs makes a link download a text.
function saveAs(a: HTMLElement, text: string, name: string): void {
  URL.revokeObjectURL(addresses.get(a) ?? "");
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  addresses.set(a, address);
  a.setAttribute("href", address);
  a.setAttribute("download", name);
}

// keys are a fact's key of today and those that earlier editions kept it under.
function keys(entry: HTMLElement): string[] {
  return [entry.dataset.key ?? "", ...(entry.dataset.once?.split(" ") ?? [])];
}

function found(facts: Facts, entry: HTMLElement): Entry | undefined {
  const key = keys(entry).find((k) => facts.has(k));
  return key === undefined ? undefined : facts.get(key);
}
