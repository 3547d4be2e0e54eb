
"use strict";
// Keeps ticks on this device, and counts them.
(() => {
  const boxes = (id) => [...(id ? document.getElementById(id) : document).querySelectorAll("input[type=checkbox]")];

  // Reading the property alone may throw where a browser keeps nothing.
  const shelf = (() => {
    try {
      const probe = "longlead-probe";
      localStorage.setItem(probe, "1");
      localStorage.removeItem(probe);
      return localStorage;
    } catch {
      return null;
    }
  })();

  const keep = (box) => {
    try {
      if (box.checked === box.defaultChecked) shelf?.removeItem(box.id);
      else shelf?.setItem(box.id, box.checked ? "1" : "0");
    } catch {
      tell(false);
    }
  };

  const recall = (box) => {
    const kept = shelf?.getItem(box.id) ?? null;
    box.checked = kept === null ? box.defaultChecked : kept === "1";
  };

  const tell = (kept) => {
    for (const line of document.querySelectorAll(".kept")) line.hidden = !kept;
    for (const line of document.querySelectorAll(".lost")) line.hidden = kept;
  };

  const count = () => {
    for (const line of document.querySelectorAll(".count")) {
      const all = boxes(line.dataset.of);
      const done = all.filter((box) => box.checked).length;
      line.textContent = `${done} of ${all.length} ticked`;
      line.classList.toggle("done", done === all.length);
    }
  };

  const clear = (button) => {
    const ticked = boxes(button.dataset.of).filter((box) => box.checked !== box.defaultChecked);
    if (ticked.length === 0 || !confirm(`Clear ${ticked.length} tick${ticked.length === 1 ? "" : "s"}? This cannot be undone.`)) return;
    for (const box of ticked) {
      box.checked = box.defaultChecked;
      keep(box);
    }
    count();
  };

  for (const box of boxes()) {
    recall(box);
    box.addEventListener("change", () => { keep(box); count(); });
  }
  for (const button of document.querySelectorAll("button.clear")) {
    button.hidden = false;
    button.addEventListener("click", () => clear(button));
  }
  // Another window with the same page.
  addEventListener("storage", () => { boxes().forEach(recall); count(); });
  tell(shelf !== null);
  count();
})();
