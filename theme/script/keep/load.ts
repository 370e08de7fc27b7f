// Makes room on the leaf for saying whether the handbook can be read without a
// signal, and loads the script that sees to it.

export function keepOffline(keeper: string, worker: string): void {
  if (!location.protocol.startsWith("http")) return; // a folder is at hand anyway
  const box = document.createElement("div");
  box.className = "keeping";
  (document.querySelector(".cover") ?? document.querySelector(".back") ?? document.body).append(box);
  const load = (): void => {
    const script = document.createElement("script");
    script.src = keeper;
    script.dataset.worker = new URL(worker, location.href).href;
    document.head.append(script);
  };
  // The leaf first: nothing else is fetched before it has been shown.
  const later = (): void => void setTimeout(load, 500);
  if (document.readyState === "complete") later();
  else addEventListener("load", later);
}
