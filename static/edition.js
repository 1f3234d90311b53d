// A new edition never takes over by itself, because it can change advice, and
// never while a check is open, in this tab or another. It is offered above the
// page.
"use strict";

const { root, say, button, rescue, written, running } = window.larderBoot;

let registration = null;
let taken = false;
const checking = () => document.querySelector(".question") !== null;

// All pages in which a check is open share a lock. Asking the other pages would
// need an answer in time, and a busy page gives none.
const lock = "larderlamp-check " + root;
let left = false;
let holds = false;
let letGo = () => {};

function hold() {
  const open = checking() && !left;
  if (open === holds) {
    return;
  }
  holds = open;
  letGo();
  letGo = () => {};
  if (open) {
    const until = new Promise((done) => { letGo = done; });
    navigator.locks?.request(lock, { mode: "shared" }, () => until).catch(() => {}); // the page is being left
  }
}

new MutationObserver(hold).observe(document.body, { childList: true, subtree: true });
window.addEventListener("pagehide", () => {
  left = true;
  hold();
});
window.addEventListener("pageshow", () => {
  left = false;
  hold();
});

const checkIsOpen = async () => checking() || (navigator.locks ? navigator.locks.request(lock, { ifAvailable: true }, (free) => free === null) : false);

const update = {
  waiting: false,
  // take activates the new edition and reloads the page, and reports whether it
  // did.
  async take() {
    if (await checkIsOpen()) {
      return false;
    }
    taken = true;
    if (registration?.waiting) {
      registration.waiting.postMessage("skipWaiting");
    } else {
      written().then(() => window.location.reload()); // another tab has activated it, or it comes again
    }
    return true;
  },
  // compare says what the new edition changes.
  compare: async () => (await rescue()).compare(registration, window.larderStopped.Program),
};
window.larderUpdate = update;

// offer says above the page that a new edition is waiting.
let offered = null;
function offer() {
  const notice = document.createElement("section");
  notice.className = "edition";
  notice.setAttribute("role", "status");
  notice.setAttribute("aria-label", say("A new edition"));
  const says = document.createElement("p");
  says.textContent = say("A new edition of this guide is ready. Advice may have changed; your checks stay.");
  const list = document.createElement("ul");
  const line = (text) => {
    const item = document.createElement("li");
    item.textContent = text;
    list.append(item);
  };
  const changes = button(say("What changes?"), async () => {
    changes.disabled = true;
    list.replaceChildren();
    line(say("Judging your jars by both editions…"));
    try {
      const { edition, news, jars, changes: other } = await update.compare();
      list.replaceChildren();
      line(say("Edition {edition}.", { edition }));
      news.forEach((change) => line(say(change)));
      if (jars === undefined) {
        line(say("How many of your jars would get another answer could not be worked out."));
      } else {
        const many = Object.values(other).reduce((a, b) => a + b, 0);
        line(many === 0 ? say("None of your {jars} jars changes its verdict.", { jars }) : say("{many} of your {jars} jars would get another answer:", { many, jars }));
        Object.entries(other).forEach(([change, n]) => line(`${n} × ${change.split(" → ").map((verdict) => say(verdict)).join(" → ")}`));
      }
    } catch (err) {
      console.error(err);
      list.replaceChildren();
      line(say("What changes could not be read."));
      changes.disabled = false;
    }
  });
  const use = button(say("Use it now"), async () => {
    tell(say("One moment…"));
    if (!await update.take()) {
      finishFirst();
      return;
    }
    // The old worker first finishes what it answers. On a busy computer Chromium also
    // waited for one that had nothing left to do, once in about thirty updates. It waits
    // for five minutes (content/browser/service_worker/service_worker_registration.cc).
    setTimeout(() => {
      if (registration.waiting) {
        tell(say("The old edition is still busy. The new one comes in a few minutes, and loads this page again. Go on until then. A check that is open stays open."));
      }
    }, 5000);
  });
  // Beside the button, because what changes can fill a screen.
  const outcome = document.createElement("p");
  outcome.className = "edition-outcome";
  notice.append(says, list, outcome, changes, use);
  offered?.remove();
  offered = notice;
  // The program uses the first element of the body as its own when it starts.
  const put = () => {
    if (notice !== offered) {
      return; // it is offered in another language
    }
    if (running()) {
      document.body.prepend(notice);
    } else {
      setTimeout(put, 200);
    }
  };
  put();
}

function tell(text) {
  offered.querySelector(".edition-outcome").textContent = text;
}

function finishFirst() {
  tell(say("A check is open, here or in another tab. Finish it first; the new edition waits."));
}

document.addEventListener("larder-language", () => offered && offer());

function look() {
  // Without a controller this is the first edition, not an update.
  if (registration.waiting && navigator.serviceWorker.controller && !update.waiting) {
    update.waiting = true;
    document.dispatchEvent(new CustomEvent("larder-update"));
    offer();
  }
}

if (navigator.serviceWorker) {
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (taken && checking()) {
      finishFirst(); // it was begun meanwhile
    } else if (taken) {
      written().then(() => window.location.reload());
    }
  });
  navigator.serviceWorker.ready.then((found) => {
    registration = found;
    look();
    const watch = (worker) => worker?.addEventListener("statechange", look);
    watch(registration.installing);
    registration.addEventListener("updatefound", () => watch(registration.installing));
    // An installed page may stay open for weeks; check when somebody looks at it
    // again.
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") {
        registration.update().catch(() => {}); // no connection: nothing to do
      }
    });
  });
}
