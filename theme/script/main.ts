// The script of every leaf. All it does is bring calculation pads to life;
// without it a leaf shows the same pads with their worked examples.
import { bringToLife } from "./pad";

// The address of the calculators' module, relative to the leaf. It must be read
// now: later there is no current script.
const address = (document.currentScript as HTMLScriptElement | null)?.dataset.module;
if (address) bringToLife(address);
