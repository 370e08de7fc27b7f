// The form as it stands, kept from key to key: neither a crash nor a full store
// loses what was typed. Two tabs may be typed into, so each has a draft of its own.
import { store, stored } from "../shared/storage";
import { texts } from "../shared/unreadable";
import type { Draft } from "./entry";

const most = 5; // drafts, of tabs that were lost

export function drafts(site: string) {
  const key = `pond log draft ${site}`;
  const load = (): Draft[] => {
    try {
      const all: unknown = JSON.parse(stored(key) ?? "[]");
      return Array.isArray(all) ? all.filter(isDraft) : [];
    } catch (reason) {
      console.debug(reason);
      return [];
    }
  };
  const put = (all: Draft[]): void => void store(key, all.length > 0 ? JSON.stringify(all) : null);
  const without = (id: string): Draft[] => load().filter((d) => d.id !== id);
  return {
    load, // the last one first
    save: (draft: Draft): void => put([draft, ...without(draft.id)].slice(0, most)),
    clear: (id: string): void => put(without(id)),
  };
}

function isDraft(x: unknown): x is Draft {
  const d = x as Draft | null;
  return typeof d === "object" && d !== null && typeof d.id === "string" && typeof d.at === "string" && texts(d.fields) && texts(d.units);
}
