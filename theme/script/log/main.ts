// The script that the leaf log.html loads beside that of every leaf.
import { openLog, shelf } from "./page";
import { begin } from "../record/kept";
import { open } from "../module/thread";

const script = document.currentScript as HTMLScriptElement | null;
const site = new URL("../", script?.src ?? location.href).pathname;
const leaf = document.querySelector<HTMLElement>(".log");
const { module: address, thread } = document.querySelector<HTMLElement>("script[data-module]")?.dataset ?? {};
begin(site);
if (leaf) openLog(leaf, shelf(site), address && thread ? open(thread, address) : () => Promise.reject(new Error("no module")));
