// The calculation pads of a leaf.
import { addLine, boxes, conditions, field, fill, labelOf, lines, moveUnit, names, points, removeLine, reset, saidLines, stated, touched, unfold, untouched, type Said } from "./fields";
import { leaf, replace } from "../shared/address";
import { fill as fillAnswer } from "../module/answer";
import { escaped, refused } from "../module/limits";
import type { Ask, Reply } from "../module/load";
import { onLeave, watch as watchRecord } from "../record/kept";
import { yours, type Yours } from "./yours";

// bringToLife makes the pads of a leaf calculate. The module is fetched when the
// first pad comes near the window, or at once if a link brought numbers along.
export function bringToLife(scope: ParentNode, module: () => Promise<Ask>): void {
  const forms = [...scope.querySelectorAll<HTMLFormElement>("form[data-calculator]")];
  let started = false;
  const start = (): void => {
    if (started) return;
    started = true;
    watch.disconnect();
    void enable(forms, module);
  };
  const watch = new IntersectionObserver((seen) => seen.some((s) => s.isIntersecting) && start(), { rootMargin: "300px" });
  for (const form of forms) watch.observe(form);
  if (forms.some((form) => brought(form, forms).size > 0)) start();
}

async function enable(forms: HTMLFormElement[], module: () => Promise<Ask>): Promise<void> {
  for (const form of forms) say(form, "Getting the calculator ready …");
  try {
    const reckon = await module();
    await Promise.all(forms.map((form) => wire(form, reckon, brought(form, forms))));
  } catch (reason) {
    console.warn(reason);
    for (const form of forms) say(form, "The calculator could not be loaded: what you see is the worked example. Reload the leaf when you have a signal.");
  }
}

function say(form: Element, text: string): void {
  const state = form.querySelector(".state");
  if (state) state.textContent = text;
}

// brought is what the address of the leaf says to the inputs: behind "#ID?", or
// behind "?" to the leaf's first pad.
function brought(form: HTMLFormElement, forms: HTMLFormElement[]): Map<HTMLElement, string> {
  const mark = `#${form.dataset.calculator}?`;
  const query = location.hash.startsWith(mark) ? location.hash.slice(mark.length) : form === forms[0] ? leaf.query() : "";
  const values = new URLSearchParams(query);
  const found = new Map<HTMLElement, string>();
  for (const box of boxes(form, "input")) {
    const name = names(box).find((n) => values.has(n));
    if (name !== undefined) found.set(box, values.get(name) ?? "");
  }
  return found;
}

// start fills in a ready scenario, and puts it into the leaf's address, as a link
// would bring it, so that a reload shows it again. What the scenario leaves to
// its default stands there empty, or the worked example or the pond record would
// fill it.
function start(form: HTMLFormElement, ready: string, values: Map<HTMLElement, string>, own: Yours, example: Set<HTMLElement>): void {
  const stated = new URLSearchParams(ready);
  values.clear();
  for (const box of boxes(form, "input")) {
    const value = stated.get(box.dataset.input ?? "");
    reset(box);
    if (value !== null) fill(box, value);
    if (value !== null || own.has(box) || example.has(box)) values.set(box, value ?? "");
  }
  address(form, (query) => {
    for (const box of boxes(form, "input")) names(box).forEach((n) => query.delete(n));
    for (const [box, value] of values) query.set(box.dataset.input ?? "", value);
  });
}

async function wire(form: HTMLFormElement, reckon: Ask, values: Map<HTMLElement, string>): Promise<void> {
  const damaged = new Set<HTMLElement>(); // what a link says to them is no choice there
  const tell = (): void => {
    const lost = [...damaged].map((box) => `“${labelOf(box)}”`);
    say(form, (lost.length > 0 ? `The link is damaged: what it says of ${lost.join(" and ")} is no choice here. Fill that in. ` : "") + own.say());
  };
  const renewAnswer = answering(form, reckon, (blamed) => {
    own.settle(blamed);
    if (!form.contains(document.activeElement)) tell();
  });
  const update = (): void => {
    conditions(form);
    points(form);
    lines(form).forEach((line, i) => line.querySelector(".remove")?.setAttribute("aria-label", `Remove row ${i + 1}`));
    void renewAnswer();
  };
  const example = new Set(boxes(form, "input").filter((box) => box.dataset.stated !== undefined));
  for (const [box, value] of values) {
    if (value && !fill(box, value)) damaged.add(box);
    if (!value) reset(box);
    if (value) unfold(box);
  }
  const own = yours(form, values.keys(), (of, texts) => refused(reckon, of, texts));
  const renew = async (): Promise<void> => {
    if (await own.renew()) update();
  };
  const typed = (inside: Element): void => {
    const box = inside.closest<HTMLElement>("[data-input]");
    if (box) own.typed(box);
    if (box) damaged.delete(box);
    if (box && values.delete(box)) forget(form, box);
    update();
  };
  watchRecord(() => void renew());
  form.addEventListener("input", (e) => {
    touched(e.target as Element);
    typed(e.target as Element);
  });
  // Words above the field that is being typed into would move it.
  form.addEventListener("focusout", (e) => {
    if (moveUnit(e.target as Element)) typed(e.target as Element);
    own.left();
    setTimeout(() => void renew());
    tell();
  });
  onLeave(() => own.leave());
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("click", (e) => {
    const button = (e.target as Element).closest("button");
    const line = button?.closest<HTMLElement>(".line");
    const list = button?.closest(".list");
    if (button?.dataset.ready) {
      start(form, button.dataset.ready, values, own, example);
      own.lend(button.textContent, button.dataset.story ?? "");
      damaged.clear();
      update();
      tell();
    }
    if (!button || !list) return;
    if (line) {
      removeLine(line);
      list.querySelector<HTMLElement>(".add")?.focus();
    } else {
      const added = addLine(list);
      if (added) field(added)?.focus();
    }
    typed(list);
  });
  const filled = await own.renew();
  form.querySelector("fieldset")?.removeAttribute("disabled");
  form.querySelectorAll<HTMLElement>("button, .ready").forEach((b) => (b.hidden = false));
  if (filled || values.size > 0) update();
  tell();
}

// answering returns what has a pad answered. One question is on its way at a time:
// what is typed meanwhile is asked as one after it, and only its answer is shown.
function answering(form: HTMLFormElement, reckon: Ask, settled: (blamed: Set<HTMLElement>) => void): () => Promise<void> {
  let asking = false;
  let stale = false;
  return async () => {
    stale = true;
    if (asking) return;
    asking = true;
    const answer = form.querySelector(".answer");
    answer?.setAttribute("aria-busy", "true");
    while (stale) {
      stale = false;
      const { request, said } = ask(form);
      try {
        const reply = await reckon(request);
        if (!stale) settled(show(form, reply, said));
      } catch (reason) {
        console.warn(reason);
        answer?.classList.add("old");
        say(form, "The calculator has stopped: do not use the answer below. Reload the leaf.");
      }
    }
    answer?.removeAttribute("aria-busy");
    asking = false;
  };
}

// forget takes what a link said to a box out of the leaf's address, so that a
// reload shows what the reader has typed there since.
function forget(form: HTMLFormElement, box: HTMLElement): void {
  address(form, (values) => names(box).forEach((n) => values.delete(n)));
}

// address changes what the leaf's address says to a pad.
function address(form: HTMLFormElement, change: (values: URLSearchParams) => void): void {
  const mark = `#${form.dataset.calculator}?`;
  const inFragment = location.hash.startsWith(mark) || form !== document.querySelector("form[data-calculator]");
  const values = new URLSearchParams(!inFragment ? leaf.query() : location.hash.startsWith(mark) ? location.hash.slice(mark.length) : "");
  change(values);
  if (inFragment) replace(`${mark}${values}`);
  else leaf.setQuery(String(values));
}

// ask writes the request, and says which lines of which list it numbers.
function ask(form: HTMLFormElement): { request: string; said: Map<string, Said[]> } {
  let request = form.dataset.calculator ?? "";
  const said = new Map<string, Said[]>();
  for (const box of boxes(form, "input")) {
    const name = box.dataset.input ?? "";
    if (box.hidden) continue;
    let value = "";
    if (box.classList.contains("list")) {
      const rows = saidLines(box);
      said.set(name, rows);
      if (!untouched(box)) value = rows.map((row) => row.text).join("; ");
    } else value = stated(box);
    if (value) request += `\n${name}=${escaped(value)}`;
  }
  return { request, said };
}

// show puts a reply on the leaf, and returns the boxes whose inputs it refuses.
function show(form: HTMLFormElement, reply: Reply, said: Map<string, Said[]>): Set<HTMLElement> {
  form.querySelectorAll(".fault").forEach((fault) => fault.remove());
  form.querySelectorAll("[aria-invalid]").forEach((f) => {
    f.removeAttribute("aria-invalid");
    f.removeAttribute("aria-describedby");
  });
  const title = nameOf(form);
  const answer = form.querySelector(".answer");
  const faults = form.querySelector(".faults");
  answer?.classList.toggle("old", !reply.ok);
  if (faults) faults.innerHTML = reply.ok ? "" : reply.html;
  if (reply.ok) {
    if (answer) renew(answer, fillAnswer(reply.html, title, form.dataset));
    return new Set();
  }
  return new Set(reply.errors.flatMap((error, i) => blame(form, error, said, `${title}_fault_${i}`) ?? []));
}

// nameOf is the id of a pad's title, which begins the ids of what is in it.
function nameOf(form: HTMLFormElement): string {
  return form.parentElement?.getAttribute("aria-labelledby") ?? "";
}

// renew puts a new answer in the place of the old one. The status region stays
// the same element, or a screen reader would not announce what changes in it.
function renew(answer: Element, fresh: DocumentFragment): void {
  for (const fold of answer.querySelectorAll("details[open]")) {
    fresh.querySelector(`details.${fold.className}`)?.setAttribute("open", "");
  }
  const status = answer.querySelector(".found");
  const news = fresh.querySelector(".found");
  if (status && news) {
    while (status.nextSibling) status.nextSibling.remove();
    status.replaceChildren(...news.childNodes);
    news.remove();
    answer.append(fresh);
  } else answer.replaceChildren(fresh);
}

// blame writes what is wrong under the field it is wrong in, and returns the input's
// box; the list of faults names what has none.
function blame(form: HTMLFormElement, error: { input: string; text: string }, said: Map<string, Said[]>, id: string): HTMLElement | undefined {
  const [, name = error.input, row, column] = /^(.+?) row (\d+)(?:, (.+))?$/.exec(error.input) ?? [];
  const input = boxes(form, "input").find((b) => b.dataset.input === name);
  let box = input;
  const line = row && said.get(name)?.[Number(row) - 1]?.line;
  if (line) box = boxes(line, "column").find((cell) => cell.dataset.column === column) ?? line;
  if (!box) return undefined;
  const fault = document.createElement("p");
  fault.className = "fault";
  fault.id = id;
  fault.textContent = error.text;
  box.append(fault);
  unfold(box);
  const f = field(box);
  f?.setAttribute("aria-invalid", "true");
  f?.setAttribute("aria-describedby", id);
  return input;
}
