// The list of all readings, the newest first.
import { element, type Leaf } from "../shared/leaf";
import type { Judging } from "./advice";
import { inFuture, type Log } from "./log";
import { withUnit, type Reading } from "./reading";
import { time } from "./time";
import { summary } from "./words";

const atOnce = 20; // readings before "Show older ones"

export type List = ReturnType<typeof openList>;

export function openList({ part }: Leaf, judging: Judging, log: Log, edit: (reading: Reading) => void) {
  const { of } = log;
  const list = part("list");
  let listed = atOnce;

  function describe(li: HTMLElement, reading: Reading): void {
    const says = judging.of(reading);
    const unit = of.tests.find((t) => t.name === "tan")?.symbol ?? "";
    const toxic = reading.numbers.tan === undefined || says?.toxic === undefined ? "" : ` · toxic ammonia ${withUnit(says.toxic, unit)}`;
    const [when, level, values] = li.children;
    when!.textContent = time(reading.at) + (inFuture(reading) ? " (in the future)" : "");
    level!.textContent = says ? (of.levels[says.level] ?? "") : "";
    values!.textContent = summary(reading, of) + toxic;
  }

  function item(reading: Reading): HTMLElement {
    const li = element("li");
    li.dataset.id = reading.id;
    li.append(element("b", "", "when"), " ", element("span", "", "level"), " ", element("span", "", "values"), " ");
    describe(li, reading);
    const tools = element("span", "", "tools");
    for (const [says, act] of [["Change", edit], ["Delete", (r: Reading) => void log.remove(r)]] as const) {
      const button = element("button", says);
      button.type = "button";
      button.setAttribute("aria-label", `${says} the reading of ${time(reading.at)}`);
      button.addEventListener("click", () => act(reading));
      tools.append(button, " ");
    }
    li.append(tools);
    return li;
  }

  function show(): void {
    list.replaceChildren(...[...log.all].reverse().slice(0, listed).map(item));
    part("more").hidden = listed >= log.all.length;
  }

  return {
    listed: (): number => listed, // how many are, at most
    show,
    // more shows older ones, and goes to the first of them.
    more(): void {
      const next = listed;
      listed += 5 * atOnce;
      show();
      list.children[next]?.querySelector("button")?.focus();
    },
    // renew writes what the calculators have said of a reading since.
    renew(reading: Reading): void {
      const li = [...list.children].find((e) => (e as HTMLElement).dataset.id === reading.id);
      if (li) describe(li as HTMLElement, reading);
    },
  };
}
