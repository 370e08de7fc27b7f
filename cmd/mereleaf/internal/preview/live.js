// The preview's own script: it reloads the page when its bytes have changed, and
// shows over it what is wrong with the last edit.
(() => {
  "use strict";
  const own = new URL(document.currentScript.src);
  const here = own.searchParams.get("page");
  const digest = own.searchParams.get("digest");
  const events = new EventSource(new URL("events?page=" + encodeURIComponent(here), own));
  let panel = null;

  const style = document.createElement("link");
  style.rel = "stylesheet";
  style.href = new URL("live.css", own).href;
  document.head.append(style);

  events.addEventListener("page", (event) => {
    if (event.data !== digest) location.reload();
  });

  const fill = (list, faults) => {
    list.replaceChildren(
      ...faults.map((fault) => {
        const item = document.createElement("li");
        item.textContent = fault;
        return item;
      }),
    );
  };

  events.addEventListener("faults", (event) => {
    const faults = event.data === "" ? [] : event.data.split("\n");
    if (document.body.classList.contains("preview-notice")) {
      fill(document.querySelector("ul"), faults);
      return;
    }
    if (panel) panel.remove();
    panel = null;
    if (faults.length === 0) return;
    panel = document.createElement("section");
    panel.className = "preview-faults";
    panel.setAttribute("role", "alert");
    const title = document.createElement("p");
    title.textContent = "The last edit has faults; this page shows the handbook before it.";
    const list = document.createElement("ul");
    fill(list, faults);
    panel.append(title, list);
    document.body.append(panel);
  });
})();
