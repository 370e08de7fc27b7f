// Says how each text of a list is read. What comes in is JSON, [text, …]; what goes out
// as well, [[value, other], …], with null for none. TestTypedNumbers runs it.
import { readFileSync } from "node:fs";
import { typed } from "../shared/typed";

const list = JSON.parse(readFileSync(0, "utf8")) as string[];
process.stdout.write(JSON.stringify(list.map((text) => [typed(text).value, typed(text).other])));
