// What is folded on the screen is also on paper: reasons, steps and sources are
// printed in full, and folded again afterward.
"use strict";

(() => {
  let opened = [];
  window.addEventListener("beforeprint", () => {
    opened = [...document.querySelectorAll("main details:not([open])")].filter((e) => !e.closest(".noprint, .groups"));
    for (const e of opened) {
      e.open = true;
    }
  });
  window.addEventListener("afterprint", () => {
    for (const e of opened) {
      e.open = false;
    }
    opened = [];
  });
})();
