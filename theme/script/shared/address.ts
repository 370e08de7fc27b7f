// What the address of a leaf says to its pads: behind "?" on a web site; in the
// single file, where the leaf itself stands in the fragment, behind a "?" there.
export interface Address {
  query(): string;
  setQuery(query: string): void;
}

const site: Address = {
  query: () => location.search,
  setQuery: (query) => replace(`?${query}${location.hash}`),
};

const file: Address = {
  query: () => /\?([^#]*)/.exec(location.hash)?.[1] ?? "",
  setQuery: (query) => replace(location.hash.replace(/\?[^#]*|(?<=^#[^?#]*)(?=#|$)/, query ? `?${query}` : "")),
};

// In the single file no script has an address of its own.
export const leaf: Address = document.getElementById("packed_leaves") ? file : site;

export function replace(address: string): void {
  try {
    history.replaceState(null, "", address);
  } catch (reason) {
    console.debug(reason); // a leaf in a folder without a server keeps its address
  }
}
