// The thread in which the calculators' module lives, so that a phone never stops
// to listen while it reckons.
import { get, type Reckon } from "../script/module/load";
import type { Order, Report } from "../script/module/messages";

declare const self: DedicatedWorkerGlobalScope;

let reckon: Reckon | undefined;

const tell = (report: Report): void => self.postMessage(report);

async function fetchModule(address: string): Promise<void> {
  try {
    reckon = await get(address);
    tell({ is: "ready" });
  } catch (reason) {
    tell({ is: "missing", why: String(reason) });
  }
}

function answer(number: number, request: string): void {
  try {
    if (!reckon) throw new Error("asked before the module was ready");
    tell({ is: "answer", number, reply: reckon(request) });
  } catch (reason) {
    tell({ is: "stopped", number, why: String(reason) });
  }
}

self.addEventListener("message", ({ data }: MessageEvent<Order>) => {
  if ("module" in data) void fetchModule(data.module);
  else answer(data.number, data.request);
});
