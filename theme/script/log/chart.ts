// Draws a series of readings over time, with the limits of the bands, and says
// the same in words.
import { shown, withUnit, type Series } from "./reading";
import { date } from "./time";

export interface Point {
  at: string;
  value: number;
}

// The drawing is as wide as the text of a small phone, so that its letters have
// the size they say.
const width = 344;
const high = { top: 14, plot: 150, bottom: 22 };
const plot = { left: 72, right: 334 };
const letter = 12;

const day = 24 * 3600 * 1000;
const moment = (p: Point): number => Date.parse(p.at);

export function chart(series: Series, points: Point[]): HTMLElement {
  const figure = document.createElement("figure");
  figure.className = "went";
  figure.dataset.chart = series.name;
  const caption = document.createElement("figcaption");
  caption.id = `log_chart_${series.name}`;
  caption.textContent = [series.label, series.as].filter(Boolean).join(", ");
  const words = document.createElement("p");
  words.id = `log_words_${series.name}`;
  words.textContent = say(series, points);
  const svg = draw(series, points);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-labelledby", caption.id);
  svg.setAttribute("aria-describedby", words.id);
  figure.append(caption, svg, words);
  return figure;
}

// say tells in words what the chart shows.
function say(series: Series, points: Point[]): string {
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
export function trend(series: Series, points: Point[]): string {
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

function draw(series: Series, points: Point[]): SVGSVGElement {
  const values = [...points.map((p) => p.value), ...series.limits.map((l) => l.value)];
  const ticks = steps(Math.min(...values), Math.max(...values));
  const [low, top] = [ticks[0]!, ticks.at(-1)!];
  const [from, to] = [moment(points[0]!), moment(points.at(-1)!)];
  const x = (p: Point): number => (to === from ? (plot.left + plot.right) / 2 : plot.left + ((moment(p) - from) / (to - from)) * (plot.right - plot.left - 6) + 3);
  const y = (v: number): number => high.top + high.plot - ((v - low) / (top - low)) * high.plot;
  const bottom = high.top + high.plot;
  const svg = element("svg", { viewBox: `0 0 ${width} ${bottom + high.bottom}`, class: "chart" }) as SVGSVGElement;

  for (const t of ticks) {
    svg.append(element("path", { d: `M${plot.left} ${r(y(t))}H${plot.right}`, class: "grid" }));
    svg.append(text(plot.left - 6, y(t) + 4, withUnit(t, series.symbol), "end"));
  }
  svg.append(element("path", { d: `M${plot.left} ${high.top}V${bottom}H${plot.right}`, class: "frame" }));
  // The names of lines that lie close together are moved apart, from the lowest up.
  let free = bottom - 3;
  for (const l of [...series.limits].sort((a, b) => a.value - b.value)) {
    svg.append(element("path", { d: `M${plot.left} ${r(y(l.value))}H${plot.right}`, class: `limit level-${l.level}` }));
    const at = Math.max(high.top + letter - 4, Math.min(y(l.value) - 3, free));
    svg.append(text(plot.right - 2, at, l.says, "end", "name"));
    free = at - letter;
  }
  if (points.length > 1) svg.append(element("path", { d: points.map((p, i) => `${i === 0 ? "M" : "L"}${r(x(p))} ${r(y(p.value))}`).join(""), class: "line" }));
  const small = points.length > 60;
  points.forEach((p, i) => {
    if (i < points.length - 1 && small && points.length > 400) return; // the line says it
    svg.append(element("circle", { cx: r(x(p)), cy: r(y(p.value)), r: String(i === points.length - 1 ? 4 : small ? 1.5 : 2.5), class: "dot" }));
  });
  if (points.length > 1 && date(points[0]!.at) !== date(points.at(-1)!.at)) {
    svg.append(text(plot.left, bottom + 16, date(points[0]!.at), "start"), text(plot.right, bottom + 16, date(points.at(-1)!.at), "end"));
  } else svg.append(text((plot.left + plot.right) / 2, bottom + 16, date(points.at(-1)!.at), "middle"));
  return svg;
}

// steps are round numbers that reach from below the least to above the greatest
// value, four to six of them.
function steps(least: number, greatest: number): number[] {
  const span = greatest - least || Math.abs(greatest) || 1;
  const power = 10 ** Math.floor(Math.log10(span / 3));
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => span / s <= 4.5) ?? power;
  const first = Math.floor(least / step);
  const all: number[] = [];
  for (let i = first; ; i++) {
    all.push(Number((i * step).toPrecision(6)));
    if (i * step > greatest || (i * step === greatest && all.length > 1)) return all;
  }
}

const r = (v: number): string => v.toFixed(1);

function text(x: number, y: number, says: string, anchor: string, className = ""): SVGElement {
  const e = element("text", { x: r(x), y: r(y), "text-anchor": anchor, "font-size": String(letter), ...(className ? { class: className } : {}) });
  e.textContent = says;
  return e;
}

function element(tag: string, attributes: Record<string, string>): SVGElement {
  const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, value);
  return e;
}
