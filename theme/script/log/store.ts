// Where readings are kept: in IndexedDB, or in memory for this visit if a browser
// refuses that. Every change is one transaction, so it is kept whole or not at
// all, and counts as done only once the browser says that it is on disk.
import { isReading, type Reading } from "./reading";

export interface Change {
  put: Reading[];
  remove: string[]; // ids
}

export interface Held {
  readings: Reading[];
  unread: unknown[]; // what is kept and is no reading of this edition
}

export interface Store {
  why: string; // why readings are held for this visit only; "" if they are kept
  read(): Promise<Held>;
  change(change: Change): Promise<void>; // rejects with a DOMException
  erase(): Promise<void>;
}

const version = 1;
const table = "readings";

// patience is how long a browser may take to open its store, and how long for a change,
// in milliseconds. Some never answer, and say nothing either.
const patience = 5_000;

// Silent is what a store is that has not answered in time.
class Silent extends Error {}

// limited is a promise, or its failure once the time is over.
function limited<T>(answer: Promise<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const over = setTimeout(() => reject(new Silent("the store does not answer")), patience);
    answer.then(resolve, reject).finally(() => clearTimeout(over));
  });
}

// openStore opens the readings of the handbook whose site has the given path:
// several may share a host. changed is called when another tab has changed them, or
// when a store that was silent has answered after all.
export async function openStore(site: string, changed: () => void): Promise<Store> {
  const name = `pond log ${site}`;
  const channel = "BroadcastChannel" in window ? new BroadcastChannel(name) : undefined;
  if (channel) channel.onmessage = changed;
  const kept = new Kept(name, () => channel?.postMessage("changed"));
  try {
    const first = kept.read();
    first.catch(() => undefined); // it may fail when nobody waits for it any more
    await limited(first);
    return prompt(kept);
  } catch (reason) {
    console.debug(reason);
    if (reason instanceof Silent) return late(kept, changed);
    const newer = reason instanceof DOMException && reason.name === "VersionError";
    return memory(
      newer
        ? "Your readings were kept by a newer edition of this handbook. They are not lost: reload this leaf to get that edition. What you log until then stays here only until you leave the leaf, so save it as a file."
        : "This browser keeps nothing for this handbook; a private window, perhaps, or its settings. What you log stays here only until you leave the leaf, so save it as a file before.",
    );
  }
}

// prompt is a store that fails if it does not answer in time. What it was to keep may
// be kept later all the same; to save it again does no harm, as its id is the same.
function prompt(kept: Kept): Store {
  return { why: "", read: () => limited(kept.read()), change: (change) => limited(kept.change(change)), erase: () => limited(kept.erase()) };
}

// late holds readings until the store has answered after all, and gives them to it then.
function late(kept: Kept, changed: () => void): Store {
  let now = memory(
    "This browser’s store does not answer. What it keeps is not lost, but cannot be shown; what you log now is held only until you leave the leaf, so save it as a file, then reload this leaf.",
  );
  const held = now;
  void kept.read().then(
    async () => {
      await kept.change({ put: (await held.read()).readings, remove: [] });
      now = prompt(kept);
      changed();
    },
    (reason: unknown) => console.debug(reason),
  );
  return {
    get why() {
      return now.why;
    },
    read: () => now.read(),
    change: (change) => now.change(change),
    erase: () => now.erase(),
  };
}

class Kept implements Store {
  readonly why = "";
  private db: Promise<IDBDatabase> | undefined;

  constructor(
    private readonly name: string,
    private readonly tell: () => void,
  ) {}

  private open(): Promise<IDBDatabase> {
    return (this.db ??= new Promise<IDBDatabase>((resolve, reject) => {
      const asked = indexedDB.open(this.name, version);
      asked.onupgradeneeded = () => asked.result.createObjectStore(table, { keyPath: "id" });
      asked.onerror = () => reject(asked.error ?? new Error("not opened"));
      asked.onsuccess = () => {
        const db = asked.result;
        const gone = (): void => {
          this.db = undefined;
        };
        db.onversionchange = () => {
          db.close(); // or a newer edition could not open it
          gone();
        };
        db.onclose = gone;
        resolve(db);
      };
    }).catch((reason: unknown) => {
      this.db = undefined;
      throw reason;
    }));
  }

  // run does something in one transaction. A connection that was closed meanwhile
  // is opened again, once.
  private async run<T>(mode: IDBTransactionMode, act: (store: IDBObjectStore) => () => T, again = true): Promise<T> {
    const db = await this.open();
    let transaction: IDBTransaction;
    try {
      transaction = db.transaction(table, mode, { durability: "strict" });
    } catch (reason) {
      if (!again || !(reason instanceof DOMException) || reason.name !== "InvalidStateError") throw reason;
      this.db = undefined;
      return this.run(mode, act, false);
    }
    return new Promise<T>((resolve, reject) => {
      let failed: unknown;
      transaction.onabort = () => reject(failed ?? transaction.error ?? new Error("not saved"));
      try {
        const result = act(transaction.objectStore(table));
        transaction.oncomplete = () => resolve(result());
      } catch (reason) {
        failed = reason;
        transaction.abort();
      }
    });
  }

  read(): Promise<Held> {
    return this.run("readonly", (store) => {
      const asked = store.getAll();
      return () => {
        const all = asked.result as unknown[];
        return { readings: all.filter(isReading), unread: all.filter((x) => !isReading(x)) };
      };
    });
  }

  async change({ put, remove }: Change): Promise<void> {
    await this.run("readwrite", (store) => {
      for (const id of remove) store.delete(id);
      for (const reading of put) store.put(reading);
      return () => undefined;
    });
    this.tell();
  }

  async erase(): Promise<void> {
    await this.run("readwrite", (store) => {
      store.clear();
      return () => undefined;
    });
    this.tell();
  }
}

function memory(why: string): Store {
  const held = new Map<string, Reading>();
  return {
    why,
    read: async () => ({ readings: [...held.values()], unread: [] }),
    change: async ({ put, remove }) => {
      for (const id of remove) held.delete(id);
      for (const reading of put) held.set(reading.id, reading);
    },
    erase: async () => held.clear(),
  };
}
