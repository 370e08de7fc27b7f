// An answer of the calculators' module as it stands on a leaf: the package
// answer leaves the names of the pad and the ways to other leaves open.

export function fill(html: string, pad: string, { sources = "", reckon = "" }: DOMStringMap): DocumentFragment {
  const fresh = document.createElement("template");
  fresh.innerHTML = html.replaceAll("{pad}", pad);
  for (const a of fresh.content.querySelectorAll("a")) a.setAttribute("href", (a.getAttribute("href") ?? "").replace("{sources}", sources).replace("{reckon}", reckon));
  return fresh.content;
}
