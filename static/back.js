// A step back shows a page where it was left. The browser can't do this by itself:
// the program draws the page first, and much of it only when the records have been
// read.
"use strict";

(() => {
  document.addEventListener("click", (event) => {
    // Writing it takes a frame on a slow phone, and most pages are left at their top.
    if (event.target.closest?.("a[href]:not(.skip)") && window.scrollY !== (window.history.state?.top ?? 0)) {
      window.history.replaceState({ top: window.scrollY }, "");
    }
  }, true);

  // The page is scrolled there until it stays there for some time, or somebody
  // scrolls it.
  let until = 0;
  for (const kind of ["wheel", "touchstart", "pointerdown", "keydown", "click"]) {
    document.addEventListener(kind, () => { until = 0; }, { capture: true, passive: true });
  }
  window.addEventListener("popstate", ({ state }) => {
    if (!state?.top) {
      return;
    }
    until = performance.now() + 2000;
    const put = () => {
      if (performance.now() < until) {
        if (window.scrollY !== state.top) {
          window.scrollTo(0, state.top);
        }
        requestAnimationFrame(put);
      }
    };
    requestAnimationFrame(put);
  });
})();
