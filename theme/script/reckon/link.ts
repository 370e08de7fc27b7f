// What the address of a leaf says to its pads: behind "#ID?", or behind "?" to the
// leaf's first pad.
import { leaf, replace } from "../shared/address";
import { boxes, names } from "./fields";

const markOf = (form: HTMLFormElement): string => `#${form.dataset.calculator}?`;

// inFragment is what the fragment says to a pad; undefined if nothing.
function inFragment(form: HTMLFormElement): string | undefined {
  return location.hash.startsWith(markOf(form)) ? location.hash.slice(markOf(form).length) : undefined;
}

const isFirst = (form: HTMLFormElement): boolean => form === document.querySelector("form[data-calculator]");

// brought is what it says, by input.
export function brought(form: HTMLFormElement): Map<HTMLElement, string> {
  const values = new URLSearchParams(inFragment(form) ?? (isFirst(form) ? leaf.query() : ""));
  return new Map(boxes(form, "input").flatMap((box) => {
    const name = names(box).find((n) => values.has(n));
    return name === undefined ? [] : [[box, values.get(name)!]];
  }));
}

// forget takes what is said to inputs out of the address, so that a reload shows what
// the reader has typed since, and says something else instead.
export function forget(form: HTMLFormElement, inputs: HTMLElement[], instead = new Map<HTMLElement, string>()): void {
  const said = inFragment(form);
  const values = new URLSearchParams(said ?? (isFirst(form) ? leaf.query() : ""));
  for (const box of inputs) names(box).forEach((n) => values.delete(n));
  for (const [box, value] of instead) values.set(box.dataset.input ?? "", value);
  if (said === undefined && isFirst(form)) leaf.setQuery(String(values));
  else replace(markOf(form) + String(values));
}
