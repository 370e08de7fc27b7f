// Shows a leaf's quantities in the reader's units. The script of every leaf loads
// it where it is wanted.
import { follow } from "./page";

const leaf = document.querySelector<HTMLElement>("main");
if (leaf) follow(leaf);
