// The script that the leaf find.html loads beside that of every leaf.
import { openFind } from "./page";
import type { Index } from "./index";

const leaf = document.querySelector<HTMLElement>(".find");

async function get(): Promise<Index> {
  const response = await fetch(leaf?.dataset.index ?? "");
  if (!response.ok) throw new Error(`${response.url}: ${response.status}`);
  return (await response.json()) as Index;
}

if (leaf) openFind(leaf, get, (to) => to);
