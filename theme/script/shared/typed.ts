// Numbers as readers type them, in any country, read by the rules of ReadNumber and
// Parse in the Go package calculators/quantity; TestTypedNumbers compares the two.

export interface Typed {
  value: number; // NaN if it is no number
  plain: string; // the same as calculators read it, with all the digits that were typed
  other: number; // what people of another country may read: 1.234 for "1,234"; NaN if there is one reading
  unit: string; // what stands behind it
}

const none: Typed = { value: NaN, plain: "", other: NaN, unit: "" };

// typed reads a number, perhaps with a unit behind it. A comma with three digits
// behind it may be one of thousands, and a point with three of which the last is an
// idle zero. Any other comma is a decimal one, which the keys of many phones have alone.
export function typed(text: string): Typed {
  const [, sign = "", digits = "", exponent = "", unit = ""] = /^\s*([-−+]?)((?:\d|[.,]\d|[\u00a0\u202f ]\d{3}(?!\d))+)[.,]?(e[-+]?\d{1,3})?(?!\d)\s*([^\d\s.,].*)?$/iu.exec(text) ?? [];
  if (digits === "") return none;
  const [whole, fraction, other] = parted(digits) ?? [];
  if (whole === undefined) return none;
  const plain = (sign === "−" ? "-" : sign) + (fraction === undefined ? whole : `${whole || "0"}.${fraction}`) + exponent;
  const value = Number(plain);
  return Number.isFinite(value) ? { value, plain, other: other === undefined || exponent ? NaN : Number((sign === "+" ? "" : sign.replace("−", "-")) + other), unit: unit.trim() } : none;
}

// parted splits digits with points, commas and blanks in them into the whole number,
// the decimals and the other reading. It returns nothing if they fit no number.
function parted(text: string): [whole: string, fraction?: string | undefined, other?: string] | undefined {
  const groups = text.split(/[., \u00a0\u202f]/);
  const signs = [...text.replace(/\d/g, "").replace(/[\u00a0\u202f]/g, " ")];
  const last = groups.at(-1) ?? "";
  const sign = signs.at(-1);
  if (sign === undefined) return [text];
  const before = groups.slice(0, -1);
  const first = before[0] ?? "";
  if (first === "") return signs.length === 1 && sign === "." ? ["", last] : undefined;
  const all = groups.join("");
  const mayGroup = first.length <= 3 && !first.startsWith("0");
  const thousands = mayGroup && before.slice(1).every((g) => g.length === 3) && new Set(signs.slice(0, -1)).size <= 1;
  const alone = signs.length === 1;
  const like = alone || sign === signs.at(-2); // the one before it
  const idle = last.endsWith("0");
  if (thousands && last.length === 3 && like && (sign !== "." || !alone)) return alone && sign === "," && !idle ? [all, undefined, `${first}.${last}`] : [all];
  if (sign !== " " && (alone || (thousands && !like))) return alone && sign === "." && mayGroup && last.length === 3 && idle ? [first, last, all] : [before.join(""), last];
  return undefined;
}

// twoWays says that a number reads two ways; "" if it does not.
export function twoWays({ value, other }: Typed): string {
  return Number.isNaN(other) ? "" : `may be ${value} or ${other}; write the one that is meant, without a comma`;
}

// codeOf is the UCUM code of a unit that kits and thermometers count in, as it is
// typed; "" for any other.
export function codeOf(name: string): string {
  const plain = name
    .toLowerCase()
    .replace(/[\s.]|deg(rees?)?/g, "")
    .replace(/^º/, "°");
  return names.find(([pattern]) => pattern.test(plain))?.[1] ?? "";
}

const names: [RegExp, code: string][] = [
  [/^(mg\/l|ppm)((as)?caco3)?$/, "mg/L"],
  [/^g\/l$/, "g/L"],
  [/^(°?d[kg]?h|°?[kg]h)$/, "{°dH}"],
  [/^°?c(el(sius)?)?$/, "Cel"],
  [/^°?f(ahrenheit)?$/, "[degF]"],
  [/^ph$/, "[pH]"],
];

// means reports whether a unit is meant by what stands behind a number: its code, its
// symbol, or another name that people have for it.
export function means(name: string, code: string, symbol = ""): boolean {
  return name !== "" && code !== "" && (name === code || name.toLowerCase() === symbol.toLowerCase() || codeOf(name) === code);
}
