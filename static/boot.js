// The part of Larderlamp that has to work when its program does not: tidy the
// address, say so when the program fails, and offer a new edition. It runs
// between wasm_exec.js and app.js.
"use strict";

(() => {
  const root = new URL("..", document.currentScript.src).pathname;

  // Plain hosts answer /check with a redirect to /check/; the routes have no slash.
  const { pathname, search, hash } = window.location;
  if (pathname !== root && pathname.endsWith("/")) {
    window.history.replaceState(null, "", pathname.replace(/\/+$/, "") + search + hash);
  }

  // A page of another program is left to the browser: the program that runs
  // would not know its route.
  document.addEventListener("click", (event) => {
    const target = event.target.closest?.("a[data-program]");
    if (target && target.dataset.program && target.dataset.program !== document.documentElement.dataset.program) {
      event.stopPropagation();
    }
  }, true);

  // A click lets the program draw what is still to be drawn of the choice before
  // it, which takes the new choice back before the browser has told of it.
  let choice = null;
  document.addEventListener("click", ({ target }) => {
    if (target.type !== "radio" && target.type !== "checkbox") {
      return;
    }
    const made = { target, checked: target.checked };
    choice = made;
    setTimeout(() => {
      if (choice === made && target.isConnected && target.checked !== made.checked) {
        target.checked = made.checked;
        target.dispatchEvent(new Event("change", { bubbles: true }));
      }
    });
  }, true);
  document.addEventListener("change", ({ target }) => {
    if (choice?.target === target) {
      target.checked = choice.checked;
      choice = null;
    }
  }, true);

  // A program that has ended leaves its last picture on the screen. Nobody may
  // take that for an answer.
  function stopped(text, advice, kind) {
    if (document.querySelector(".stopped, .unstarted")) {
      return;
    }
    const notice = document.createElement("div");
    notice.className = kind;
    notice.setAttribute("role", "alert");
    const says = document.createElement("p");
    says.textContent = text + " " + advice;
    const again = document.createElement("button");
    again.type = "button";
    again.textContent = "Load it again";
    again.addEventListener("click", () => window.location.reload());
    notice.append(says, again);
    document.body.prepend(notice);
    window.scrollTo(0, 0);
    again.focus();
  }

  const Program = globalThis.Go;
  globalThis.Go = class extends Program {
    constructor() {
      super();
      this.exit = (code) => {
        console.error("the program has ended with code", code);
        stopped("Larderlamp has stopped working.", "What is on this page may be out of date: do not rely on it. What was saved is still saved.", "stopped");
      };
    }
  };

  // app.js marks a failed start on the element that it takes for its icon.
  const mark = document.getElementById("app-wasm-loader-icon");
  if (mark) {
    new MutationObserver(() => stopped("Larderlamp could not start.", "No jar can be checked now. What stands on this page is still true.", "unstarted")).observe(mark, { attributes: true });
  }

  // The browser offers to install the app in its own way; app.js would hide that.
  window.addEventListener("beforeinstallprompt", (event) => event.stopImmediatePropagation());

  // larderUpdate tells whether a new edition waits; take puts it in use and
  // reloads the page. The event "larder-update" on document announces it.
  let registration = null;
  let taken = false;
  const update = {
    waiting: false,
    take() {
      taken = true;
      registration?.waiting?.postMessage("skipWaiting");
    },
  };
  window.larderUpdate = update;

  if (!("serviceWorker" in navigator)) {
    return;
  }

  function look() {
    // Without a controller this is the first edition, not an update.
    if (registration.waiting && navigator.serviceWorker.controller && !update.waiting) {
      update.waiting = true;
      document.dispatchEvent(new CustomEvent("larder-update"));
    }
  }

  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (taken) {
      window.location.reload();
    }
  });
  navigator.serviceWorker.ready.then((found) => {
    registration = found;
    look();
    const watch = (worker) => worker?.addEventListener("statechange", look);
    watch(registration.installing);
    registration.addEventListener("updatefound", () => watch(registration.installing));
    // An installed page may stay open for weeks; ask when it is looked at again.
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") {
        registration.update().catch(() => {}); // no connection: nothing to do
      }
    });
  });
})();
