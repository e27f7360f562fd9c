// Keeps what is half typed: at once in this browser, then at the loft. Pages
// read and send without this script; only the keeping is lost.
"use strict";
(() => {
  // What was saved needs no keeping; the word is taken out of the address, so
  // that a reload does not say it of what is typed next.
  const said = new URLSearchParams(location.search).get("said");
  if (said) {
    forgetPage(location.pathname);
    if (said === "made") forgetPage("/orders/new");
    const address = new URL(location.href);
    address.searchParams.delete("said");
    history.replaceState(null, "", address);
  }
  for (const form of document.querySelectorAll("form[data-draft]")) keep(form);
  for (const link of document.querySelectorAll("a[data-line]")) link.addEventListener("click", jump);

  function keep(form) {
    const page = form.dataset.draft;
    const key = (field) => "becket " + page + " " + field;
    const said = form.querySelector(".draft");
    const fields = [...form.querySelectorAll("textarea[name], input[name]:not([type=hidden]):not([type=file]):not([type=password]):not([type=radio]):not([type=checkbox]), select[name]")];
    const say = (text) => { if (said) said.textContent = text; };
    const revision = () => Number(form.dataset.revision || 0);
    const revise = (to) => {
      const hidden = form.querySelector("input[name=revision]");
      if (!to || !hidden) return;
      form.dataset.revision = to;
      hidden.value = to;
    };
    const waiting = new Map();
    let timer = 0;
    for (const field of fields) {
      const first = field.value;
      const held = read(key(field.name));
      if (held && held.value !== first) {
        field.value = held.value;
        // A save is judged by the revision that the text was begun from.
        revise(held.revision);
        say("What you had typed here is back; it is not saved yet.");
      }
      field.addEventListener("input", () => {
        write(key(field.name), { value: field.value, revision: revision() });
        waiting.set(field.name, field.value);
        say("Kept in this browser.");
        clearTimeout(timer);
        timer = setTimeout(send, 400);
      });
    }
    window.addEventListener("online", send);

    async function send() {
      for (const [field, value] of [...waiting]) {
        try {
          const answer = await fetch("/drafts", {
            method: "POST", headers: { "content-type": "application/json" },
            body: JSON.stringify({ page, field, value, based_on: revision() }),
          });
          if (!answer.ok) throw new Error(String(answer.status));
          if (waiting.get(field) === value) waiting.delete(field);
          say("Kept; not saved yet.");
        } catch {
          say("The loft cannot be reached: kept in this browser, and tried again.");
          clearTimeout(timer);
          timer = setTimeout(send, 3000);
          return;
        }
      }
    }
  }
  function read(key) { try { return JSON.parse(localStorage.getItem(key)); } catch { return null; } }
  function write(key, kept) { try { localStorage.setItem(key, JSON.stringify(kept)); } catch { /* no room: the loft's copy remains */ } }
  function forgetPage(page) {
    try {
      for (const key of Object.keys(localStorage)) if (key.startsWith("becket " + page + " ")) localStorage.removeItem(key);
    } catch { /* nothing to forget */ }
  }

  // A mistake's line: puts the cursor there.
  function jump(event) {
    const area = document.querySelector("textarea[name=text]");
    if (!area) return;
    event.preventDefault();
    const lines = area.value.split("\n");
    const line = Number(event.currentTarget.dataset.line), column = Number(event.currentTarget.dataset.column);
    const at = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0) + column - 1;
    area.focus();
    area.setSelectionRange(at, at);
    area.scrollTop = Math.max(0, (line - 4) * parseFloat(getComputedStyle(area).lineHeight));
  }
})();
