// Dates as spreadsheets write them: 01.06.2026, 6/1/2026 7:05 AM, 1 Jun 2026. What is
// not plain from one date, the whole column decides, or else the reader.
import { spoken, two } from "../shared/day";

// Order says what stands first in a date such as 6/1/2026.
export type Order = "day" | "month";

const months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

// numeric is a date in figures, with day and month in an order that it does not say.
const numeric = /^(\d{1,2})([./-])\s?(\d{1,2})\2\s?(\d{4}|\d\d)\.?(?=$|[,\sT])/;
const clock = /^[,\sT]*(\d{1,2})(?::|h|\.(?=\d\d))(\d\d)(?::(\d\d)(?:[.,]\d+)?)?\s*(?:([ap])\.?m\.?)?\s*$/i;

interface Numeric {
  first: number;
  second: number;
  year: number;
  dotted: boolean; // with points: no country that writes them has the month first
  rest: string;
}

function figures(text: string): Numeric | undefined {
  const m = numeric.exec(text);
  if (!m) return undefined;
  const [all, first = "", sign, second = "", year = ""] = m;
  return { first: Number(first), second: Number(second), year: Number(year.length === 2 ? `20${year}` : year), dotted: sign === ".", rest: text.slice(all.length) };
}

// Column is what the dates of a table say together.
export interface Column {
  order: Order | undefined; // undefined if the reader has to say
  example: string; // of a date that reads two ways; "" if there is none
  why: string; // how the order is known, for the reader; "" if there was nothing to know
}

// orderOf reads the column of dates.
export function orderOf(cells: Iterable<string>): Column {
  let [day, month, example] = ["", "", ""]; // dates that can only be read so, and one that reads both ways
  for (const cell of cells) {
    const f = figures(cell.trim());
    if (!f || f.dotted) continue;
    if (f.first > 12 && f.second <= 12) day ||= cell.trim();
    else if (f.second > 12 && f.first <= 12) month ||= cell.trim();
    else if (f.first !== f.second) example ||= cell.trim();
  }
  if (day && month) return { order: undefined, example, why: "" };
  if (day) return { order: "day", example, why: example && `Dates such as ${example} are read with the day first, as ${day} can only be.` };
  if (month) return { order: "month", example, why: example && `Dates such as ${example} are read with the month first, as ${month} can only be.` };
  return { order: undefined, example, why: "" };
}

// international writes a spreadsheet's date as ISO 8601 without a zone, and nothing else:
// "2026-06-01", "2026-06-01T07:05". It is "" if the text is no such date, or reads two
// ways and there is no order.
export function international(text: string, order: Order | undefined): string {
  const trimmed = text.trim();
  const date = inFigures(trimmed, order) ?? inWords(trimmed) ?? yearFirst(trimmed);
  if (!date) return "";
  const [day, rest] = date;
  if (rest.trim() === "") return day;
  const [, hour = "", minute = "", second = "", half = ""] = clock.exec(rest) ?? [];
  if (hour === "" || Number(hour) > (half ? 12 : 23)) return "";
  const hours = half ? (Number(hour) % 12) + (half.toLowerCase() === "p" ? 12 : 0) : Number(hour);
  return `${day}T${two(hours)}:${minute}${second && `:${second}`}`;
}

type Day = [iso: string, rest: string];

function inFigures(text: string, order: Order | undefined): Day | undefined {
  const f = figures(text);
  if (!f) return undefined;
  const { first, second } = f;
  const dayFirst = f.dotted || first === second || (first > 12 ? true : second > 12 ? false : order && order === "day");
  if (dayFirst === undefined) return undefined;
  return [written(f.year, dayFirst ? second : first, dayFirst ? first : second), f.rest];
}

function inWords(text: string): Day | undefined {
  const day = /^(\d{1,2})\.?[\s-]([a-z]{3,9})\.?,?[\s-](\d{4})/i.exec(text);
  const month = /^([a-z]{3,9})\.? (\d{1,2}),? (\d{4})/i.exec(text);
  const [all = "", d = "", name = "", year = ""] = day ?? (month ? [month[0], month[2], month[1], month[3]] : []);
  const n = months.indexOf(name.slice(0, 3).toLowerCase());
  return n < 0 ? undefined : [written(Number(year), n + 1, Number(d)), text.slice(all.length)];
}

function yearFirst(text: string): Day | undefined {
  const m = /^(\d{4})([-/.])\s?(\d{1,2})\2\s?(\d{1,2})\.?(?=$|[,\s])/.exec(text);
  return m ? [written(Number(m[1]), Number(m[3]), Number(m[4])), text.slice(m[0].length)] : undefined;
}

const written = (year: number, month: number, day: number): string => `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`;

// said writes a date that reads two ways in words, as an order has it.
export function said(text: string, order: Order): string {
  return spoken(international(text, order).slice(0, 10), "long");
}
