// Numbers as the handbook prints them; typed.ts reads those that readers type.

const fractions: Record<string, number> = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8 };
const vulgar = `[${Object.keys(fractions).join("")}]`;

// printed is the source of a regular expression for a number in print: "9,100",
// "−0.5", "1½", "1 1/2".
export const printed = `[-−]?(?:\\d+(?:[,\\u00a0\\u202f]\\d{3})*(?:\\.\\d+|${vulgar}|(?:[ \\u00a0]\\d+)?/\\d+)?|${vulgar})`;
export const numbers = new RegExp(printed, "gu");

// value reads a number as it is printed.
export function value(text: string): number {
  const digits = text.replace(/[,\u202f]|\u00a0(?=\d{3})/g, "").replace("−", "-");
  const [, sign = "", whole = "", over = "", under = "", char = ""] = /^(-?)(\d*(?:\.\d+)?)(?:(?:^|[ \u00a0])?(\d+)?\/(\d+)|([^\d.\s]))?$/u.exec(digits) ?? [];
  const size = under && !over ? Number(whole) / Number(under) : Number(whole) + (under ? Number(over) / Number(under) : char ? (fractions[char] ?? NaN) : 0);
  return sign ? -size : size;
}
