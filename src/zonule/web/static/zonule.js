// Adds to pages that work without it: a "why" opens beside the plan, Escape closes it, focus stays
// sensible, and a change is said to those who do not see it.
"use strict";

(() => {
  const byId = (id) => document.getElementById(id);
  let opener = null;
  let pressed = "";
  let folds = new Map();

  const again = (element) => (element && element.id && byId(element.id)) || element;

  const say = (text) => {
    byId("said").textContent = text;
  };

  const close = () => {
    const panel = byId("why");
    if (panel.hidden) return;
    panel.hidden = true;
    panel.replaceChildren();
    const back = again(opener);
    (back && back.isConnected ? back : byId("main")).focus();
  };

  const plain = (event) =>
    event.button === 0 && !(event.metaKey || event.ctrlKey || event.shiftKey || event.altKey);

  document.addEventListener(
    "click",
    (event) => {
      const link = event.target.closest("a[href]");
      if (!link || !plain(event)) return;
      const whys = /^\/plan\/[^/]+\/why\?/.test(link.getAttribute("href"));
      if (!whys && link.id !== "why-close") return;
      if (link.id === "why-close" && byId("why").hidden) return;
      event.preventDefault();
      event.stopPropagation();
      if (!whys) return close();
      if (!byId("why").contains(link)) opener = link;
      window.htmx.ajax("GET", link.getAttribute("href"), { target: "#why", swap: "innerHTML" });
    },
    true,
  );

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") close();
  });

  const details = () =>
    [...byId("main").querySelectorAll("details")].map((one) => [
      one.id || one.querySelector("summary").textContent,
      one,
    ]);

  document.addEventListener("htmx:beforeSwap", (event) => {
    if (event.detail.target.id !== "main") return;
    byId("why").hidden = true; // what it explains is about to change
    pressed = document.activeElement.id;
    folds = new Map(details().map(([name, one]) => [name, one.open]));
  });

  document.addEventListener("htmx:afterSwap", (event) => {
    if (event.detail.target.id === "why") {
      byId("why").hidden = false;
      const heading = byId("why").querySelector("h1");
      if (heading) heading.focus();
      return;
    }
    for (const [name, one] of details()) if (folds.has(name)) one.open = folds.get(name);
    if (document.activeElement === document.body) {
      (byId(pressed) || byId("main")).focus({ preventScroll: true });
    }
  });

  document.addEventListener("htmx:afterSettle", () => {
    const said = byId("main").dataset.said;
    if (said && said !== byId("said").textContent) say(said);
  });

  for (const failed of ["htmx:sendError", "htmx:timeout"]) {
    document.addEventListener(failed, () => say(byId("said").dataset.noAnswer));
  }

  window.addEventListener("beforeprint", () => {
    for (const one of document.querySelectorAll("details:not([open])")) {
      one.open = true;
      one.dataset.shut = "";
    }
  });
  window.addEventListener("afterprint", () => {
    for (const one of document.querySelectorAll("details[data-shut]")) {
      one.open = false;
      delete one.dataset.shut;
    }
  });
})();
