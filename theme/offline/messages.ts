// What the leaves and the worker of one handbook say to each other. Several
// handbooks may share a host, so every message names its site by path.

export interface File {
  path: string;
  hash: string;
  size: number;
  kind?: "chapter" | "figures" | "calculator";
  title?: string;
  text?: string; // digest of what the leaf says
}

// Edition is the list of all files, made by the Go package
// cmd/mereleaf/internal/website/offline.
export interface Edition {
  hash: string;
  files: File[];
}

// Why an edition could not be kept whole.
export type Why = "signal" | "changing" | "full" | "refused";

// metered reports a connection that may be paid by the amount, or whose owner has
// asked to save data. A browser that tells neither counts as free: one cannot ask
// before every edition on behalf of a line that has no meter.
export function metered(): boolean {
  const { connection } = navigator as { connection?: { saveData?: boolean; type?: string } };
  return connection?.saveData === true || connection?.type === "cellular";
}

// News goes from a worker to all leaves of its site.
export type News = { site: string; edition: string } & (
  | { is: "getting"; done: number; all: number } // bytes
  | { is: "asking"; bytes: number } // the connection counts data
  | { is: "failed"; why: Why; all: number }
  | { is: "whole" }
);

// Question goes from a leaf to one worker, with a port for the answer.
export type Question = "edition" | "missing" | "mend" | "take over";

// Leave is how far the reader lets a new edition be fetched, kept in a cache of
// its own: freely, although the connection counts data, or not again because
// there was no room.
export type Leave = "free" | "agreed" | "full";

export const leaveName = (site: string): string => `handbook leave ${site}`;
export const cachePrefix = (site: string): string => `handbook ${site} `;

export async function readLeave(site: string): Promise<Leave | ""> {
  const said = await (await caches.open(leaveName(site))).match(site);
  return ((await said?.text()) ?? "") as Leave | "";
}

export async function writeLeave(site: string, leave: Leave | ""): Promise<void> {
  const kept = await caches.open(leaveName(site));
  if (leave === "") await kept.delete(site);
  else await kept.put(site, new Response(leave));
}
