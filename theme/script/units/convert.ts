// What a marked quantity reads in another system of measures. It knows no English:
// package markup says of each quantity what it is, and package units, whose table
// is put in when this is compiled, which unit stands for another.
import { numbers, value } from "../shared/number";

export type System = "metric" | "imperial" | "us";

interface Unit extends Partial<Record<System, string>> {
  f: number; // times this,
  o?: number; // plus this, it is in the coherent SI unit
  s: string; // symbol
  l?: string; // its name in full, where one is written
}

declare const UNITS: Record<string, Unit>;

// target is the code of the unit that stands for another, or none if it stays.
export function target(code: string, system: System): string | undefined {
  return UNITS[code]?.[system];
}

// digits counts the digits that a number claims. Noughts at the end of a whole
// number claim nothing; but one digit alone counts as two, or a metre would turn
// into three feet.
function digits(text: string): number {
  if (/[^\d.,\s−-]/u.test(text)) return text.includes("/") ? 2 : digits(text.replace(/[^\d]/gu, "1")); // a half is one digit more
  const plain = text.replace(/[^\d.]/g, "").replace(/^[0.]+/, "");
  return Math.max(2, (text.includes(".") ? plain.replace(".", "") : plain.replace(/0+$/, "")).length);
}

function print(n: number, places: number): string {
  const [whole = "", rest] = Math.abs(n).toFixed(places).split(".");
  const text = whole.replace(/\B(?=(\d{3})+$)/g, ",") + (rest ? `.${rest}` : "");
  return (n < 0 && /[1-9]/.test(text) ? "−" : "") + text;
}

// convert says a number in another unit, with no more digits than its text has,
// but with least of them. What has no zero point is a difference.
export function convert(n: number, text: string, from: string, to: string, least = 0): string {
  const [a, b] = [UNITS[from]!, UNITS[to]!];
  if (a.o !== undefined) return print((n * a.f + a.o - (b.o ?? 0)) / b.f, /\.(\d+)$/.exec(text)?.[1]?.length ?? 0);
  const turned = (n * a.f) / b.f;
  if (turned === 0) return "0";
  const claimed = Math.max(digits(text), least);
  const rounded = Number(turned.toPrecision(claimed));
  return print(rounded, Math.min(20, Math.max(0, claimed - 1 - Math.floor(Math.log10(Math.abs(rounded))))));
}

// turned is a text in a reader's units, or undefined if it stays. mark is what
// package markup says of it: "9100 L", "18 25 Cel", "*6 mm", or for the unit of a
// heading "L/h".
export function turned(text: string, mark: string, system: System, full = /^\p{L}{5,}/u.test(text)): string | undefined {
  const stamped = mark.startsWith("*");
  const values = mark.slice(stamped ? 1 : 0).split(" ");
  const code = values.pop() ?? "";
  const to = target(code, system);
  if (mark.startsWith("=") || !to) return undefined;
  const unit = UNITS[to]!;
  const rate = / (?:an?|per|each) \p{L}+$/u.exec(text)?.[0]; // "g a day"
  const symbol = (rate ? unit.s.replace(/\/\w+$/, rate) : unit.s).replaceAll(" ", "\u00a0");
  if (values.length === 0) return stamped ? `${text} (${symbol})` : full ? (unit.l ?? symbol) : symbol;
  const found = [...text.matchAll(numbers)];
  if (!stamped && found.length > values.length && / \(.*\)$/u.test(text)) return turned(text.replace(/ \(.*\)$/u, ""), mark, system); // "93 g (3.3 oz)"
  const same = found.length === values.length; // else in words, or "4 ft 6 in"
  const shown = values.map((v, i) => convert(Number(v), same ? found[i]![0] : "", code, to, stamped || found.length > values.length ? 3 : 0));
  const last = found.at(-1);
  const behind = last ? text.slice(last.index + last[0].length) : text;
  let now = same && last ? text.slice(0, last.index + last[0].length).replace(numbers, () => shown.shift() ?? "") : shown.join(" to ");
  if (behind && now.includes(behind)) now = now.replaceAll(behind, `\u00a0${symbol}`); // "45 L to 270 L"
  if (behind || !same) now += `\u00a0${symbol}`;
  return stamped ? `${text} (${now})` : now;
}

// below is a text of bare numbers below a unit, or beside it, that is marked so.
export function below(text: string, mark: string, system: System): string | undefined {
  const [, stamp = "", code = ""] = /^(\*?)(.*)$/.exec(mark)!;
  const to = target(code, system);
  const now = to && text.replace(numbers, (n) => convert(value(n), n, code, to, stamp ? 3 : 0));
  return now && stamp ? `${text} (${now.trim()})` : now;
}

// placed turns the quantities of a text that can hold no elements; its mark says
// where they stand: "4,6,18 Cel;…".
export function placed(text: string, marks: string, system: System): string {
  let [now, end] = ["", 0];
  for (const mark of marks.split(";")) {
    const [, from = "0", length = "0", q = ""] = /^(\d+),(\d+),(.*)$/.exec(mark) ?? [];
    const written = text.slice(Number(from), Number(from) + Number(length));
    const before = text.slice(end, Number(from));
    now += before + (turned(written, q, system, before.endsWith("in\u00a0")) ?? written); // "Lengths in mm"
    end = Number(from) + Number(length);
  }
  return now + text.slice(end);
}

// said is what a marked text reads in a reader's units, or undefined if it stays.
export function said(text: string, mark: string, system: System): string | undefined {
  return /^\d+,\d/.test(mark) ? placed(text, mark, system) : turned(text, mark, system);
}
