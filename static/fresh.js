// No screen may show a verdict that does not follow from today's records and
// today's date. A page that shows something stored is covered when that may have
// changed without its knowledge, until the program has read it again and redrawn
// the page: when the page is left and comes back as it was, when it is hidden and
// looked at again, when an hour or a day begins, and when another tab has
// written.
"use strict";

window.larderFresh = (() => {
  const { say } = window.larderBoot;
  let path = null; // path of the page that shows something stored
  let renew = null; // tells the program to read again
  let asked = 0; // how often it was told
  let cover = null;
  let left = false; // the page, which the browser may keep as it is

  const shows = () => path !== null && path === window.location.pathname;

  function hide() {
    if (cover || !shows()) {
      return;
    }
    cover = document.createElement("div");
    cover.className = "cover";
    cover.setAttribute("role", "status");
    const says = document.createElement("p");
    says.textContent = say("Reading again what is kept on this device…");
    cover.append(says);
    document.querySelector(".page")?.setAttribute("aria-hidden", "true");
    document.body.append(cover);
    // If the program does not answer, there is a way out.
    const put = cover;
    setTimeout(() => {
      const again = document.createElement("button");
      again.type = "button";
      again.textContent = say("Load it again");
      again.addEventListener("click", () => window.location.reload());
      put.append(again);
    }, 10000);
  }

  function show() {
    cover?.remove();
    cover = null;
    document.querySelector(".page")?.removeAttribute("aria-hidden");
  }

  // A page that was left reads nothing: reading could delay the page that is shown.
  function ask() {
    hide();
    if (!left) {
      asked++;
      renew?.(asked);
    }
  }

  // What leaves the screen is covered at once: whenever it is seen again, even
  // in the list of open apps, the old verdict is not visible.
  window.addEventListener("pagehide", () => {
    left = true;
    hide();
  });
  window.addEventListener("pageshow", ({ persisted }) => {
    left = false;
    if (persisted) {
      ask();
    }
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") {
      hide();
    } else {
      ask();
    }
  });

  // Changing the clock counts too.
  const hour = () => new Date().toString().slice(0, 18);
  let now = hour();
  setInterval(() => {
    if (now !== hour()) {
      now = hour();
      ask();
    }
  }, 5000);

  window.larderDevice.listen((text) => {
    if (text === "written") {
      ask();
    }
  });

  return {
    // begin gets the function that tells the program to read again. The program
    // calls done with the number it was given, once it has drawn.
    begin(tell) {
      renew = tell;
    },
    // again reads again now: something was written outside the page.
    again: ask,
    // watch says that the page at this path shows something stored, or, with
    // "", that this one does not.
    watch(at) {
      path = at === "" ? null : at;
      if (!shows()) {
        show();
      } else if (cover) {
        // The page for which it was read again has been left, and may not have
        // drawn it: whatever is dispatched for a page that was left is dropped.
        setTimeout(ask);
      }
    },
    done(number) {
      if (number === asked && document.visibilityState === "visible") {
        show();
      }
    },
  };
})();
