// A small store as browsers have it, for what is tested without one; nothing happens in
// its window.
const kept = new Map<string, string>();

export const storage = {
  full: false,
  clear: (): void => kept.clear(),
  getItem: (key: string): string | null => kept.get(key) ?? null,
  removeItem: (key: string): void => void kept.delete(key),
  setItem(key: string, text: string): void {
    if (storage.full) throw new DOMException("full", "QuotaExceededError");
    kept.set(key, text);
  },
};
Object.assign(globalThis, { localStorage: storage, addEventListener: () => undefined });
