// The form into which a reading is typed.
import { drafts, type Draft } from "./draft";
import { isEmpty, whole } from "./file";
import { asTyped, fault, inOwn, newId, type Choice, type Declared, type Reading, type Test, type Unit } from "./reading";
import { date, field as localField, iso, time } from "./time";
import { look } from "../record/kept";
import { codeOf, typed } from "../shared/typed";

interface Keeper {
  save(reading: Reading, changes: boolean): Promise<boolean>;
  tell(...lines: string[]): void;
  newest(): Reading | undefined;
  lastEntered(): number; // by the clock of the device
  find(id: string): Reading | undefined;
}

export interface Form {
  begin(): void; // once the readings are there
  edit(reading: Reading): boolean; // false if the form holds something not saved
}

const twice = 1500; // ms in which a button is pressed twice by mistake
const slack = 120_000; // ms that two clocks may differ without a question
const year = 370 * 24 * 3600 * 1000;

export function openForm(leaf: HTMLElement, of: Declared, site: string, keeper: Keeper): Form {
  const form = leaf.querySelector<HTMLFormElement>("form.entry")!;
  const part = (name: string): HTMLElement => leaf.querySelector<HTMLElement>(`[data-part="${name}"]`)!;
  const kept = drafts(site);
  const boxOf = (t: Test): HTMLElement => form.querySelector<HTMLElement>(`[data-test="${t.name}"]`)!;
  const input = (name: string): HTMLInputElement => form.elements.namedItem(name) as HTMLInputElement;
  const choice = (name: string): HTMLSelectElement => form.elements.namedItem(name) as HTMLSelectElement;
  const unitField = (t: Test): HTMLSelectElement => boxOf(t).querySelector<HTMLSelectElement>("select")!;
  const unitOf = (t: Test): Unit => t.units.find((u) => u.code === unitField(t).value) ?? t.units[0]!;
  let id = newId();
  let editing: Reading | undefined;
  let dated = false; // the reader has set date and time
  let began: Date | undefined; // when the first thing was typed: that is when it was read
  let sure = false; // the reader wants the date as it is
  let saving = false;
  let saved = -Infinity; // when a reading was saved last
  let onward = false; // the key under the finger has gone on to another field
  let touched = false; // it holds something that is not saved

  for (const t of of.tests) {
    const units = unitField(t);
    // One unit alone is text.
    for (const o of [...units.options]) if (o.dataset.files !== undefined) o.remove();
    if (units.options.length > 1) continue;
    const alone = document.createElement("span");
    alone.className = "unit";
    alone.textContent = t.symbol;
    units.hidden = true;
    units.after(alone);
  }

  // ---- reading the form

  const said = (t: Test): boolean => input(t.name).value.trim() !== "";

  function dirty(): boolean {
    return of.tests.some(said) || input("note").value.trim() !== "" || of.choices.some((c) => !c.kit && choice(c.name).value !== c.byDefault);
  }

  function moment(): string {
    const at = input("at").value;
    if (editing && at === editing.at.slice(0, 16)) return editing.at; // to the second, and with its offset
    if (!dated && began && at === localField(began)) return iso(began);
    const made = new Date(at);
    return Number.isNaN(made.getTime()) ? "" : iso(made);
  }

  function collect(at: string): Reading {
    const reading: Reading = { id, at, entered: editing?.entered || new Date().toISOString(), numbers: {}, typed: {}, choices: {}, note: input("note").value.trim() };
    for (const t of of.tests) {
      if (!said(t)) continue;
      const [{ value, plain }, unit] = [typed(input(t.name).value), unitOf(t)];
      reading.numbers[t.name] = inOwn(value, unit, t);
      reading.typed[t.name] = asTyped(plain, unit);
    }
    for (const c of of.choices) reading.choices[c.name] = choice(c.name).value;
    return whole(reading, of);
  }

  // ---- faults and questions

  function blame(field: HTMLElement, text: string): void {
    const p = document.createElement("p");
    p.className = "fault";
    p.id = `${field.id}_fault`;
    p.textContent = text;
    field.parentElement!.append(p);
    field.setAttribute("aria-invalid", "true");
    field.setAttribute("aria-describedby", p.id);
  }

  function unblame(): void {
    form.querySelectorAll(".fault").forEach((p) => p.remove());
    form.querySelectorAll("[aria-invalid]").forEach((f) => {
      f.removeAttribute("aria-invalid");
      f.removeAttribute("aria-describedby");
    });
  }

  // question asks about a date that a clock may have got wrong; "" if none is to ask.
  function question(at: string): string {
    const [now, then] = [Date.now(), Date.parse(at)];
    if (then > now + slack) return `The reading is dated ${time(at)}, which is in the future: it is ${time(iso(new Date()))} now by this device’s clock. Is the date right?`;
    if (editing || dated) return "";
    if (now < keeper.lastEntered() - slack) return `This device’s clock says ${time(at)}, but you entered a reading before, when it said ${time(iso(new Date(keeper.lastEntered())))}. The clock has gone back. Is the date right?`;
    const newest = keeper.newest();
    if (newest && then - Date.parse(newest.at) > year) return `This device’s clock says ${time(at)}, more than a year after your last reading of ${date(newest.at)}. Is the date right?`;
    return "";
  }

  // partUnit puts a unit that was typed behind a number where it belongs: into the
  // choice of units, or of what the kit counts in.
  function partUnit(t: Test): void {
    const { value, unit: name } = typed(input(t.name).value);
    const code = codeOf(name);
    if (Number.isNaN(value) || !code) return;
    const kit = of.choices.find((c) => c.name === t.basis);
    const option = kit?.options.find((o) => o.unit === code);
    if (kit && option) choice(kit.name).value = option.name;
    else if ([...unitField(t).options].some((o) => o.value === code)) pickUnit(t, code);
    else return;
    input(t.name).value = input(t.name).value.replace(name, "").trim();
    label();
  }

  async function submit(): Promise<void> {
    if (saving) return;
    unblame();
    part("ask").hidden = true;
    of.tests.forEach(partUnit);
    for (const t of of.tests) {
      const why = said(t) ? fault(input(t.name).value, unitOf(t), t) : "";
      if (why) blame(input(t.name), why);
    }
    const at = moment();
    if (at === "") blame(input("at"), "is no date with a time; expected both, such as 12 July 2025, 07:05");
    const wrong = form.querySelector<HTMLElement>("[aria-invalid]");
    if (wrong) return wrong.focus();
    const reading = collect(at);
    if (isEmpty(reading)) {
      if (performance.now() - saved < twice) return; // the second tap of a wet finger
      keeper.tell("The form is empty: type at least one number, or choose what the fish do.");
      return;
    }
    const asks = sure ? "" : question(at);
    if (asks) {
      part("question").textContent = asks;
      part("ask").hidden = false;
      part("question").focus();
      return;
    }
    if (!editing && keeper.find(id)) reading.id = newId(); // another tab has saved the same draft
    saving = true;
    const slow = setTimeout(() => keeper.tell("Not saved yet: this browser is slow to answer. What you typed stays in the form."), twice);
    try {
      if (await keeper.save(reading, editing !== undefined)) {
        empty();
        saved = performance.now();
      }
    } finally {
      clearTimeout(slow);
      saving = false;
    }
  }

  // ---- filling the form

  // empty makes room for the next reading. Units and kits stay.
  function empty(): void {
    unblame();
    part("ask").hidden = true;
    for (const t of of.tests) input(t.name).value = "";
    for (const c of of.choices) if (!c.kit) choice(c.name).value = c.byDefault;
    input("note").value = "";
    kept.clear(id);
    [id, editing, dated, began, sure, touched] = [newId(), undefined, false, undefined, false, false];
    now();
    label();
  }

  // now sets the date, unless the reader has, or has begun to type.
  function now(): void {
    if (!dated && !began && !editing) input("at").value = localField(new Date());
  }

  // label says which kits the numbers are from, and what the form does.
  function label(): void {
    for (const t of of.tests) {
      const kit = of.choices.find((c) => c.name === t.basis);
      const basis = boxOf(t).querySelector<HTMLElement>('[data-part="basis"]')!;
      basis.textContent = kit ? (choice(kit.name).selectedOptions[0]?.text ?? "") : "";
    }
    part("entry").textContent = editing ? `Change the reading of ${time(editing.at)}` : "A new reading";
    form.querySelector<HTMLElement>('[data-do="cancel"]')!.hidden = !editing;
  }

  function pick(c: Choice, name: string | undefined): void {
    if (name !== undefined && c.options.some((o) => o.name === name)) choice(c.name).value = name;
  }

  function pickUnit(t: Test, code: string | undefined): void {
    const units = unitField(t);
    if ([...units.options].some((o) => o.value === code)) units.value = code ?? "";
  }

  function put(reading: Reading): void {
    for (const t of of.tests) {
      const typed = reading.typed[t.name];
      const [, text = "", code] = /^(\S+)(?: (\S+))?$/.exec(typed ?? "") ?? [];
      pickUnit(t, code ?? t.code);
      const offered = unitField(t).value === (code ?? t.code);
      input(t.name).value = typed === undefined ? "" : offered ? text : String(reading.numbers[t.name]);
    }
    for (const c of of.choices) pick(c, reading.choices[c.name] ?? (c.kit ? undefined : c.byDefault));
    input("note").value = reading.note;
    input("at").value = reading.at.slice(0, 16);
  }

  function restore(draft: Draft): void {
    for (const [name, value] of Object.entries(draft.fields)) {
      const field = form.elements.namedItem(name);
      if (field instanceof HTMLInputElement) field.value = value;
      else if (field instanceof HTMLSelectElement && [...field.options].some((o) => o.value === value)) field.value = value;
    }
    for (const t of of.tests) pickUnit(t, draft.units[t.name]);
    [id, dated, touched] = [draft.id, draft.dated, true];
    if (draft.changes) editing = keeper.find(draft.id);
    if (draft.changes && !editing) id = newId(); // erased meanwhile: what was typed is a reading of its own
    input("at").value = draft.at.slice(0, 16);
    if (!dated) began = new Date(draft.at);
  }

  function remember(): void {
    if (!dirty() && !editing) return kept.clear(id);
    const fields = Object.fromEntries([...new FormData(form)].filter((e): e is [string, string] => typeof e[1] === "string" && e[0] !== "at"));
    kept.save({ id, changes: editing !== undefined, at: !dated && began ? localField(began) + iso(began).slice(16, 19) : input("at").value, dated, fields, units: Object.fromEntries(of.tests.map((t) => [t.name, unitField(t).value])) });
  }

  form.addEventListener("input", (e) => {
    const field = e.target as HTMLElement;
    touched = true;
    if (field === input("at")) [dated, sure] = [true, false];
    else if (!began && !dated && !editing) {
      began = new Date();
      input("at").value = localField(began);
    }
    label();
    remember();
  });
  form.addEventListener("focusout", (e) => {
    const test = of.tests.find((t) => input(t.name) === e.target);
    if (test) partUnit(test);
  });
  // On a phone the key at the lower right goes on to the next test.
  form.addEventListener("keydown", (e) => {
    if (e.key !== "Enter" || !(e.target instanceof HTMLInputElement) || e.isComposing) return;
    const at = of.tests.findIndex((t) => input(t.name) === e.target);
    const next = of.tests[at + 1];
    if (at < 0 || !next) return; // and behind the last one it saves
    e.preventDefault();
    onward = true;
    input(next.name).focus();
  });
  // The rest of that key stroke reaches the next field, where it would save.
  form.addEventListener("keypress", (e) => {
    if (onward && e.key === "Enter") e.preventDefault();
  });
  form.addEventListener("keyup", () => (onward = false));
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    void submit();
  });
  const press = (name: string, act: () => void): void => form.querySelector(`[data-do="${name}"]`)!.addEventListener("click", act);
  press("sure", () => {
    sure = true;
    void submit();
  });
  press("unsure", () => {
    part("ask").hidden = true;
    input("at").focus();
  });
  press("empty", () => {
    empty();
    keeper.tell("The form is empty.");
  });
  press("cancel", () => {
    empty();
    keeper.tell("The reading is as it was.");
  });
  document.addEventListener("visibilitychange", () => form.isConnected && now());

  return {
    begin() {
      const facts = look();
      for (const c of of.choices) {
        choice(c.name).value = c.byDefault;
        if (!c.kit) continue;
        const last = keeper.newest()?.choices[c.name];
        pick(c, last ?? facts.get(c.fact)?.text);
      }
      for (const t of of.tests) pickUnit(t, /\s(\S+)$/.exec(keeper.newest()?.typed[t.name] ?? facts.get(t.fact)?.text ?? "")?.[1]);
      for (const draft of kept.load()) {
        // A reading of that id is there already if the leaf was lost after saving it.
        if (!draft.changes && keeper.find(draft.id)) {
          kept.clear(draft.id);
          continue;
        }
        restore(draft);
        keeper.tell("What you had typed is still here. It is not saved yet.");
        break;
      }
      now();
      label();
    },
    edit(reading) {
      if (touched && (dirty() || editing)) return false;
      empty();
      [id, editing] = [reading.id, reading];
      put(reading);
      label();
      remember();
      part("entry").focus();
      return true;
    },
  };
}
