// What the calculator of readings declares, in small.
import type { Declared, Reading, Unit } from "../log/reading";

const milligrams: Unit = { code: "mg/L", symbol: "mg/L", per: 1, add: 0 };
const grams: Unit = { code: "g/L", symbol: "g/L", per: 1000, add: 0, filed: true };
const celsius: Unit = { code: "Cel", symbol: "°C", per: 1, add: 0 };
const fahrenheit: Unit = { code: "[degF]", symbol: "°F", per: 5 / 9, add: -160 / 9 };

export const of: Declared = {
  tests: [
    { name: "tan", label: "Ammonia", fact: "ammonia", basis: "", low: 0, high: 20, code: "mg/L", symbol: "mg/L", units: [milligrams, grams] },
    { name: "ph", label: "pH", fact: "ph", basis: "", low: 4, high: 11, code: "[pH]", symbol: "", units: [{ code: "[pH]", symbol: "", per: 1, add: 0 }] },
    { name: "temperature", label: "Temperature", fact: "temperature", basis: "", low: 0, high: 40, code: "Cel", symbol: "°C", units: [celsius, fahrenheit] },
    { name: "kh", label: "KH", fact: "kh", basis: "kh-unit", low: 0, high: 1000, code: "1", symbol: "", units: [{ code: "1", symbol: "", per: 1, add: 0 }] },
  ],
  choices: [
    { name: "kh-unit", label: "KH counts", fact: "kh-kit", byDefault: "caco3", kit: true, options: [{ name: "caco3", label: "mg/L as CaCO3", per: 1, unit: "mg/L" }, { name: "german", label: "German degrees", per: 17.848, unit: "{°dH}" }] },
    { name: "fish", label: "The fish", fact: "fish-do", byDefault: "unseen", kit: false, options: [{ name: "unseen", label: "not seen", per: 1, unit: "" }, { name: "gasping", label: "gasp", per: 1, unit: "" }] },
  ],
  series: [], levels: [], asked: [],
};

export const reading = (at: string, numbers: Record<string, number>, id = at): Reading => ({ id, at, entered: "", numbers, typed: Object.fromEntries(Object.entries(numbers).map(([n, v]) => [n, n === "tan" ? `${v} mg/L` : String(v)])), choices: {}, note: "" });
