// The form into which a reading is typed.
import { look } from "../record/kept";
import { local } from "../shared/day";
import { blame, unblame, type Leaf } from "../shared/leaf";
import { drafts } from "./draft";
import { Entry, fresh, isDirty, readingOf, sheetOf } from "./entry";
import { fieldsOf, type Fields } from "./fields";
import type { Log } from "./log";
import { isEmpty, newId, type Reading } from "./reading";
import { time } from "./time";

const twice = 1500; // ms in which a button is pressed twice by mistake

// Desk is what the parts of the form have in common.
interface Desk {
  form: HTMLFormElement;
  leaf: Leaf;
  fields: Fields;
  log: Log;
  entry: Entry;
}

export function openForm(leaf: Leaf, site: string, log: Log) {
  const { of, tell } = log;
  const form = leaf.root.querySelector<HTMLFormElement>("form.entry")!;
  const [fields, kept, entry] = [fieldsOf(form, of), drafts(site), new Entry()];
  const desk: Desk = { form, leaf, fields, log, entry };
  const { sheet, write } = fields;
  const holds = (): boolean => isDirty(sheet(), of) || entry.editing !== undefined;

  function remember(): void {
    if (holds()) kept.save(entry.draft(sheet()));
    else kept.clear(entry.id);
  }

  function empty(): void {
    unblame(form);
    leaf.part("ask").hidden = true;
    kept.clear(entry.id);
    fields.empty();
    entry.begin();
    labelForm(desk);
  }

  typing(desk, remember);
  submitting(desk, empty);
  for (const [name, says] of [["empty", "The form is empty."], ["cancel", "The reading is as it was."]] as const) {
    leaf.on(name, () => {
      empty();
      tell(says);
    });
  }
  return {
    // begin fills it once the readings are there.
    begin(): void {
      const facts = look();
      write(fresh(of, log.all.at(-1), (name) => facts.get(name)?.text));
      const draft = kept.load().find((d) => entry.restore(d, log.all) || kept.clear(d.id));
      if (draft) {
        write({ ...draft, at: draft.at.slice(0, 16) });
        tell("What you had typed is still here. It is not saved yet.");
      }
      labelForm(desk);
    },
    // edit is false if it holds something not saved.
    edit(reading: Reading): boolean {
      if (entry.touched && holds()) return false;
      empty();
      entry.begin(reading);
      write(sheetOf(reading, of));
      labelForm(desk);
      remember();
      leaf.part("entry").focus();
      return true;
    },
  };
}

// labelForm says what the form does, and sets its date, unless the reader has, or has
// begun to type.
function labelForm({ leaf: { part, button }, fields, entry: { dated, began, editing } }: Desk): void {
  if (!dated && !began && !editing) fields.field("at").value = local(new Date());
  fields.label();
  part("entry").textContent = editing ? `Change the reading of ${time(editing.at)}` : "A new reading";
  button("cancel").hidden = !editing;
}

function typing(desk: Desk, remember: () => void): void {
  const { form, fields: { field, part }, log: { of: { tests } }, entry } = desk;
  form.addEventListener("input", (e) => {
    const now = entry.type(e.target === field("at"));
    if (now) field("at").value = now;
    labelForm(desk);
    remember();
  });
  form.addEventListener("focusout", (e) => part(tests.filter((t) => field(t.name) === e.target)));
  document.addEventListener("visibilitychange", () => form.isConnected && labelForm(desk));
  // On a phone the key at the lower right goes on to the next test; behind the last one
  // it saves. The rest of that key stroke reaches the next field, where it would save.
  let onward = false;
  form.addEventListener("keydown", (e) => {
    const at = tests.findIndex((t) => field(t.name) === e.target);
    const next = tests[at + 1];
    if (e.key !== "Enter" || e.isComposing || at < 0 || !next) return;
    e.preventDefault();
    onward = true;
    field(next.name).focus();
  });
  form.addEventListener("keypress", (e) => {
    if (onward && e.key === "Enter") e.preventDefault();
  });
  form.addEventListener("keyup", () => (onward = false));
}

function submitting({ form, leaf: { part, on }, fields: { field, sheet, part: move }, log, entry }: Desk, empty: () => void): void {
  const { of, tell } = log;
  let saving = false;
  let saved = -Infinity; // when a reading was saved last

  async function save(reading: Reading): Promise<void> {
    saving = true;
    const slow = setTimeout(() => tell("Not saved yet: this browser is slow to answer. What you typed stays in the form."), twice);
    try {
      if (!(await log.save(reading, entry.editing !== undefined))) return;
      empty();
      saved = performance.now();
      void navigator.storage?.persist?.().catch(() => false); // so that the browser erases other things first
    } finally {
      clearTimeout(slow);
      saving = false;
    }
  }

  function submit(): void {
    if (saving) return;
    unblame(form);
    part("ask").hidden = true;
    move(of.tests);
    const at = entry.moment(sheet().at);
    const { reading, wrong } = readingOf(sheet(), of, entry.id, at, entry.editing?.entered || new Date().toISOString());
    if (at === "") wrong.push(["at", "is no date with a time; expected both, such as 12 July 2025, 07:05"]);
    for (const [name, why] of wrong) blame(field(name).parentElement!, field(name), why, `${field(name).id}_fault`);
    if (wrong[0]) return field(wrong[0][0]).focus();
    if (isEmpty(reading)) {
      // Not at the second tap of a wet finger.
      if (performance.now() - saved >= twice) tell("The form is empty: type at least one number, or choose what the fish do.");
      return;
    }
    const asks = entry.question(at, log.all);
    part("question").textContent = asks;
    part("ask").hidden = asks === "";
    if (asks) return part("question").focus();
    if (!entry.editing && log.find(entry.id)) reading.id = newId(); // another tab has saved the same draft
    void save(reading);
  }

  form.addEventListener("submit", (e) => {
    e.preventDefault();
    submit();
  });
  on("sure", () => {
    entry.sure = true;
    submit();
  });
  on("unsure", () => {
    part("ask").hidden = true;
    field("at").focus();
  });
}
