// Has the calculators' module loaded and asked in a thread of its own.
import type { Order, Report } from "./messages";
import type { Ask, Reply } from "./load";

// open starts the thread, which is small, at once: a leaf that has been shown can
// then reckon without a signal. What it returns has the module loaded in it, once.
export function open(script: string, module: string): () => Promise<Ask> {
  let started: Worker | undefined;
  let refused: unknown;
  try {
    started = new Worker(script);
    started.onerror = () => {
      refused = stopped(); // before anybody has asked
      started = undefined;
    };
  } catch (reason) {
    refused = reason; // such as that of a folder without a server
  }
  let ask: Promise<Ask> | undefined;
  return () => (ask ??= started ? begin(started, module) : Promise.reject(refused));
}

const stopped = (): Error => new Error("the thread of the calculators has stopped");

function begin(thread: Worker, module: string): Promise<Ask> {
  const waiting = new Map<number, [give: (reply: Reply) => void, fail: (reason: unknown) => void]>();
  const order = (o: Order): void => thread.postMessage(o);
  let last = 0;
  let ended: Error | undefined;
  const ask: Ask = (request) =>
    new Promise((give, fail) => {
      if (ended) return fail(ended); // it would never answer
      waiting.set(++last, [give, fail]);
      order({ number: last, request });
    });
  return new Promise((ready, missing) => {
    thread.onmessage = ({ data }: MessageEvent<Report>) => {
      if (data.is === "ready") ready(ask);
      else if (data.is === "missing") missing(new Error(data.why));
      else {
        const [give, fail] = waiting.get(data.number) ?? [];
        waiting.delete(data.number);
        if (data.is === "answer") give?.(data.reply);
        else fail?.(new Error(data.why));
      }
    };
    // The script did not come, or the thread ended for want of memory.
    thread.onerror = () => {
      ended = stopped();
      missing(ended);
      for (const [, fail] of waiting.values()) fail(ended);
      waiting.clear();
    };
    order({ module: new URL(module, location.href).href });
  });
}
