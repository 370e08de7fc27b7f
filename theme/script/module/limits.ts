// Asks the calculators' module whether values are within the limits that are declared
// for them, each on its own. The Go package calculators/wasm/exchange describes how.
import type { Ask } from "./load";

// most is how many characters go into one question: in bytes it may be thrice that, and
// the module reads 65,536.
const most = 20_000;

// refused returns what the calculators say of the values they would refuse, by name:
// of the inputs of one calculator, or if of is "", of the keys of a pond record, whose
// value one of all that ask for it must take.
export async function refused(reckon: Ask, of: string, values: Iterable<readonly [name: string, text: string]>): Promise<Map<string, string>> {
  const faults = new Map<string, string>();
  const head = `? ${of}`;
  let request = head;
  const put = async (): Promise<void> => {
    if (request === head) return;
    const reply = await reckon(request);
    request = head;
    if (!reply.ok) for (const { input, text } of reply.errors) faults.set(input, text);
  };
  for (const [name, text] of values) {
    const line = `\n${name}=${escaped(text)}`;
    if (request.length + line.length > most) await put();
    request += line;
  }
  await put();
  return faults;
}

// escaped is a value as a request has it, in one line.
export function escaped(text: string): string {
  return text.replaceAll("\\", "\\\\").replaceAll("\n", "\\n");
}
