// Has a pad answered by the calculators' module, and shows what it says.
import { fill } from "../module/answer";
import { escaped } from "../module/limits";
import type { Ask, Reply } from "../module/load";
import { blame, unblame } from "../shared/leaf";
import { boxes, field, saidLines, stated, unfold, untouched, type Said } from "./fields";

export function say(form: Element, text: string): void {
  const state = form.querySelector(".state");
  if (state) state.textContent = text;
}

// answering returns what has a pad answered. One question is on its way at a time:
// what is typed meanwhile is asked as one after it, and only its answer is shown.
export function answering(form: HTMLFormElement, reckon: Ask, settled: (blamed: Set<HTMLElement>) => void): () => Promise<void> {
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
  unblame(form);
  const title = nameOf(form);
  const answer = form.querySelector(".answer");
  const faults = form.querySelector(".faults");
  answer?.classList.toggle("old", !reply.ok);
  if (faults) faults.innerHTML = reply.ok ? "" : reply.html;
  if (reply.ok) {
    if (answer) renew(answer, fill(reply.html, title, form.dataset));
    return new Set();
  }
  return new Set(reply.errors.flatMap((error, i) => blameInput(form, error, said, `${title}_fault_${i}`) ?? []));
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
function blameInput(form: HTMLFormElement, error: { input: string; text: string }, said: Map<string, Said[]>, id: string): HTMLElement | undefined {
  const [, name = error.input, row, column] = /^(.+?) row (\d+)(?:, (.+))?$/.exec(error.input) ?? [];
  const input = boxes(form, "input").find((b) => b.dataset.input === name);
  let box = input;
  const line = row && said.get(name)?.[Number(row) - 1]?.line;
  if (line) box = boxes(line, "column").find((cell) => cell.dataset.column === column) ?? line;
  if (!box) return undefined;
  blame(box, field(box), error.text, id);
  unfold(box);
  return input;
}
