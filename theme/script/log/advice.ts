// Asks the readings calculator about readings: how urgent they are, how much of
// the ammonia is toxic, and when to test again. There is no formula here.
import { escaped } from "../module/limits";
import { asTyped, own, same, type Declared, type Reading } from "./reading";
import type { Ask } from "../module/load";

export interface Judged {
  level: number; // 0 (in order) to 3 (danger now)
  hours: number; // until the next test
  toxic: number | undefined; // mg/L as nitrogen, if pH and temperature were read
  html: string; // the whole answer
}

// judge returns undefined for a reading that the calculator has nothing to say of,
// such as a note alone.
export async function judge(ask: Ask, reading: Reading, of: Declared, besides = new Map<string, string>()): Promise<Judged | undefined> {
  const lines = ["readings"];
  for (const t of of.tests) {
    const value = reading.numbers[t.name];
    if (value !== undefined) lines.push(`${t.name}=${asTyped(String(value), own(t))}`);
  }
  for (const c of of.choices) if (reading.choices[c.name] !== undefined) lines.push(`${c.name}=${reading.choices[c.name]}`);
  const reply = await ask([...lines, ...[...besides].map(([name, text]) => `${name}=${escaped(text)}`)].join("\n"));
  if (!reply.ok) return besides.size > 0 ? judge(ask, reading, of) : undefined;
  const value = (name: string): number => Number.parseFloat((reply.values[name] ?? "").replaceAll(",", ""));
  const known = reading.numbers.ph !== undefined && reading.numbers.temperature !== undefined;
  const toxic = value("toxic");
  return { level: value("urgency"), hours: value("test-again"), toxic: known && !Number.isNaN(toxic) ? toxic : undefined, html: reply.html };
}

export interface Open {
  reading: Reading; // with what was not tested again
  level: number;
}

export interface Due {
  by: number; // moment
  open: Open[]; // what an earlier reading found amiss and nobody has tested since
}

const month = 30 * 24 * 3600 * 1000;

// due finds when to test next: after the last reading, or sooner if an earlier one
// asks for it and what it tested was not tested again. What was in order a month
// before the last reading is a test that this keeper seldom makes, and no reason
// to hurry. all are sorted by time.
export async function due(ask: Ask, all: Reading[], of: Declared): Promise<Due | undefined> {
  const tested = new Set<string>();
  const open: Open[] = [];
  let by = Infinity;
  let newest: number | undefined;
  for (const reading of [...all].reverse()) {
    const rest = only(reading, (name) => !tested.has(name));
    for (const name of [...Object.keys(reading.numbers), ...Object.keys(reading.choices)]) tested.add(name);
    const judged = rest && (await judge(ask, rest, of));
    if (!judged) continue;
    const at = Date.parse(reading.at);
    if (newest !== undefined && judged.level === 0 && newest - at > month) continue;
    by = Math.min(by, at + judged.hours * 3600 * 1000);
    if (newest !== undefined && judged.level > 0) open.push({ reading: rest, level: judged.level });
    newest ??= at;
  }
  return by === Infinity ? undefined : { by, open };
}

// only is what is left of a reading; undefined if it is nothing. Ammonia keeps its
// pH and temperature, by which it is judged.
function only(reading: Reading, left: (name: string) => boolean): Reading | undefined {
  const names = Object.keys(reading.numbers).filter(left);
  const numbers = Object.fromEntries(Object.entries(reading.numbers).filter(([name]) => left(name) || (names.includes("tan") && (name === "ph" || name === "temperature"))));
  const choices = Object.fromEntries(Object.entries(reading.choices).filter(([name]) => name !== "fish" || left(name)));
  return names.length > 0 || choices.fish !== undefined ? { ...reading, numbers, choices } : undefined;
}

const slice = 12; // ms

// Judging remembers what the calculators have said of each reading.
export class Judging {
  readonly #said = new Map<string, Judged | undefined>();

  of(r: Reading): Judged | undefined {
    return this.#said.get(same(r));
  }

  // all asks about each reading, once, until the answers are stale; true if any is new.
  // Where the calculators share the thread of the leaf it lets go of it time and again,
  // so that a finger on the page is never kept waiting.
  async all(ask: Ask, readings: Reading[], of: Declared, stale: () => boolean, judged: (r: Reading) => void): Promise<boolean> {
    let fresh = false;
    let until = performance.now() + slice;
    for (const r of readings) {
      if (this.#said.has(same(r))) continue;
      const says = await judge(ask, r, of);
      if (performance.now() > until) {
        await new Promise((resolve) => setTimeout(resolve));
        until = performance.now() + slice;
      }
      if (stale()) return false;
      this.#said.set(same(r), says);
      judged(r);
      fresh = true;
    }
    return fresh;
  }
}
