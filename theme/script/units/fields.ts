// The fields of a form: one that nobody has typed into offers the reader's unit
// first, and shows its example or default in that. What is reckoned with stays
// the number as written until the reader types.
import { value } from "../shared/number";
import { convert, target, type System } from "./convert";

type Field = [value: string, hint: string, unit: string];

const kept = new WeakMap<HTMLInputElement, [was: Field, shown: Field]>();

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
  const [was, shown] = kept.get(field) ?? [];
  if (was && shown) {
    if (field.value !== shown[0] || choice.value !== shown[2]) return; // typed
    [field.value, field.placeholder, choice.value] = was;
  }
  kept.delete(field);
  for (const name of ["written", "turned", "turnedTo"]) delete field.dataset[name];
  const now: Field = [field.value, field.placeholder, choice.value];
  const to = target(now[2], system);
  if (!to || ![...choice.options].some((o) => o.value === to)) return;
  const say = (text: string): string => (text.trim() && Number.isFinite(value(text.trim())) ? convert(value(text.trim()), text.trim(), now[2], to) : text);
  const then: Field = [say(now[0]).replace("−", "-"), say(now[1]), to];
  kept.set(field, [now, then]);
  [field.value, field.placeholder, choice.value] = then;
  if (field.value !== "") [field.dataset.written, field.dataset.turned, field.dataset.turnedTo] = [`${now[0]} ${now[2]}`, field.value, to];
}
