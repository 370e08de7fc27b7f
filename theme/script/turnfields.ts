// The fields of a form: one that nobody has typed into offers the reader's unit
// first, and shows its example or default in that. What is reckoned with stays
// the number as written until the reader types.
import type { System } from "./measure";
import { value } from "./number";
import { convert, target } from "./turned";

interface Field {
  value: string;
  hint: string;
  unit: string;
  shown?: [value: string, hint: string, unit: string]; // in place of these
}

const kept = new WeakMap<HTMLInputElement, Field>();

export function turnFields(form: HTMLFormElement, system: System, asked: boolean): void {
  const readings = form.matches(".entry");
  for (const choice of form.querySelectorAll<HTMLSelectElement>("select.unit")) {
    const box = choice.closest<HTMLElement>("[data-column], [data-input], [data-test]");
    const field = box?.querySelector<HTMLInputElement>(readings ? "input" : "input[name]");
    if (!field || field === document.activeElement || (readings && field.value !== "")) continue;
    if (box!.querySelector(".from, .yours") || box!.closest("[data-input]")?.querySelector(".from")) continue; // the reader's own
    turnField(field, choice, asked ? "metric" : system);
  }
}

function turnField(field: HTMLInputElement, choice: HTMLSelectElement, system: System): void {
  const old = kept.get(field);
  if (old?.shown) {
    if (field.value !== old.shown[0] || choice.value !== old.shown[2]) return; // typed
    [field.value, field.placeholder, choice.value] = [old.value, old.hint, old.unit];
  }
  for (const name of ["written", "turned", "turnedTo"]) delete field.dataset[name];
  const now: Field = { value: field.value, hint: field.placeholder, unit: choice.value };
  kept.set(field, now);
  const to = target(now.unit, system);
  if (!to || ![...choice.options].some((o) => o.value === to)) return;
  const say = (text: string): string => (text.trim() && Number.isFinite(value(text.trim())) ? convert(value(text.trim()), text.trim(), now.unit, to) : text);
  now.shown = [say(now.value).replace("−", "-"), say(now.hint), to];
  [field.value, field.placeholder, choice.value] = now.shown;
  if (field.value !== "") [field.dataset.written, field.dataset.turned, field.dataset.turnedTo] = [`${now.value} ${now.unit}`, field.value, to];
}
