// What every leaf with a script has: its template names by data-part what is filled,
// by data-do what is pressed, by data-ready what only a script makes good for anything,
// and data-part="plain" what is said without one.

export type Leaf = ReturnType<typeof leafOf>;

export function leafOf(root: HTMLElement) {
  const part = <E extends HTMLElement = HTMLElement>(name: string): E => root.querySelector<E>(`[data-part="${name}"]`)!;
  const button = (name: string): HTMLElement => root.querySelector<HTMLElement>(`[data-do="${name}"]`)!;
  root.querySelectorAll<HTMLElement>("[data-ready]").forEach((e) => (e.hidden = false));
  part("plain").hidden = true;
  return {
    root,
    part,
    button,
    on: (name: string, act: () => void): void => button(name).addEventListener("click", act),
    // tell says what has been done. Empty lines are left out.
    tell: (...lines: string[]): void => part("said").replaceChildren(...lines.filter(Boolean).map((line) => element("p", line))),
  };
}

// show fills a part, which is hidden if there is nothing to say.
export function show(part: HTMLElement, text: string): void {
  part.hidden = text === "";
  part.textContent = text;
}

export function element<K extends keyof HTMLElementTagNameMap>(tag: K, text = "", className = ""): HTMLElementTagNameMap[K] {
  const e = document.createElement(tag);
  e.textContent = text;
  if (className) e.className = className;
  return e;
}

// onFile calls back with each file that is chosen in a field. The same may be chosen
// again.
export function onFile(field: HTMLInputElement, take: (file: File) => Promise<void>): void {
  field.addEventListener("change", () => {
    const file = field.files?.[0];
    if (file) void take(file).finally(() => (field.value = ""));
  });
}

// blame writes what is wrong with a field into a box around it.
export function blame(box: Element, field: Element | null, text: string, id: string): void {
  const fault = element("p", text, "fault");
  fault.id = id;
  box.append(fault);
  field?.setAttribute("aria-invalid", "true");
  field?.setAttribute("aria-describedby", id);
}

export function unblame(form: Element): void {
  form.querySelectorAll(".fault").forEach((fault) => fault.remove());
  for (const field of form.querySelectorAll("[aria-invalid]")) ["aria-invalid", "aria-describedby"].forEach((name) => field.removeAttribute(name));
}

// saveAs downloads a text.
export function saveAs(text: string, name: string, type: string): void {
  const a = element("a");
  const address = URL.createObjectURL(new Blob([text], { type }));
  a.href = address;
  a.download = name;
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
