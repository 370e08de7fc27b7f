// Readings in words.
import { chosen, parts, withUnit, type Declared, type Reading } from "./reading";

// summary lists a reading's numbers as they were typed.
export function summary(reading: Reading, of: Declared): string {
  const said = of.tests.flatMap((t) => {
    const typed = reading.typed[t.name];
    if (typed === undefined) return [];
    const [number, code] = parts(typed);
    const text = withUnit(number, t.units.find((u) => u.code === code)?.symbol ?? "");
    const option = chosen(reading, t, of);
    // How a kit counts is said where it is not as the bands count, or no unit says it.
    return [`${t.label} ${text}${option && (option.per !== 1 || t.symbol === "") ? ` ${option.label}` : ""}`];
  });
  for (const c of of.choices) {
    const option = c.kit ? undefined : c.options.find((o) => o.name === reading.choices[c.name]);
    if (option) said.push(`${c.label}: ${option.label}`);
  }
  if (reading.note) said.push(`“${reading.note}”`);
  return said.join(" · ");
}
