// The leaf of the pond record. Its markup is made by the template record.html.
import type { Ask } from "../module/load";
import { today } from "../shared/day";
import { element, leafOf, onFile, show as showText, type Leaf } from "../shared/leaf";
import { Unreadable } from "../shared/unreadable";
import { counting } from "../shared/words";
import { found, known, readable, strange, type Asked } from "./asked";
import { day, erase, look, parse, problem, replace, unread, watch, write, type Facts, type Parsed } from "./kept";
import { canLink, carries, fragment, unpack } from "./link";

// A Shown is what is asked with its element on the leaf.
type Shown = [e: HTMLElement, asked: Asked];

// openRecord brings the leaf to life. The module is loaded only to check what a file
// or a link brings.
export function openRecord(root: HTMLElement, module: () => Promise<Ask>): void {
  const leaf = leafOf(root);
  const { part, tell } = leaf;
  const symbols = choices(part("units"));
  const all = [...root.querySelectorAll<HTMLElement>("[data-key]")].map((e): Shown => {
    const { key = "", once, choice } = e.dataset;
    return [e, { key, once: once?.split(" ") ?? [], label: e.querySelector("b")?.textContent ?? key, choice: choice !== undefined, options: choices(e) }];
  });
  const asked = all.map(([, a]) => a);
  let before: Facts | undefined; // what was here until the last import, link or erasure

  function show(): void {
    const facts = look();
    list(leaf, all, facts, symbols);
    part("back").hidden = !before;
    showText(part("trouble"), problem());
    part("sure").hidden = true;
    saveBy(part("export"), write(facts, 2), `pond-record-${today()}.json`);
    aside(part("aside"));
    void link(leaf, facts);
  }

  // put puts other facts into the record, and keeps those of before for the way back;
  // none of them only if that is said.
  function put(act: () => boolean, none = false): boolean {
    const had = look();
    if (!act()) return false;
    before = had.size > 0 || none ? had : undefined;
    show();
    return true;
  }

  function take({ facts, left }: Parsed, from: string): void {
    const [had, not] = [look().size, left.map((why) => `Not taken: ${why}.`)];
    if (facts.size === 0) return tell(`Nothing was taken from ${from}: it holds no fact that this edition knows and takes.`, ...not);
    if (!put(() => replace(facts), true)) return tell(`Nothing was taken from ${from}. ${problem()}`);
    tell(`Taken from ${from}: ${counting(facts.size, "fact")}. ${had > 0 ? `The ${counting(had, "fact")} kept before can be brought back until you leave this leaf.` : ""}`, ...not);
  }

  // bring reads a record and parts what this edition takes of it, or says why not.
  async function bring(from: string, get: () => Promise<string>, use: (sound: Parsed, from: string) => void): Promise<void> {
    try {
      use(await known(parse(await get()), asked, () => checker(module)), from);
    } catch (reason) {
      tell(`Nothing was taken: ${from} ${reason instanceof Unreadable ? reason.message : "is damaged or cut short"}. What was kept here is as it was.`);
    }
  }

  const offer = linking(leaf, asked, symbols, take);
  const follow = (): void => void (carries(location.hash) && bring("the link", () => unpack(takeHash()), offer));
  erasing(leaf, put, () => before);
  onFile(part<HTMLInputElement>("import"), (file) => bring(`the file ${file.name}`, () => file.text(), take));
  addEventListener("hashchange", follow);
  watch(show);
  show();
  follow();
}

// takeHash takes the record out of the leaf's address.
function takeHash(): string {
  const { hash, pathname, search } = location;
  history.replaceState(null, "", pathname + search);
  return hash;
}

async function checker(module: () => Promise<Ask>): Promise<Ask> {
  try {
    return await module();
  } catch (reason) {
    console.debug(reason);
    throw new Unreadable("could not be checked, because the calculators did not load; try again when you have a signal");
  }
}

// list shows what is kept.
function list({ root, part }: Leaf, all: Shown[], facts: Facts, symbols: Map<string, string>): void {
  for (const [e, asked] of all) {
    const entry = found(facts, asked);
    e.hidden = !entry;
    if (!entry) continue;
    e.querySelector(".value")!.textContent = readable(entry.text, asked, symbols);
    e.querySelector(".when")!.textContent = entry.typed ? `typed ${entry.typed === today() ? "today" : `on ${day(entry.typed)}`}` : "";
  }
  root.querySelectorAll<HTMLElement>("[data-group]").forEach((g) => (g.hidden = !g.querySelector("[data-key]:not([hidden])")));
  part("none").hidden = facts.size > 0;
  part("all").hidden = facts.size === 0;
  const others = strange(facts, all.map(([, a]) => a)).join(", ");
  showText(part("strange"), others && `Kept as well, though no calculator of this edition asks for it: ${others}.`);
}

// aside offers as files what could not be read.
function aside(place: HTMLElement): void {
  const texts = unread();
  place.hidden = texts.length === 0;
  place.replaceChildren(
    ...texts.map((text, i) => {
      const a = element("a", `Save what cannot be read${i > 0 ? ` (${i + 1})` : ""}`, "do");
      saveBy(a, text, `pond-record-unread-${i + 1}.txt`);
      return a;
    }),
  );
}

async function link({ part }: Leaf, facts: Facts): Promise<void> {
  const field = part<HTMLInputElement>("link");
  field.value = canLink() && facts.size > 0 ? location.href.replace(/#.*/s, "") + (await fragment(write(facts))) : "";
  part("linked").hidden = field.value === "";
  part("unlinked").hidden = canLink();
}

// linking returns what is done with the record of a link: taken, or shown beside what
// is here, and asked about.
function linking({ part, on, tell }: Leaf, asked: Asked[], symbols: Map<string, string>, take: (parsed: Parsed, from: string) => void): (sound: Parsed, from: string) => void {
  let offered: Parsed | undefined; // until the reader has decided
  for (const [name, act] of [["theirs", () => offered && take(offered, "the link")], ["mine", () => tell("Nothing was taken from the link.")]] as const) {
    on(name, () => {
      part("offer").hidden = true;
      act();
      part("said").focus();
    });
  }
  on("copy", () => {
    const field = part<HTMLInputElement>("link");
    field.select();
    const copied = navigator.clipboard?.writeText(field.value) ?? Promise.reject();
    copied.then(
      () => tell("The link is copied."),
      () => tell("This browser does not let the leaf copy. The link is selected: copy it by hand."),
    );
  });
  return (sound, from) => {
    const here = look();
    if (write(sound.facts) === write(here) && sound.left.length === 0) return tell("The link holds what is kept here already.");
    if (here.size === 0 || sound.facts.size === 0) return take(sound, from);
    offered = sound;
    const rows = asked.flatMap((a) => {
      const both = [found(here, a)?.text, found(sound.facts, a)?.text];
      if (both[0] === both[1]) return [];
      const row = element("tr");
      const head = element("th", a.label);
      head.scope = "row";
      row.append(head, ...both.map((text) => element("td", text === undefined ? "–" : readable(text, a, symbols))));
      return [row];
    });
    part("differ").replaceChildren(...rows);
    part("offer").hidden = false;
    part("offer").querySelector<HTMLElement>("h2")?.focus();
  };
}

// erasing is the way there, and back.
function erasing({ part, on, button, tell }: Leaf, put: (act: () => boolean) => boolean, before: () => Facts | undefined): void {
  on("erase", () => {
    part("sure").hidden = false;
    button("yes").focus();
  });
  on("keep", () => {
    part("sure").hidden = true;
    button("erase").focus();
  });
  on("yes", () => {
    part("sure").hidden = true;
    put(erase);
    tell(problem() || `Erased: nothing is kept in this browser any more.${before() ? " Until you leave this leaf it can be brought back." : ""}`);
    part("said").focus();
  });
  on("back", () => {
    const had = before();
    tell(had && put(() => replace(had)) ? "The record is as it was before." : problem());
    part("said").focus();
  });
}

// choices are the names and labels that stand hidden in an element.
function choices(scope: Element): Map<string, string> {
  return new Map([...scope.querySelectorAll("data")].map((d) => [d.value, d.textContent ?? ""]));
}

const addresses = new WeakMap<HTMLElement, string>();

// saveBy makes a link download a text.
function saveBy(a: HTMLElement, text: string, name: string): void {
  URL.revokeObjectURL(addresses.get(a) ?? "");
  const address = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  addresses.set(a, address);
  a.setAttribute("href", address);
  a.setAttribute("download", name);
}
