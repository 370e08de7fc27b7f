// The fields of the form, as a sheet is read from them and written into them.
import { element } from "../shared/leaf";
import { parted, type Sheet } from "./entry";
import { kitOf, type Declared, type Test } from "./reading";

type Field = HTMLInputElement | HTMLSelectElement;

export type Fields = ReturnType<typeof fieldsOf>;

export function fieldsOf(form: HTMLFormElement, of: Declared) {
  const field = (name: string): Field => form.elements.namedItem(name) as Field;
  const box = (t: Test): HTMLElement => form.querySelector(`[data-test="${t.name}"]`)!;
  const unit = (t: Test): HTMLSelectElement => box(t).querySelector("select")!;
  // put fills a field, unless it offers other choices, or an earlier edition had it.
  const put = (field: Field | null, value: string): void => {
    if (field && (field instanceof HTMLInputElement || [...field.options].some((o) => o.value === value))) field.value = value;
  };
  for (const t of of.tests) {
    unit(t).hidden = unit(t).options.length === 1; // one alone is text
    if (unit(t).hidden) unit(t).after(element("span", t.symbol, "unit"));
  }

  function sheet(): Sheet {
    const { at = "", ...fields } = Object.fromEntries(new FormData(form)) as Record<string, string>;
    return { at, fields, units: Object.fromEntries(of.tests.map((t) => [t.name, unit(t).value])) };
  }

  // write fills the fields that a sheet names, as far as they offer it.
  function write({ at, fields, units }: Sheet): void {
    for (const [name, value] of Object.entries(fields)) put(field(name), value);
    if (at) put(field("at"), at); // or else it stays as it is
    for (const t of of.tests) put(unit(t), units[t.name] ?? "");
  }

  // label says which kits the numbers are from.
  function label(): void {
    for (const t of of.tests) {
      const kit = kitOf(t, of);
      box(t).querySelector('[data-part="basis"]')!.textContent = kit?.options.find((o) => o.name === field(kit.name).value)?.label ?? "";
    }
  }

  return {
    field,
    sheet,
    write,
    label,
    // empty makes room for the next reading. Units and kits stay.
    empty(): void {
      for (const { name } of [...of.tests, { name: "note" }]) field(name).value = "";
      for (const c of of.choices) if (!c.kit) field(c.name).value = c.byDefault;
    },
    // part moves the units that were typed behind numbers.
    part(tests: Test[]): void {
      for (const t of tests) write(parted(sheet(), t, of));
      label();
    },
  };
}
