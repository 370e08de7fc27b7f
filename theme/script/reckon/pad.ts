// The calculation pads of a leaf.
import { refused } from "../module/limits";
import type { Ask } from "../module/load";
import { onLeave, watch as watchRecord } from "../record/kept";
import { element } from "../shared/leaf";
import { answering, say } from "./answer";
import { addLine, boxes, conditions, field, fill, labelOf, lines, moveUnit, names, offers, points, removeLine, reset, saidOf, touched, unfold } from "./fields";
import { brought, forget } from "./link";
import { Yours, type Box } from "./yours";

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
  if (forms.some((form) => brought(form).size > 0)) start();
}

async function enable(forms: HTMLFormElement[], module: () => Promise<Ask>): Promise<void> {
  for (const form of forms) say(form, "Getting the calculator ready …");
  try {
    const reckon = await module();
    await Promise.all(forms.map((form) => wire(form, reckon)));
  } catch (reason) {
    console.warn(reason);
    for (const form of forms) say(form, "The calculator could not be loaded: what you see is the worked example. Reload the leaf when you have a signal.");
  }
}

// boxOf is an input's box as far as it matters whose its number is.
function boxOf(e: HTMLElement, calculator: string): Box {
  const [name, ...once] = names(e);
  return {
    name: name!,
    keys: [e.dataset.fact ?? `${calculator}.${name}`, ...once.map((n) => `${calculator}.${n}`)],
    label: labelOf(e),
    hidden: () => e.hidden,
    active: () => e.contains(document.activeElement),
    said: () => saidOf(e),
    offers: (text) => offers(e, text),
    fill(text) {
      fill(e, text);
      if (text) unfold(e);
    },
    state: () => (e.dataset.stated = ""),
    mark: (from) => mark(e, from),
  };
}

async function wire(form: HTMLFormElement, reckon: Ask): Promise<void> {
  const calculator = form.dataset.calculator ?? "";
  const all = new Map(boxes(form, "input").map((e) => [e, boxOf(e, calculator)]));
  const these = (some: Iterable<HTMLElement>): Box[] => [...some].flatMap((e) => all.get(e) ?? []);
  const values = brought(form); // what the address says
  const damaged = new Set<HTMLElement>(); // what a link says to them is no choice there
  const example = new Set([...all.keys()].filter((e) => e.dataset.stated !== undefined));
  for (const [e, value] of values) {
    if (!value) reset(e);
    else if (!fill(e, value)) damaged.add(e);
    if (value) unfold(e);
  }
  const own = new Yours([...all.values()], these(values.keys()), calculator, (of, texts) => refused(reckon, of, texts));
  const renewAnswer = answering(form, reckon, (blamed) => {
    own.settle(new Set(these(blamed)));
    if (!form.contains(document.activeElement)) tell();
  });

  function tell(): void {
    const lost = [...damaged].map((e) => `“${labelOf(e)}”`).join(" and ");
    const [place, whose] = [form.querySelector(".note .whose"), own.whose()];
    if (place && whose) place.textContent = whose;
    say(form, (lost && `The link is damaged: what it says of ${lost} is no choice here. Fill that in. `) + own.keeping());
  }
  function update(): void {
    conditions(form);
    points(form);
    lines(form).forEach((line, i) => line.querySelector(".remove")?.setAttribute("aria-label", `Remove row ${i + 1}`));
    void renewAnswer();
  }
  const renew = async (): Promise<void> => void ((await own.renew()) && update());
  function typed(inside: Element): void {
    const e = inside.closest<HTMLElement>("[data-input]");
    if (e) {
      these([e]).forEach((box) => own.typed(box));
      damaged.delete(e);
      if (values.delete(e)) forget(form, [e]);
    }
    update();
  }

  watchRecord(() => void renew());
  onLeave(() => own.leave());
  listen(form, typed, () => {
    own.left();
    setTimeout(() => void renew());
    tell();
  });
  scenarios(form, all, values, own, example, () => {
    damaged.clear();
    update();
    tell();
  });
  const filled = await own.renew();
  form.querySelector("fieldset")?.removeAttribute("disabled");
  form.querySelectorAll<HTMLElement>("button, .ready").forEach((b) => (b.hidden = false));
  if (filled || values.size > 0) update();
  tell();
}

// listen hears what is typed, lines of lists that come and go, and when a field is left:
// words above the one that is being typed into would move it.
function listen(form: HTMLFormElement, typed: (inside: Element) => void, left: () => void): void {
  form.addEventListener("input", (e) => {
    touched(e.target as Element);
    typed(e.target as Element);
  });
  form.addEventListener("focusout", (e) => {
    if (moveUnit(e.target as Element)) typed(e.target as Element);
    left();
  });
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("click", (e) => {
    const button = (e.target as Element).closest("button");
    const list = button?.closest(".list");
    const line = button?.closest<HTMLElement>(".line");
    if (!list) return;
    if (line) removeLine(line);
    const added = line ? undefined : addLine(list);
    (added ? field(added) : list.querySelector<HTMLElement>(".add"))?.focus();
    typed(list);
  });
}

// scenarios fill in what is ready, and put it into the leaf's address, as a link would
// bring it, so that a reload shows it again. What a scenario leaves to its default stands
// there empty, or the worked example or the pond record would fill it.
function scenarios(form: HTMLFormElement, all: Map<HTMLElement, Box>, values: Map<HTMLElement, string>, own: Yours, example: Set<HTMLElement>, filled: () => void): void {
  form.addEventListener("click", (e) => {
    const button = (e.target as Element).closest<HTMLButtonElement>("button[data-ready]");
    if (!button) return;
    const stated = new URLSearchParams(button.dataset.ready);
    values.clear();
    for (const [e, box] of all) {
      const value = stated.get(box.name);
      reset(e);
      if (value !== null) fill(e, value);
      if (value !== null || own.has(box) || example.has(e)) values.set(e, value ?? "");
    }
    forget(form, [...all.keys()], values);
    own.lend(button.textContent!, button.dataset.story ?? "");
    filled();
  });
}

// mark writes behind the help of a box where its number is from.
function mark(box: HTMLElement, from: string): void {
  const old = box.querySelector(".from");
  if (!from) return old?.remove();
  const text = old ?? element("b", "", "from");
  text.textContent = from;
  if (!old) box.querySelector("legend small, label small")?.append(" ", text);
}
