// The script of every leaf. It brings calculation pads to life, which without it
// show their worked examples, and the leaf of the pond record.
import { listenForKey } from "./find/key";
import { begin as beginMeasures, offer, wanted } from "./units/system";
import { keepOffline } from "./keep/load";
import { bringToLife } from "./reckon/pad";
import { begin } from "./record/kept";
import { openRecord } from "./record/page";
import { open } from "./module/thread";

// The addresses of the calculators' module and of the workers, relative to the leaf, and of this script must be read now: later there is no current script.
const script = document.currentScript as HTMLScriptElement | null;
const { module: address, thread } = script?.dataset ?? {};
const site = new URL("../", script?.src ?? location.href).pathname;
begin(site);
beginMeasures(site);
offer(document);
turnUnits();
const leaf = document.querySelector<HTMLElement>(".record");
const pads = document.querySelector("form[data-calculator]");
const module = (leaf || pads) && address && thread ? open(thread, address) : () => Promise.reject(new Error("no module"));
if (pads && address && thread) bringToLife(document, module);
listenForKey();
if (leaf) openRecord(leaf, module);
if (script?.dataset.keeper && script.dataset.offline) keepOffline(script.dataset.keeper, script.dataset.offline);

// turnUnits gets the script that shows other units, once one of them is wanted.
function turnUnits(): void {
  const [address, text] = [script?.dataset.units, document.querySelector("main")];
  if (!address || !text) return;
  const watch = new MutationObserver(load);
  function load(): void {
    if (!text || !address || !wanted(text)) return;
    watch.disconnect();
    const units = document.createElement("script");
    units.src = address;
    document.head.append(units);
  }
  watch.observe(document.documentElement, { attributes: true, attributeFilter: ["data-measure"] });
  load();
}
