// Reads and fills the fields of a pad. The markup is made by the Go package
// cmd/mereleaf/internal/calchtml, which lists the names used here.
import { means, typed } from "../shared/typed";

// A box is the element around one input ([data-input]) or one cell of a list
// ([data-column]).
type Key = "input" | "column";
type Field = HTMLInputElement | HTMLSelectElement;

export function boxes(scope: Element, key: Key): HTMLElement[] {
  return [...scope.querySelectorAll<HTMLElement>(`[data-${key}]`)];
}

export function field(box: Element): Field | null {
  return box.querySelector<Field>("[name]");
}

// names are an input's name and its earlier ones, which old links still have.
export function names(box: HTMLElement): string[] {
  return [box.dataset.input ?? "", ...(box.dataset.once?.split(" ") ?? [])];
}

export function lines(list: Element): HTMLElement[] {
  return [...list.querySelectorAll<HTMLElement>(".line")];
}

// conditions shows the inputs that apply and hides the others.
export function conditions(form: Element): void {
  hideUnless(form, "input");
  for (const line of lines(form)) hideUnless(line, "column");
}

function hideUnless(scope: Element, key: Key): void {
  const all = boxes(scope, key);
  for (const box of all) {
    const { when, is } = box.dataset;
    if (!when || !is) continue;
    const on = all.find((b) => b.dataset[key] === when);
    const choice = !on || on.hidden ? "" : field(on)?.value || on.dataset.default || "";
    box.hidden = !is.split(" ").includes(choice);
  }
}

// points says above the fine points what is assumed of them, and what a reader
// stated, so that no number counts unseen.
export function points(form: Element): void {
  for (const fold of form.querySelectorAll(".fine")) {
    const assumed: string[] = [];
    const said: string[] = [];
    for (const box of fold.querySelectorAll<HTMLElement>("[data-assumed]")) {
      if (box.hidden) continue;
      const text = saidOf(box);
      if (text === "" || untouched(box)) assumed.push(box.dataset.assumed ?? "");
      else said.push(`${labelOf(box)} ${isList(box) ? saidLines(box).map(lineShown).join(", ") : shown(box)}`);
    }
    const parts = [];
    if (said.length > 0) parts.push(`Stated: ${said.join("; ")}`);
    if (assumed.length > 0) parts.push(`Assumed: ${assumed.join("; ")}`);
    const line = fold.querySelector(".points");
    if (line) line.textContent = parts.join(". ");
  }
}

// labelOf names a box.
export function labelOf(box: Element): string {
  return box.querySelector("legend > span, label > span")?.textContent ?? "";
}

// untouched reports a list that shows its default, which nobody has stated.
export function untouched(box: HTMLElement): boolean {
  return isList(box) && box.dataset.stated === undefined;
}

function isList(box: Element): boolean {
  return box.classList.contains("list");
}

function lineShown({ line }: Said): string {
  return boxes(line, "column")
    .filter((cell) => !cell.hidden && stated(cell) !== "")
    .map(shown)
    .join(" ");
}

function shown(box: Element): string {
  const f = field(box);
  if (!f) return "";
  if (f instanceof HTMLSelectElement) return chosen(f);
  const unit = box.querySelector(".unit");
  const symbol = unit instanceof HTMLSelectElement ? chosen(unit) : (unit?.textContent ?? "");
  return hasUnit(f.value) ? f.value.trim() : `${f.value.trim()} ${symbol}`.trim();
}

function chosen(choice: HTMLSelectElement): string {
  return choice.selectedOptions[0]?.text ?? "";
}

// unfold shows a box that is folded away.
export function unfold(box: Element): void {
  box.closest("details")?.setAttribute("open", "");
}

// stated is what the reader says in a box, with its unit; "" for nothing.
export function stated(box: Element): string {
  const f = field(box);
  const text = f?.value.trim() ?? "";
  if (!f || !text || f instanceof HTMLSelectElement) return text;
  const unit = unitOf(box);
  // Shown in the reader's unit, but nobody has typed: what was written counts.
  if (f.dataset.written && text === f.dataset.turned && unit === f.dataset.turnedTo) return f.dataset.written;
  return unit && !hasUnit(text) ? `${text} ${unit}` : text;
}

// touched notes that the reader has typed into a field: what stands there counts as it
// stands, even if it is the number that was shown before.
export function touched(inside: Element): void {
  const box = inside.closest("[data-column], [data-input]");
  const f = box && field(box);
  if (f) delete f.dataset.written;
}

// saidOf is what the reader says in a box or a list.
export function saidOf(box: Element): string {
  if (!isList(box)) return stated(box);
  return saidLines(box)
    .map(({ text }) => text)
    .join("; ");
}

// offers reports whether a text can be filled into a box: a choice must have it.
export function offers(box: Element, text: string): boolean {
  const f = field(box);
  return isList(box) || !(f instanceof HTMLSelectElement) || [...f.options].some((o) => o.value === text);
}

// hasUnit finds a unit behind a number. Who writes one into the field means it.
function hasUnit(text: string): boolean {
  return /[\p{L}°%"'′″]/u.test(text);
}

// moveUnit puts a unit that was typed behind a number into the choice beside it, if it
// is offered there, so that the two never seem to differ. It returns whether it did.
export function moveUnit(inside: Element): boolean {
  const box = inside.closest("[data-column], [data-input]");
  const [f, choice] = [box && field(box), box?.querySelector("select.unit")];
  if (!(f instanceof HTMLInputElement) || f !== inside || !(choice instanceof HTMLSelectElement)) return false;
  const { value, unit } = typed(f.value);
  const option = [...choice.options].find((o) => means(unit, o.value, o.text));
  if (Number.isNaN(value) || !option) return false;
  f.value = f.value.slice(0, f.value.length - unit.length).trim();
  choice.value = option.value;
  return true;
}

function unitOf(box: Element): string {
  const unit = box.querySelector<HTMLElement>(".unit");
  return unit instanceof HTMLSelectElement ? unit.value : (unit?.dataset.unit ?? "");
}

// Said is a line of a list with something in it.
export interface Said {
  line: HTMLElement;
  text: string;
}

// saidLines reads a list. Empty lines are left out; the places of the others in
// the result are the numbers that the calculators call them by.
export function saidLines(list: Element): Said[] {
  return lines(list)
    .map((line) => ({ line, text: lineText(line) }))
    .filter(({ text }) => text !== "");
}

function lineText(line: Element): string {
  return boxes(line, "column")
    .map((cell) => (cell.hidden ? "" : oneCell(stated(cell))))
    .join(", ")
    .replace(/[, ]+$/, "");
}

// oneCell keeps a cell from being read as two: cells are parted by a comma and
// a blank, rows by semicolons.
function oneCell(text: string): string {
  return text.replace(/[;\n]/g, ",").replace(/,\s+/g, ",");
}

// fill puts a value as text, such as a link carries, into a box or a list. It is false
// if part of the text is no choice that a box offers.
export function fill(box: HTMLElement, text: string): boolean {
  box.dataset.stated = "";
  if (isList(box)) {
    const rows = text.split(/[;\n]/).filter((row) => row.trim() !== "");
    while (lines(box).length < rows.length) addLine(box);
    while (lines(box).length > Math.max(rows.length, 1)) lines(box).pop()?.remove();
    const held = lines(box).map((line, i) => {
      const cells = (rows[i] ?? "").trim().split(", ");
      return boxes(line, "column").map((cell, j) => fillField(cell, (cells[j] ?? "").trim()));
    });
    return held.flat().every(Boolean);
  }
  return fillField(box, text);
}

// reset states nothing in a box, so that its default counts: it shows in a list's
// lines, elsewhere as what is assumed.
export function reset(box: HTMLElement): void {
  fill(box, box.dataset.default ?? "");
  const f = field(box);
  if (f && !isList(box)) f.value = "";
  delete box.dataset.stated;
}

function fillField(box: Element, text: string): boolean {
  const f = field(box);
  if (!f) return false;
  f.value = text;
  if (f instanceof HTMLSelectElement) return f.value === text;
  const [, number = "", name = ""] = /^([\d\s.,+\-−/½¼¾⅓⅔⅛⅜⅝⅞]*)(.*)$/u.exec(text) ?? [];
  if (!name) return true;
  const unit = box.querySelector<HTMLElement>(".unit");
  if (unit instanceof HTMLSelectElement) {
    const option = [...unit.options].find((o) => o.value === name || o.text === name);
    if (!option) return true; // the unit stays in the field, where it counts
    unit.value = option.value;
  } else if (unit?.dataset.unit !== name) return true;
  f.value = number.trim();
  return true;
}

// addLine copies the last line of a list, with its units and choices, and
// empties the numbers.
export function addLine(list: Element): HTMLElement | undefined {
  const last = lines(list).at(-1);
  if (!last) return undefined;
  const line = last.cloneNode(true) as HTMLElement;
  const before = last.querySelectorAll("select");
  line.querySelectorAll("select").forEach((s, i) => (s.value = before[i]?.value ?? ""));
  line.querySelectorAll("input").forEach((f) => (f.value = ""));
  line.querySelectorAll(".fault").forEach((fault) => fault.remove());
  last.after(line);
  return line;
}

// removeLine takes a line out, or empties it if it is the only one.
export function removeLine(line: HTMLElement): void {
  if (line.parentElement && line.parentElement.childElementCount > 1) line.remove();
  else line.querySelectorAll<Field>("input, select:not(.unit)").forEach((f) => (f.value = ""));
}
