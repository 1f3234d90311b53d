// The part of Larderlamp that has to work when its program does not: tidy the
// address, say so when the program fails and save what is on the device, and
// offer a new edition. It runs between wasm_exec.js and app.js.
"use strict";

(() => {
  const root = new URL("..", document.currentScript.src).pathname;

  // say gives a text in the language of the site, with {names} filled in.
  const say = (text, filled = {}) => Object.entries(filled).reduce((said, [name, value]) => said.replaceAll("{" + name + "}", value), window.larderTexts?.[text] ?? text);

  // Plain hosts answer /check with a redirect to /check/; the routes have no slash.
  const { pathname, search, hash } = window.location;
  if (pathname !== root && pathname.endsWith("/")) {
    window.history.replaceState(null, "", pathname.replace(/\/+$/, "") + search + hash);
  }

  // The link to the content is no step: what the address asks for stays there.
  document.addEventListener("click", (event) => {
    if (event.target.closest?.("a.skip")) {
      event.preventDefault();
      event.stopPropagation();
      document.getElementById("main").focus();
    }
  }, true);

  // The browser gives up what is still being written when its page is left. A
  // write that hangs holds nobody for longer than ten seconds.
  async function written() {
    for (let n = 0; window.larderWriting && n < 1000; n++) {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    window.larderWriting = false;
  }

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

  // What is in the jar can be said while the program is on its way, which takes
  // it from the address and from window.larderEarly.
  function early(picker) {
    const said = { query: "", group: "", typing: false };
    window.larderEarly = said;
    const field = picker.querySelector("#product");
    const links = [...picker.querySelectorAll("a.product")];
    const groups = picker.querySelectorAll(".groups details");
    const list = picker.querySelector(".found-products");
    const name = (link) => link.firstElementChild.textContent.trim();
    const parts = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().split(/[^a-z0-9]+/).filter(Boolean);

    field.addEventListener("input", () => {
      said.query = field.value;
      const words = parts(field.value);
      const found = document.createElement("ul");
      found.className = "products";
      links.filter((a) => words.length > 0 && words.every((word) => parts(name(a)).some((part) => part.startsWith(word)))).slice(0, 14).forEach((a) => {
        const item = document.createElement("li");
        item.append(a.cloneNode(true));
        found.append(item);
      });
      list.replaceChildren(found);
      picker.querySelector(".groups").hidden = words.length > 0;
    });
    field.addEventListener("focus", () => { said.typing = true; });
    // When the program takes the page over, the field loses the focus with it.
    field.addEventListener("blur", () => setTimeout(() => { said.typing = said.typing && !field.isConnected; }));
    groups.forEach((group) => group.addEventListener("toggle", () => {
      if (group.open) {
        said.group = group.id;
        groups.forEach((other) => { other.open = other === group; });
      } else if (said.group === group.id) {
        said.group = "";
      }
    }));

    // waits stands in the place of the picker for what comes when the program runs.
    function waits(heading, text) {
      const wait = document.createElement("div");
      wait.className = "picker";
      const title = document.createElement("h1");
      title.tabIndex = -1;
      title.textContent = heading;
      const says = document.createElement("p");
      says.className = "lead";
      says.textContent = text;
      const other = button(say("Another food"), () => {
        window.history.replaceState(null, "", window.location.pathname);
        wait.replaceWith(picker);
        field.focus();
      });
      other.className = "button plain";
      wait.append(title, says, picker.querySelector(".stop-short").cloneNode(true), other);
      picker.replaceWith(wait);
      return title;
    }
    const next = say("The first question comes as soon as the guide is ready.");
    picker.addEventListener("click", (event) => {
      const product = event.target.closest("a.product");
      if (product && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
        event.preventDefault();
        window.history.replaceState(null, "", product.href);
        waits(name(product), next).focus();
      }
    });
    // What is asked for stands behind the #, or in an older link before it.
    const asked = new URLSearchParams(hash.includes("=") ? hash.slice(1) : search);
    const product = asked.get("product") && links.find((a) => new URL(a.href).hash === "#product=" + asked.get("product"));
    if (product) {
      waits(name(product), next);
    } else if (asked.has("id")) {
      waits(say("Check a jar"), say("Looking for this check on your device…"));
    }
    requestAnimationFrame(() => setTimeout(() => performance.mark("answerable")));
  }
  const picker = document.querySelector(".picker");
  if (picker) {
    early(picker);
  }

  // What is wanted only when something is up is fetched only then.
  const rescue = () => import(root + "static/later/rescue.js");

  function button(text, act) {
    const b = document.createElement("button");
    b.type = "button";
    b.textContent = text;
    b.addEventListener("click", act);
    return b;
  }

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
    const again = button(say("Load it again"), () => window.location.reload());
    notice.append(says, again, button(say("Save a backup"), async () => {
      try {
        await (await rescue()).saveBackup();
        says.textContent = say("The backup is saved as a file.") + " " + advice;
      } catch (err) {
        console.error(err);
        says.textContent = say("The backup could not be saved: {why}.", { why: err.message }) + " " + advice;
      }
    }));
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
        stopped(say("Larderlamp has stopped working."), say("What is on this page may be out of date: do not rely on it. What was saved is still saved."), "stopped");
      };
    }
  };

  // app.js marks a failed start on the element that it takes for its icon.
  const mark = document.getElementById("app-wasm-loader-icon");
  if (mark) {
    new MutationObserver(() => stopped(say("Larderlamp could not start."), say("No jar can be checked now. What stands on this page is still true."), "unstarted")).observe(mark, { attributes: true });
  }

  // The browser offers to install the app in its own way; app.js would hide that.
  window.addEventListener("beforeinstallprompt", (event) => event.stopImmediatePropagation());

  // A new edition never takes over by itself, because it can change advice, nor
  // while a check is open, in this tab or in another.
  let registration = null;
  let taken = false;
  const checking = () => document.querySelector(".question") !== null;
  const tabs = "BroadcastChannel" in window ? new BroadcastChannel("larderlamp-checks") : null;
  tabs?.addEventListener("message", ({ data }) => {
    if (data === "is a check open?" && checking()) {
      tabs.postMessage("yes");
    }
  });

  async function checkIsOpen() {
    let open = checking();
    if (tabs && !open) {
      const heard = ({ data }) => { open = open || data === "yes"; };
      tabs.addEventListener("message", heard);
      tabs.postMessage("is a check open?");
      await new Promise((later) => setTimeout(later, 300));
      tabs.removeEventListener("message", heard);
    }
    return open;
  }

  const update = {
    waiting: false,
    // take puts the new edition in use and reloads the page, and tells whether.
    async take() {
      if (await checkIsOpen()) {
        return false;
      }
      taken = true;
      if (registration?.waiting) {
        registration.waiting.postMessage("skipWaiting");
      } else {
        written().then(() => window.location.reload()); // another tab has taken it, or it comes again
      }
      return true;
    },
    // compare says what the new edition changes.
    compare: async () => (await rescue()).compare(registration, Program),
  };
  window.larderUpdate = update;

  // offer says that a new edition waits, above the page.
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
          line(say("How many of your jars it judges otherwise could not be worked out."));
        } else {
          const many = Object.values(other).reduce((a, b) => a + b, 0);
          line(many === 0 ? say("None of your {jars} jars changes its verdict.", { jars }) : say("{many} of your {jars} jars would be judged otherwise:", { many, jars }));
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
      says.textContent = say("One moment…");
      if (!await update.take()) {
        says.textContent = say("A check is open, here or in another tab. Finish it first; the new edition waits.");
      }
    });
    notice.append(says, list, changes, use);
    // The program takes the first element of the body for its own when it starts.
    const put = () => {
      if (document.getElementById("app-wasm-loader")) {
        setTimeout(put, 200);
      } else {
        document.body.prepend(notice);
      }
    };
    put();
  }

  if (!("serviceWorker" in navigator)) {
    return;
  }

  // The worker fetches all of the site. That waits until this page can be answered,
  // or cannot be started.
  const { serviceWorker } = navigator;
  const register = serviceWorker.register.bind(serviceWorker);
  serviceWorker.register = async (...worker) => {
    while (document.getElementById("app-wasm-loader") && !document.querySelector(".stopped, .unstarted")) {
      await new Promise((later) => setTimeout(later, 100));
    }
    await new Promise((idle) => (window.requestIdleCallback ?? setTimeout)(idle));
    return register(...worker);
  };

  function look() {
    // Without a controller this is the first edition, not an update.
    if (registration.waiting && navigator.serviceWorker.controller && !update.waiting) {
      update.waiting = true;
      document.dispatchEvent(new CustomEvent("larder-update"));
      offer();
    }
  }

  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (taken) {
      written().then(() => window.location.reload());
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
