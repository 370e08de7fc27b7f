// Answers that say their number in other units as well.
import { alternative, joined, turn } from "./turn";
import type { Leaf } from "./walk";

// only is the one text of an element, if it is not turned yet.
function only(e: Element | null): Text | undefined {
  if (e?.querySelector(".turned")) return undefined;
  while (e && e.childNodes.length === 1 && e.firstElementChild) e = e.firstElementChild;
  const text = e?.firstChild;
  return e?.childNodes.length === 1 && text instanceof Text ? text : undefined;
}

// turnAlso lets the answer and the reader's unit in the line below it, "or 9.11
// m³, or 2,000 gal (imp), or 2,410 gal (US)", change places.
export function turnAlso(leaf: Leaf, found: Element): void {
  const answer = only(found.querySelector("output"));
  const also = only(found.querySelector(".also"));
  if (!answer || !also || leaf.isHeld(also)) return;
  leaf.hold(also);
  const own = alternative(answer.data, also.data, leaf.system);
  if (!own) return;
  const written = answer.data;
  leaf.replace(answer, [{ from: 0, to: written.length, text: own.text }]);
  leaf.replace(also, [{ from: own.from, to: own.to, text: written }]);
}

// turnFound leaves the reader's unit alone in a line such as "7.0 kg (4.6 kg to
// 9.5 kg), or 16 lb".
export function turnFound(leaf: Leaf, line: Element): void {
  const text = only(line);
  const [, head = "", tail = ""] = /^([^,()]*(?:,\d{3}[^,()]*)*(?: \([^()]*(?:\((?:US|imp)\)[^()]*)*\))?)(, or .*)$/s.exec(text?.data ?? "") ?? [];
  if (!text || !tail || leaf.isHeld(text)) return;
  const own = alternative(head, tail, leaf.system);
  if (own === undefined) leaf.hold(text);
  if (!own) return;
  const rest = head.indexOf(" (");
  const written = rest < 0 ? "" : head.slice(rest);
  const range = joined(written, turn(written, leaf.system));
  leaf.replace(text, [{ from: 0, to: text.data.length, text: own.text + range }]);
}
