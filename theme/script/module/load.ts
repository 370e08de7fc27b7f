// Loads the calculators' WebAssembly module and talks to it as the Go package
// calculators/wasm/exchange describes.

export type Reply =
  | { ok: true; html: string; values: Record<string, string> }
  | { ok: false; html: string; errors: { input: string; text: string }[] };

// Reckon is the module itself, which answers at once.
export type Reckon = (request: string) => Reply;

// Ask asks it from where it may live in another thread.
export type Ask = (request: string) => Promise<Reply>;

export async function get(address: string): Promise<Reckon> {
  const response = await fetch(address).catch(kept(address));
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return load(await response.arrayBuffer());
}

// kept looks where the offline worker keeps files: a leaf opened before there was
// one does not go through it. The module's name carries its hash, so it is the
// leaf's own, or none.
function kept(address: string): (reason: unknown) => Promise<Response> {
  return async (reason) => {
    const response = "caches" in globalThis ? await caches.match(address) : undefined;
    if (!response) throw reason;
    return response;
  };
}

export async function load(bytes: ArrayBuffer): Promise<Reckon> {
  const module = await WebAssembly.compile(bytes);
  let request = new Uint8Array();
  let reply = "";
  const memory = (): ArrayBuffer => (instance.exports.memory as WebAssembly.Memory).buffer;
  const imports: Record<string, Record<string, WebAssembly.ImportValue>> = {
    page: {
      take(to: number, size: number): number {
        const part = request.subarray(0, size);
        new Uint8Array(memory()).set(part, to);
        return part.length;
      },
      give(from: number, size: number): void {
        reply = new TextDecoder().decode(new Uint8Array(memory(), from, size));
      },
    },
    wasi_snapshot_preview1: {
      // The Go runtime refuses a clock that stands at zero.
      clock_time_get(_id: number, _precision: bigint, to: number): number {
        new DataView(memory()).setBigUint64(to, BigInt(Math.ceil(performance.now() * 1e6) + 1), true);
        return 0;
      },
    },
  };
  // What else the runtime asks a system for (arguments, random bytes, standard
  // output) it can do without.
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] ??= () => 0;
  }
  const instance = await WebAssembly.instantiate(module, imports);
  (instance.exports._initialize as () => void)();
  return (text) => {
    request = new TextEncoder().encode(text);
    (instance.exports.reckon as (size: number) => void)(request.length);
    return JSON.parse(reply) as Reply;
  };
}
