// The pond record as the fragment of a link, which browsers do not send to a
// server: "#record=" and its JSON, compressed and in letters that no messenger
// breaks.

const mark = "#record=";

// most is far above any record, in characters: what claims more is a trap.
const most = 300_000;

export function canLink(): boolean {
  return typeof CompressionStream === "function" && typeof DecompressionStream === "function";
}

export async function fragment(text: string): Promise<string> {
  const packed = await new Response(new Blob([text]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer();
  const letters = btoa(Array.from(new Uint8Array(packed), (b) => String.fromCharCode(b)).join(""));
  return mark + letters.replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

export function carries(hash: string): boolean {
  return hash.startsWith(mark);
}

// unpack returns the JSON in a fragment. It fails if the fragment was cut short.
export async function unpack(hash: string): Promise<string> {
  const letters = atob(hash.slice(mark.length).replaceAll("-", "+").replaceAll("_", "/"));
  const packed = Uint8Array.from(letters, (c) => c.charCodeAt(0));
  const reader = new Blob([packed]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let text = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return text + decoder.decode();
    text += decoder.decode(value, { stream: true });
    if (text.length > most) throw new Error("longer than any record");
  }
}
