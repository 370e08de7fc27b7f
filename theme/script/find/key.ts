// The key "/" opens the leaf that finds words, or goes to its field. A reader who
// speaks to the computer switches it off there (WCAG 2.2, 2.1.4).

const name = "find key";

export function keyIsOn(): boolean {
  try {
    return localStorage.getItem(name) !== "off";
  } catch {
    return true;
  }
}

export function switchKey(on: boolean): void {
  try {
    if (on) localStorage.removeItem(name);
    else localStorage.setItem(name, "off");
  } catch (reason) {
    console.debug(reason); // a browser that keeps nothing has the key on
  }
}

export function listenForKey(): void {
  document.addEventListener("keydown", (e) => {
    if (e.key !== "/" || e.ctrlKey || e.altKey || e.metaKey || e.defaultPrevented || !keyIsOn()) return;
    if ((e.target as Element).closest("input, select, textarea, [contenteditable]")) return;
    const field = document.getElementById("find_words");
    const link = document.querySelector<HTMLElement>("[data-find]");
    if (!field && !link) return;
    e.preventDefault();
    if (field) field.focus();
    else link?.click();
  });
}
