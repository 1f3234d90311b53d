// No screen may show a verdict that today's records and today's date do not give.
// A page that shows something of what is kept is covered when that may have
// changed behind its back, until the program has read again and drawn anew: when
// the page is left and comes back as it was, when it is hidden and looked at
// again, when an hour or a day begins, and when another tab has written.
"use strict";

window.larderFresh = (() => {
  const say = (text) => window.larderTexts?.[text] ?? text;
  let path = null; // of the page that shows something of what is kept
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
    // A program that does not answer leaves a way out.
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

  // A page that was left reads nothing: what it would have begun to read could hold
  // up the page that is shown.
  function ask() {
    hide();
    if (!left) {
      asked++;
      renew?.(asked);
    }
  }

  // What leaves the screen is covered at once: whenever it is seen again, on the
  // list of open apps too, the old verdict is not.
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

  // A clock that is set counts as well.
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
    // begin gives what tells the program to read again. It says done with the
    // number that it was given once it has drawn.
    begin(tell) {
      renew = tell;
    },
    // again reads again now: something has been written beside the page.
    again: ask,
    // watch says that a page of this path shows something of what is kept, or,
    // with "", that this one does not.
    watch(at) {
      path = at === "" ? null : at;
      if (!shows()) {
        show();
      }
    },
    done(number) {
      if (number === asked && document.visibilityState === "visible") {
        show();
      }
    },
  };
})();
