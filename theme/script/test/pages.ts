// Says each marked quantity of a list in the three systems. What comes in is JSON,
// [[text, mark], …]; what goes out as well, [[metric, imperial, us], …], with null
// for what stays. A mark "below L/h" is that of bare numbers in a column. TestPagesByIndependentConversion runs it.
import { readFileSync } from "node:fs";
import { below, said } from "../units/convert";

const list = JSON.parse(readFileSync(0, "utf8")) as [text: string, mark: string][];
const systems = ["metric", "imperial", "us"] as const;
process.stdout.write(JSON.stringify(list.map(([text, mark]) => systems.map((s) => (mark.startsWith("below ") ? below(text, mark.slice(6), s) : said(text, mark, s)) ?? null))));
