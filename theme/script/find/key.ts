// The key "/" opens the leaf that finds words, or goes to its field. A reader who
// speaks to the computer switches it off there (WCAG 2.2, 2.1.4).
import { store, stored } from "../shared/storage";

const name = "find key";

export const keyIsOn = (): boolean => stored(name) !== "off";

export const switchKey = (on: boolean): void => void store(name, on ? null : "off");

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
