// What a waiting edition says differently from the one at hand.
import type { Edition, File } from "../../offline/messages";

const groups: [NonNullable<File["kind"]>, string][] = [
  ["chapter", "Chapters"],
  ["figures", "Figures"],
  ["calculator", "Calculators"],
];

// changes returns one line for each kind of leaf in which something changed; none
// if only the frame around the leaves did.
export function changes(before: Edition, after: Edition): string[] {
  const had = new Map(before.files.map((f) => [f.path, f]));
  const has = new Set(after.files.map((f) => f.path));
  return groups.flatMap(([kind, title]) => {
    const said = [
      ...after.files.filter((f) => f.kind === kind && !had.has(f.path)).map((f) => `${f.title} (new)`),
      ...after.files.filter((f) => f.kind === kind && had.has(f.path) && had.get(f.path)?.text !== f.text).map((f) => f.title),
      ...before.files.filter((f) => f.kind === kind && !has.has(f.path)).map((f) => `${f.title} (gone)`),
    ];
    return said.length > 0 ? [`${title}: ${said.join("; ")}.`] : [];
  });
}
