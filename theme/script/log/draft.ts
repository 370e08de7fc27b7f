// The form as it stands, kept from key to key: neither a crash nor a full store
// loses what was typed. Two tabs may be typed into, so each has a draft of its own.

export interface Draft {
  id: string; // of the reading that it will be
  changes: boolean; // it changes a reading that is kept
  at: string; // what the field for date and time holds
  dated: boolean; // the reader has set that
  fields: Record<string, string>; // by name of the field
  units: Record<string, string>; // by test
}

const most = 5; // drafts, of tabs that were lost

export interface Drafts {
  load(): Draft[]; // the last one first
  save(draft: Draft): void;
  clear(id: string): void;
}

export function drafts(site: string): Drafts {
  const key = `pond log draft ${site}`;
  const attempt = <T>(act: () => T): T | undefined => {
    try {
      return act();
    } catch (reason) {
      console.debug(reason); // a browser that keeps nothing has no draft
      return undefined;
    }
  };
  const isDraft = (x: unknown): x is Draft => {
    const d = x as Draft | null;
    const texts = (of: unknown): boolean => typeof of === "object" && of !== null && Object.values(of).every((v) => typeof v === "string");
    return typeof d === "object" && d !== null && typeof d.id === "string" && typeof d.at === "string" && texts(d.fields) && texts(d.units);
  };
  const load = (): Draft[] =>
    attempt(() => {
      const all: unknown = JSON.parse(localStorage.getItem(key) ?? "[]");
      return Array.isArray(all) ? all.filter(isDraft) : [];
    }) ?? [];
  const store = (all: Draft[]): void => {
    attempt(() => (all.length > 0 ? localStorage.setItem(key, JSON.stringify(all)) : localStorage.removeItem(key)));
  };
  const without = (id: string): Draft[] => load().filter((d) => d.id !== id);
  return {
    load,
    save: (draft) => store([draft, ...without(draft.id)].slice(0, most)),
    clear: (id) => store(without(id)),
  };
}
