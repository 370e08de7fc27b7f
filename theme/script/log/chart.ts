// Draws a series of readings over time, with the limits of the bands, and says
// the same in words.
import { element as html } from "../shared/leaf";
import { withUnit, type Series } from "./reading";
import { date } from "./time";
import { moment, say, type Point } from "./trend";

// The drawing is as wide as the text of a small phone, so that its letters have
// the size they say.
const width = 344;
const high = { top: 14, plot: 150, bottom: 22 };
const plot = { left: 72, right: 334 };
const letter = 12;

export function chart(series: Series, points: Point[]): HTMLElement {
  const figure = html("figure", "", "went");
  figure.dataset.chart = series.name;
  const caption = html("figcaption", [series.label, series.as].filter(Boolean).join(", "));
  caption.id = `log_chart_${series.name}`;
  const words = html("p", say(series, points));
  words.id = `log_words_${series.name}`;
  const svg = draw(series, points);
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-labelledby", caption.id);
  svg.setAttribute("aria-describedby", words.id);
  figure.append(caption, svg, words);
  return figure;
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
