// The fields of a pad: one that nobody has typed into offers the reader's unit
// first, and shows its example or default in that. What is reckoned with stays
// the number as written until the reader types.
import { coded, convert, target } from "./turn";
import type { Leaf } from "./walk";

export function turnFields(leaf: Leaf, form: HTMLFormElement): void {
  for (const choice of form.querySelectorAll<HTMLSelectElement>("select.unit")) {
    const box = choice.closest<HTMLElement>("[data-column], [data-input]");
    const field = box?.querySelector<HTMLInputElement>("input[name]");
    if (!box || !field || field === document.activeElement || field.dataset.written !== undefined || field.dataset.turned !== undefined) continue;
    if (box.querySelector(".from, .yours") || box.closest("[data-input]")?.querySelector(".from")) continue;
    turnField(leaf, field, choice);
  }
}

// turnEntry offers the reader's unit first in the empty form of the readings.
export function turnEntry(leaf: Leaf, form: HTMLFormElement): void {
  for (const choice of form.querySelectorAll<HTMLSelectElement>("[data-test] > select.unit")) {
    const field = choice.parentElement?.querySelector("input");
    if (field && field.value === "" && field !== document.activeElement) turnField(leaf, field, choice);
  }
}

function turnField(leaf: Leaf, field: HTMLInputElement, choice: HTMLSelectElement): void {
  const from = coded(choice.value);
  const to = target(from, leaf.system);
  if (!from || !to || ![...choice.options].some((o) => o.value === to.c)) return;
  const [value, hint, unit] = [field.value, field.placeholder, choice.value];
  const turned = value.trim() === "" ? "" : convert(value.trim(), from, to).replace("−", "-");
  const shown = hint.trim() === "" ? hint : convert(hint.trim(), from, to);
  const untouched = (): boolean => field.value === turned && choice.value === to.c;
  field.dataset.turned = turned;
  leaf.note({
    at: field,
    show(written) {
      if (written || field.value !== value || choice.value !== unit) return;
      field.value = turned;
      field.placeholder = shown;
      choice.value = to.c;
      if (turned !== "") [field.dataset.written, field.dataset.turnedTo] = [`${value} ${unit}`, to.c];
    },
    undo() {
      if (untouched()) {
        field.value = value;
        field.placeholder = hint;
        choice.value = unit;
      }
      delete field.dataset.written;
      delete field.dataset.turned;
      delete field.dataset.turnedTo;
    },
  });
}
