// What calculators ask for, beside what a record holds of it.
import { refused } from "../module/limits";
import type { Ask } from "../module/load";
import type { Entry, Facts, Parsed } from "./kept";

// Asked is a fact that some calculator of this edition asks for.
export interface Asked {
  key: string;
  once: string[]; // earlier names
  label: string;
  choice: boolean; // it is one of the options
  options: Map<string, string>; // labels by name, of it or of its cells
}

export function found(facts: Facts, { key, once }: Asked): Entry | undefined {
  const name = [key, ...once].find((k) => facts.has(k));
  return name === undefined ? undefined : facts.get(name);
}

// strange are the names that no calculator asks for.
export function strange(facts: Facts, all: Asked[]): string[] {
  const names = new Set(all.flatMap(({ key, once }) => [key, ...once]));
  return [...facts.keys()].filter((name) => !names.has(name));
}

// readable writes a value as its field shows it: options by their labels, units
// by their symbols.
export function readable(text: string, { options }: Asked, symbols: Map<string, string>): string {
  const cell = (c: string): string => options.get(c) ?? c.replace(/^([-−\d]\S*) (\S.*)$/, (_, number: string, code: string) => `${number}\u00a0${symbols.get(code) ?? code}`);
  return text === "" ? "left empty" : text.split("; ").map((row) => row.split(", ").map(cell).join(", ")).join("\n");
}

// known parts what this edition's calculators ask for, and would take, from the rest.
export async function known({ facts, left }: Parsed, all: Asked[], checker: () => Promise<Ask>): Promise<Parsed> {
  const taken: Facts = new Map();
  const not = [...left];
  for (const [name, entry] of facts) {
    const here = all.find((a) => a.key === name);
    if (!here) not.push(`${name}: no calculator of this edition asks for it`);
    else if (here.choice && entry.text !== "" && !here.options.has(entry.text)) not.push(`${name}: “${entry.text.slice(0, 40)}” is none of ${[...here.options.keys()].join(", ")}`);
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
