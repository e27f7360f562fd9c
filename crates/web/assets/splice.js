// The splice bench: draws again while the numbers change. Without this script
// the form's own button does the same.
"use strict";
(() => {
  const form = document.querySelector("form[data-redraw]");
  if (!form) return;
  const into = document.getElementById(form.dataset.into);
  let asked = 0, timer = 0, running = null;
  const draw = async () => {
    const mine = ++asked;
    const query = new URLSearchParams(new FormData(form)).toString();
    if (running) running.abort();
    running = new AbortController();
    try {
      const open = [...into.querySelectorAll("details")].map((one) => one.open);
      const answer = await fetch(form.dataset.redraw + "?" + query, { signal: running.signal });
      const text = await answer.text();
      if (mine !== asked) return;
      into.innerHTML = text;
      into.querySelectorAll("details").forEach((one, at) => { if (at in open) one.open = open[at]; });
      into.dataset.drawn = String(mine);
      history.replaceState(null, "", form.action.split("?")[0] + "?" + query);
    } catch (why) {
      if (why.name !== "AbortError") into.dataset.lost = "1";
    }
  };
  form.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(draw, 20); });
})();
