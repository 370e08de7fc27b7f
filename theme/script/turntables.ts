// Tables, whose units stand in the heading of a column or of a row and whose
// numbers are bare. Heading and numbers turn together or not at all.
import { bareNumbers, drillSize, fixed, largest, named, target, turn, turnBare, type Unit } from "./turn";
import { rename } from "./turncharts";
import type { Leaf } from "./walk";

interface Heading {
  cell: HTMLElement;
  text: Text;
  unit: string;
  from: Unit;
  to: Unit;
}

// headed finds the unit in the brackets of a heading.
function headed(leaf: Leaf, cell: HTMLTableCellElement): Heading | undefined {
  for (const text of textsOf(cell)) {
    for (const m of text.data.matchAll(/\(([^()]+(?:\((?:US|imp)\)[^()]*)?)\)/g)) {
      const unit = m[1] ?? "";
      const from = named(unit);
      const to = target(from, leaf.system);
      if (from && to) return { cell, text, unit, from, to };
    }
  }
  return undefined;
}

// textsOf are the texts of a cell, without the marks of notes.
function textsOf(cell: Element): Text[] {
  const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT, (t) => (t.parentElement?.closest("sup, code") ? NodeFilter.FILTER_REJECT : NodeFilter.FILTER_ACCEPT));
  const texts: Text[] = [];
  while (walker.nextNode()) texts.push(walker.currentNode as Text);
  return texts.filter((t) => t.data.trim() !== "");
}

// captioned finds the unit of a caption that ends in words such as ", in
// millimetres of water", for the columns whose headings have none.
function captioned(leaf: Leaf, table: HTMLTableElement): Heading | undefined {
  for (const text of table.caption ? textsOf(table.caption) : []) {
    const unit = /, in (\p{L}+)(?: of water)?$/u.exec(text.data.trim())?.[1] ?? "";
    const from = named(unit);
    const to = target(from, leaf.system);
    if (from && to) return { cell: table.caption!, text, unit, from, to };
  }
  return undefined;
}

export function turnTable(leaf: Leaf, table: HTMLTableElement): void {
  if (fixed(table.caption?.textContent ?? "")) {
    for (const t of textsOf(table)) leaf.hold(t);
    return;
  }
  const heads = headings(leaf, table);
  const whole = captioned(leaf, table);
  const rows = [...table.tBodies].flatMap((body) => [...body.rows]);
  const columns = new Map<Heading, HTMLTableCellElement[]>();
  for (const row of rows) {
    let column = 0;
    for (const cell of row.cells) {
      const heading = heads[column] ?? (column > 0 ? whole : undefined);
      if (heading) columns.set(heading, [...(columns.get(heading) ?? []), cell]);
      column += cell.colSpan;
    }
  }
  for (const [heading, cells] of columns) turnCells(leaf, table, heading, cells);
  for (const row of rows) {
    const first = row.cells[0];
    const heading = first && !heads.slice(1).some(Boolean) ? headed(leaf, first) : undefined;
    if (heading) turnCells(leaf, table, heading, [...row.cells].slice(1));
  }
}

// headings says which heading with a unit each column stands under. The lowest
// one counts.
function headings(leaf: Leaf, table: HTMLTableElement): (Heading | undefined)[] {
  const under: (Heading | undefined)[] = [];
  const taken: boolean[][] = [];
  [...(table.tHead?.rows ?? [])].forEach((row, r) => {
    let column = 0;
    for (const cell of row.cells) {
      while (taken[r]?.[column]) column++;
      const heading = headed(leaf, cell);
      for (let c = column; c < column + cell.colSpan; c++) {
        if (heading) under[c] = heading;
        for (let below = r; below < r + cell.rowSpan; below++) (taken[below] ??= [])[c] = true;
      }
      column += cell.colSpan;
    }
  });
  return under;
}

function turnCells(leaf: Leaf, table: HTMLTableElement, heading: Heading, cells: HTMLTableCellElement[]): void {
  const numbers: Text[] = [];
  let sure = !leaf.isHeld(heading.text);
  for (const cell of cells) {
    const texts = textsOf(cell);
    const said = texts.map((t) => t.data).join("").trim();
    if (!/\d/.test(said)) continue;
    if (texts.every((t) => bareNumbers(t.data))) numbers.push(...texts); // "59" and, in small letters, "46–72"
    else if (!/^[^\d]*[\d.,]+[ \u00a0][\p{L}°µ]/u.test(said)) sure = false; // nor a number with a unit of its own
  }
  const renamed = (): void => {
    const words = heading.text.data;
    const at = words.lastIndexOf(heading.unit);
    const parts = heading.cell.matches("caption") ? [{ from: at, to: at + heading.unit.length, text: heading.to.n.at(-1)! }] : rename(words, heading.unit, heading.to);
    leaf.replace(heading.text, [...turn(words, leaf.system), ...parts]);
  };
  if (sure && numbers.length === 0) {
    if (heading.cell.matches("caption")) renamed(); // its cells have their unit with them
    return;
  }
  const small = numbers.every((t) => largest(t.data) < (heading.from.least ?? 0));
  if (!sure || small) {
    if (!sure) table.dataset.left = heading.cell.textContent ?? "";
    for (const t of [heading.text, ...numbers]) leaf.hold(t);
    return;
  }
  const drill = heading.from.c === "mm" && /\b(?:holes?|drill)\b/i.test(heading.cell.textContent ?? "");
  for (const t of numbers) {
    const from = t.data.length - t.data.trimStart().length;
    const to = t.data.trimEnd().length;
    const written = t.data.slice(from, to);
    leaf.replace(t, [{ from, to, text: turnBare(written, heading.from, heading.to) + (drill && largest(written) <= drillSize ? ` (${written} mm)` : "") }]);
  }
  renamed();
  const many = cells.filter((cell) => cell.dataset.head !== undefined);
  for (const cell of many) leaf.setAttribute(cell, "data-head", (cell.dataset.head ?? "").replace(`(${heading.unit})`, `(${heading.to.s})`));
}
