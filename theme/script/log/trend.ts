// What a series of readings shows, in words.
import { shown, withUnit, type Series } from "./reading";
import { date } from "./time";

export interface Point {
  at: string;
  value: number;
}

const day = 24 * 3600 * 1000;
export const moment = (p: Point): number => Date.parse(p.at);

// say tells in words what the chart shows.
export function say(series: Series, points: Point[]): string {
  const text = (v: number): string => withUnit(v, series.symbol);
  const last = points.at(-1);
  if (!last) return "";
  if (points.length === 1) return `One reading: ${text(last.value)} on ${date(last.at)}. ${trend(series, points)}`;
  const values = points.map((p) => p.value);
  return `${points.length} readings. Lowest ${text(Math.min(...values))}, highest ${text(Math.max(...values))}, last ${text(last.value)} on ${date(last.at)}. ${trend(series, points)}`;
}

const enough = 3; // readings make a trend
const recent = 5; // so many are looked at
const fitted = 2; // digits that a line through a few kit readings bears

// trend fits a straight line through the last readings by least squares. It says
// where the line begins and ends and not how steep it is, because a difference of
// temperatures is no temperature and would be mistaken for one.
function trend(series: Series, points: Point[]): string {
  const some = points.slice(-recent);
  const [first, last] = [some[0], some.at(-1)];
  if (some.length < enough || !first || !last) return "Too few readings for a trend.";
  const days = (moment(last) - moment(first)) / day;
  if (days < 1) return "The last readings lie too close together for a trend.";
  const xs = some.map((p) => (moment(p) - moment(first)) / day);
  const mean = (all: number[]): number => all.reduce((a, b) => a + b, 0) / all.length;
  const [mx, my] = [mean(xs), mean(some.map((p) => p.value))];
  const sxx = xs.reduce((sum, x) => sum + (x - mx) ** 2, 0);
  const slope = some.reduce((sum, p, i) => sum + (xs[i]! - mx) * (p.value - my), 0) / sxx;
  const fit = (x: number): number => my + slope * (x - mx);
  const scatter = Math.sqrt(some.reduce((sum, p, i) => sum + (p.value - fit(xs[i]!)) ** 2, 0) / (some.length - 2));
  const [from, to] = [fit(0), fit(days)];
  const of = `A straight line through the last ${some.length} readings`;
  if (some.every((p) => shown(p.value) === shown(first.value))) return `The last ${some.length} readings are the same.`;
  if (Math.abs(to - from) <= scatter) return `No clear trend: the last ${some.length} readings scatter more than they rise or fall.`;
  const [begins, ends] = [shown(Math.max(0, from), fitted), shown(Math.max(0, to), fitted)];
  if (begins === ends) return `${of} stays level.`;
  return `${of} ${to > from ? "rises" : "falls"} from ${withUnit(begins, series.symbol)} to ${withUnit(ends, series.symbol)} in ${Math.round(days)} ${Math.round(days) === 1 ? "day" : "days"}.`;
}
