// Has the whole handbook kept in this browser, and says on the leaf how far that
// is. What is kept, and how, is the work of theme/offline/worker.ts. This script
// is loaded after the leaf has been shown; see load.ts.
import { metered, readLeave, writeLeave, type Edition, type Leave, type News, type Question, type Why } from "../../offline/messages";
import { changes } from "./changes";

// again is how long after a failure it is tried again while a leaf is open, in
// milliseconds.
const again = 30_000;

interface Saying {
  text: string;
  part?: number; // of 1, on its way
  much?: string; // the same in words
  button?: [label: string, act: () => void];
  more?: string[]; // what has changed
}

// place fills the element on the leaf that says how far it is.
function place(box: Element): (saying: Saying) => void {
  box.innerHTML = `<p role="status"></p><p class="way" hidden><progress aria-label="Kept so far"></progress> <span></span></p><details hidden><summary>What has changed</summary><ul></ul></details><button class="do" hidden></button>`;
  const find = <E extends HTMLElement>(selector: string): E => box.querySelector<E>(selector)!;
  const [status, way, bar, much, more, list, button] = [find("[role]"), find(".way"), find<HTMLProgressElement>("progress"), find(".way span"), find("details"), find("ul"), find<HTMLButtonElement>("button")];
  return ({ text, part, much: words = "", button: does, more: lines = [] }) => {
    if (status.textContent !== text) status.textContent = text; // said aloud only when it is news
    way.hidden = part === undefined;
    bar.value = part ?? 0;
    much.textContent = words;
    more.hidden = lines.length === 0;
    list.replaceChildren(...lines.map((line) => Object.assign(document.createElement("li"), { textContent: line })));
    button.hidden = !does;
    if (does) [button.textContent, button.onclick] = does;
  };
}

function size(bytes: number): string {
  const mega = Math.max(bytes / 1e6, 0.1);
  return `${mega.toLocaleString(document.documentElement.lang, { maximumFractionDigits: 1 })}\u00a0MB`;
}

const instead = "Until then every leaf needs a signal. What you typed under My pond is not touched.";
const reasons: Record<Why, (all: string) => string> = {
  signal: () => "the signal was lost. It goes on where it stopped as soon as there is one.",
  changing: () => "the site is being changed just now. It is tried again.",
  full: (all) => `this browser has no room for ${all}. ${instead}`,
  refused: () => `this browser refuses to keep it. ${instead}`,
};

function ask<T>(worker: ServiceWorker, question: Question): Promise<T> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (e) => resolve(e.data as T);
    worker.postMessage(question, [port2]);
  });
}

class Keeper {
  private readonly site: string;
  private registration: ServiceWorkerRegistration | undefined;
  private told = ""; // what the edition under way has said last
  private agreed = false; // the reader wants the new edition on this leaf
  private past = false; // this leaf is of an edition that another has replaced
  private mending = false; // what was kept once is on its way again
  private timer = 0;

  constructor(
    private readonly address: string,
    private readonly say: (saying: Saying) => void,
  ) {
    this.site = new URL("./", address).pathname;
  }

  async start(): Promise<void> {
    if (!("serviceWorker" in navigator) || !("caches" in window)) {
      this.failed("refused", 0);
      return;
    }
    navigator.serviceWorker.addEventListener("message", (e) => this.hear(e.data as News));
    navigator.serviceWorker.addEventListener("controllerchange", () => this.overtaken());
    addEventListener("online", () => void this.bring());
    await this.bring();
  }

  // bring has the newest edition fetched, if that is allowed.
  private async bring(leave?: Leave): Promise<void> {
    clearTimeout(this.timer);
    try {
      const before = await readLeave(this.site);
      if (leave) await writeLeave(this.site, leave);
      else if (before === "" && !metered()) await writeLeave(this.site, "free");
      else if (before === "free" && metered()) await writeLeave(this.site, "");
      const registration = await navigator.serviceWorker.register(this.address, { scope: this.site, updateViaCache: "none" });
      if (registration !== this.registration) this.follow(registration);
      await this.show();
      if (registration.active) await registration.update();
    } catch (reason) {
      const name = reason instanceof DOMException ? reason.name : "";
      if (name === "QuotaExceededError") this.failed("full", 0);
      else if (name === "SecurityError" || name === "NotSupportedError") this.failed("refused", 0);
      else if (!this.registration?.active) this.failed("signal", 0);
    }
  }

  private follow(registration: ServiceWorkerRegistration): void {
    this.registration = registration;
    const watch = (): void => {
      const worker = registration.installing;
      worker?.addEventListener("statechange", () => {
        if (worker.state === "redundant" && this.told === "getting") this.failed("signal", 0); // ended by the browser
        if (worker.state === "installed" || worker.state === "activated") void this.show();
      });
    };
    registration.addEventListener("updatefound", watch);
    watch();
  }

  private hear(news: News): void {
    if (news.site !== this.site || this.past) return; // another handbook on this host
    this.told = news.is;
    switch (news.is) {
      case "getting":
        this.say({ text: this.registration?.active && !this.mending ? "A new edition is on its way." : "Getting the whole handbook for the pond.", part: news.done / news.all, much: `${size(news.done)} of ${size(news.all)}` });
        break;
      case "asking":
        if (metered()) this.offer(news.bytes);
        break;
      case "failed":
        this.failed(news.why, news.all);
        break;
      case "whole":
        this.mending = false;
        void this.show();
    }
  }

  // offer asks first where the connection counts data.
  private offer(bytes: number): void {
    const what = this.registration?.active ? "There is a new edition; the one kept here stays until you want it." : "The handbook can be kept here for the pond.";
    this.say({ text: `${what} Your connection may be paid by the amount: it takes up to ${size(bytes)}.`, button: ["Get it now", () => this.want()] });
  }

  // want is the reader's own wish, which also counts with the browser when it
  // looks for something to erase.
  private want(): void {
    void navigator.storage?.persist?.();
    this.say({ text: "Getting the whole handbook for the pond.", part: 0 });
    void this.bring("agreed");
  }

  private failed(why: Why, all: number): void {
    this.told = "failed";
    const kept = this.registration?.active && !this.mending ? "The handbook kept here stays as it is. The new edition is not ready: " : "Not ready for the pond: ";
    const saying: Saying = { text: kept + reasons[why](all > 0 ? size(all) : "it") };
    if (why === "full") saying.button = ["Try again", () => this.want()];
    this.say(saying);
    if (why === "full" || why === "refused") return;
    clearTimeout(this.timer);
    this.timer = window.setTimeout(() => void this.bring(), again);
  }

  // show says what is kept.
  private async show(): Promise<void> {
    const { active, waiting, installing } = this.registration ?? {};
    if (!active || installing || this.past) return; // the edition under way speaks for itself
    const edition = await ask<Edition>(active, "edition");
    if (waiting) {
      this.say({
        text: "A new edition of the handbook has arrived. It comes by itself once all leaves of this one are closed.",
        more: this.compare(edition, await ask<Edition>(waiting, "edition")),
        button: ["Use it now", () => this.use(waiting)],
      });
      return;
    }
    const lost = await ask<number>(active, "missing");
    const all = size(edition.files.reduce((sum, f) => sum + f.size, 0));
    if (lost === 0) this.say({ text: `Ready for the pond: ${all}` });
    else this.mend(active, lost);
  }

  private compare(before: Edition, after: Edition): string[] {
    const lines = changes(before, after);
    return lines.length > 0 ? lines : ["Chapters, figures and calculators say the same; how they look or work has changed."];
  }

  // mend gets again what the browser has erased.
  private mend(worker: ServiceWorker, lost: number): void {
    const text = `This browser has erased ${size(lost)} of the handbook that it kept. Leaves come from the site now; what you typed under My pond is not touched.`;
    const get = (): void => {
      this.mending = true;
      worker.postMessage("mend" satisfies Question);
    };
    if (metered()) this.say({ text, button: ["Get it again", get] });
    else {
      this.say({ text });
      get();
    }
  }

  private use(waiting: ServiceWorker): void {
    this.agreed = true;
    waiting.addEventListener("statechange", () => {
      if (waiting.state === "activated") location.reload();
    });
    waiting.postMessage("take over" satisfies Question);
  }

  // overtaken is this leaf when the reader has taken a new edition in another
  // window. It stays as it is; pictures that have not come yet would be those of
  // the new edition.
  private overtaken(): void {
    if (this.agreed) return;
    this.past = true;
    for (const picture of document.querySelectorAll<HTMLImageElement>("img[src]")) if (!picture.complete) picture.removeAttribute("src");
    this.say({ text: "This leaf is of the edition before. A new one is in use in another window.", button: ["Turn to the new edition", () => location.reload()] });
  }
}

const worker = (document.currentScript as HTMLScriptElement | null)?.dataset.worker;
const box = document.querySelector(".keeping");
if (worker && box) void new Keeper(worker, place(box)).start();
