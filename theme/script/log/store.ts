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
  const channel = "BroadcastChannel" in globalThis ? new BroadcastChannel(name) : undefined;
  if (channel) channel.onmessage = changed;
  const run = running(name);
  const tell = (): void => channel?.postMessage("changed");
  const slow = keptStore(run, tell, (answer) => answer);
  const kept = keptStore(run, tell, limited);
  const first = slow.read();
  first.catch(() => undefined); // it may fail when nobody waits for it any more
  try {
    await limited(first);
    return kept;
  } catch (reason) {
    console.debug(reason);
    if (reason instanceof Silent) return late(first, slow, kept, changed);
    const newer = reason instanceof DOMException && reason.name === "VersionError";
    return memory(
      newer
        ? "Your readings were kept by a newer edition of this handbook. They are not lost: reload this leaf to get that edition. What you log until then stays here only until you leave the leaf, so save it as a file."
        : "This browser keeps nothing for this handbook; a private window, perhaps, or its settings. What you log stays here only until you leave the leaf, so save it as a file before.",
    );
  }
}

// late holds readings until the store has answered after all, and gives them to it then.
function late(first: Promise<unknown>, slow: Store, kept: Store, changed: () => void): Store {
  const store = memory(
    "This browser’s store does not answer. What it keeps is not lost, but cannot be shown; what you log now is held only until you leave the leaf, so save it as a file, then reload this leaf.",
  );
  first
    .then(async () => {
      await slow.change({ put: (await store.read()).readings, remove: [] });
      Object.assign(store, kept);
      changed();
    })
    .catch((reason: unknown) => console.debug(reason));
  return store;
}

type Run = <T>(mode: IDBTransactionMode, act: (store: IDBObjectStore) => IDBRequest<T> | undefined) => Promise<T>;

// running returns what does something in one transaction. The database stays open; a
// connection that was closed meanwhile is opened again, once.
function running(name: string): Run {
  let db: Promise<IDBDatabase> | undefined;
  const gone = (): void => void (db = undefined);
  const open = (): Promise<IDBDatabase> =>
    new Promise((resolve, reject) => {
      const asked = indexedDB.open(name, version);
      asked.onupgradeneeded = () => asked.result.createObjectStore(table, { keyPath: "id" });
      asked.onerror = () => reject(asked.error ?? new Error("not opened"));
      asked.onsuccess = () => {
        const { result } = asked;
        result.onclose = gone;
        result.onversionchange = () => {
          result.close(); // or a newer edition could not open it
          gone();
        };
        resolve(result);
      };
    });
  const connect = (): Promise<IDBDatabase> =>
    (db ??= open().catch((reason: unknown) => {
      gone();
      throw reason;
    }));
  return async (mode, act) => {
    const begin = async (): Promise<IDBTransaction> => (await connect()).transaction(table, mode, { durability: "strict" });
    const transaction = await begin().catch((reason: unknown) => {
      if (!(reason instanceof DOMException) || reason.name !== "InvalidStateError") throw reason;
      gone();
      return begin();
    });
    return new Promise((resolve, reject) => {
      transaction.onabort = () => reject(transaction.error ?? new Error("not saved"));
      try {
        const asked = act(transaction.objectStore(table));
        transaction.oncomplete = () => resolve(asked?.result as never);
      } catch (reason) {
        reject(reason);
        transaction.abort();
      }
    });
  };
}

// keptStore keeps readings in the database. What fails because that does not answer in
// time may be kept later all the same; to save it again does no harm, as its id is the
// same.
function keptStore(run: Run, tell: () => void, within: typeof limited): Store {
  const write = (act: (store: IDBObjectStore) => void): Promise<void> => within(run<void>("readwrite", (store) => void act(store)).then(tell));
  return {
    why: "",
    async read() {
      const all: unknown[] = await within(run("readonly", (store) => store.getAll()));
      return { readings: all.filter(isReading), unread: all.filter((x) => !isReading(x)) };
    },
    change: ({ put, remove }) =>
      write((store) => {
        for (const id of remove) store.delete(id);
        for (const reading of put) store.put(reading);
      }),
    erase: () => write((store) => void store.clear()),
  };
}

// memory holds readings for this visit.
export function memory(why: string): Store {
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
