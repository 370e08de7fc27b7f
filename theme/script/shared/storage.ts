// The browser's small store, which some browsers refuse.

// stored is what is kept under a key; undefined if the browser refuses to say.
export function stored(key: string): string | null | undefined {
  try {
    return localStorage.getItem(key);
  } catch (reason) {
    console.debug(reason);
    return undefined;
  }
}

// store keeps a text, or nothing for null. It reports whether that worked.
export function store(key: string, text: string | null): boolean {
  try {
    if (text === null) localStorage.removeItem(key);
    else localStorage.setItem(key, text);
    return true;
  } catch (reason) {
    console.debug(reason);
    return false;
  }
}
