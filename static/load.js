// Fetches the program, makes sure that it is the right one, and starts it. This
// replaces go-app's own loader, which treats every browser with "bot" in its name
// as a crawler, and the address "?wasm=false" as a request, and then leaves a
// page that looks alive and is not; and it shows errors in technical words.
"use strict";

const { root, say, button, running } = window.larderBoot;
const { unstarted, end } = window.larderStopped;
const { dataset } = document.documentElement;

// What go-app's program needs from its page.
const environment = JSON.parse(dataset.env);
window.goappGetenv = (name) => environment[name] ?? "";

// Fault is an error with a cause that a person can do something about.
class Fault extends Error {
  constructor(cause, technical) {
    super(technical);
    this.cause = cause;
  }
}

const absent = () => say("A part of the guide has not come. The connection may be broken, or ask for a sign-in first, as in a hotel: open any other page, and sign in there.");
const damaged = () => say("What came is not the guide, or it was damaged on the way. The connection may ask for a sign-in first, as in a hotel: open any other page, and sign in there.");
const tooOld = () => say("This browser does not run WebAssembly, which the guide is made of, or it is switched off. Update the browser, or try another one.");

// fetched returns the program as an answer that is compiled while it arrives,
// and the proof, available later, that it was the right one.
async function fetched() {
  const label = document.getElementById("app-wasm-loader-label");
  const total = Number(dataset.bytes);
  let loaded = 0;
  let said;
  const progress = () => {
    const percent = Math.min(100, Math.round((loaded * 100) / total));
    if (label && percent !== said && !document.querySelector(".unstarted")) {
      said = percent;
      label.textContent = say("Loading the guide: {progress} %", { progress: percent });
    }
  };
  progress();

  // Without cryptography the browser compares the digest, and compiles only after
  // that.
  const checks = window.crypto?.subtle;
  const response = await (window.larderAsked ?? window.larderAsk()).catch((err) => {
    throw new Fault(checks || !navigator.onLine ? absent() : damaged(), err.message);
  });
  if (!response.ok) {
    throw new Fault(absent(), `status ${response.status}`);
  }
  const headers = { "Content-Type": "application/wasm" };
  if (!checks) {
    return { answer: new Response(await response.arrayBuffer(), { headers }), proof: Promise.resolve() };
  }
  if (response.headers.get("Larder-Digest") === dataset.digest) {
    return { answer: response, proof: Promise.resolve() }; // the worker has checked that
  }
  // The browser compiles one copy while it arrives, with no script in between.
  const copy = response.clone();
  const proof = proven(copy.body.getReader(), total, (so) => {
    loaded = so;
    progress();
  }).catch((err) => {
    throw new Fault(damaged(), err.message);
  });
  proof.catch(() => {}); // the code that waits for it sees the error
  const right = response.headers.get("Content-Type") === headers["Content-Type"];
  return { answer: right ? response : new Response(response.body, { headers }), proof };
}

// proven reads a copy of the program while it arrives, and fails unless every part
// of it has the right digest. With a single digest for all of it, the work would
// start only when everything is there.
async function proven(reader, total, came) {
  const { size, digests } = window.larderParts;
  const found = [];
  const digest = async (part) => btoa(String.fromCharCode(...new Uint8Array(await crypto.subtle.digest("SHA-256", part))));
  let part = new Uint8Array(size);
  let filled = 0;
  let loaded = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) {
      break;
    }
    loaded += value.length;
    came(loaded);
    if (loaded > total) {
      throw new Error(`more than ${total} bytes`);
    }
    for (let rest = value; rest.length > 0;) {
      const fits = rest.subarray(0, size - filled);
      part.set(fits, filled);
      filled += fits.length;
      rest = rest.subarray(fits.length);
      if (filled === size) {
        found.push(digest(part));
        part = new Uint8Array(size);
        filled = 0;
      }
    }
  }
  found.push(digest(part.subarray(0, filled)));
  const wrong = (await Promise.all(found)).findIndex((is, n) => is !== digests[n]);
  if (loaded !== total || wrong >= 0) {
    throw new Error(wrong < 0 ? `${loaded} of ${total} bytes` : `part ${wrong + 1} of ${digests.length}, ${loaded} of ${total} bytes`);
  }
}

// kept is the program that the worker has on the device, which the page requests
// before this script arrives (see wasm/hosting/page.go), or the reason why there
// is none: then it is fetched in the usual way.
const kept = window.larderProgram ?? Promise.reject(new Error("no worker"));
kept.catch(() => {});

async function compiled({ answer, proof }) {
  let module;
  try {
    module = WebAssembly.compileStreaming ? await WebAssembly.compileStreaming(answer) : await WebAssembly.compile(await answer.arrayBuffer());
  } catch (err) {
    // Nobody is told to change browsers because a file was damaged. A program
    // that does not arrive completely can't be checked.
    const right = await Promise.race([proof.then(() => true, () => false), new Promise((later) => setTimeout(later, 1000, false))]);
    throw new Fault(right ? tooOld() : damaged(), err.message);
  }
  await proof;
  return module;
}

// handOver removes what was shown in place of the program, at the moment when
// the program has put its page there.
function handOver(placeholder) {
  return new Promise((resolve) => {
    const watch = new MutationObserver(() => {
      if (!placeholder.isConnected) {
        watch.disconnect();
        document.documentElement.dataset.runs = "";
        const clear = () => document.querySelectorAll(".unready-line, #before, #app-wasm-loader").forEach((e) => e.remove());
        clear();
        // The rest of a page that was not waited for may still arrive.
        document.addEventListener("DOMContentLoaded", clear);
        resolve();
      }
    });
    watch.observe(document.body, { childList: true });
  });
}

async function start() {
  if (typeof WebAssembly !== "object" || !WebAssembly.instantiate) {
    throw new Fault(tooOld(), "no WebAssembly");
  }
  if (!globalThis.Go || !window.larderDevice || !window.larderStore) {
    throw new Fault(absent(), "a script is missing");
  }
  const module = await kept.catch(async () => compiled(await fetched()));
  // A page that nobody looks at is not drawn.
  await Promise.race([window.larderAnswerable, new Promise((late) => setTimeout(late, 500))]);
  const program = new Go();
  const instance = await WebAssembly.instantiate(module, program.importObject).catch((err) => {
    throw new Fault(tooOld(), err.message);
  });
  const over = handOver(document.body.firstElementChild);
  program.run(instance).catch(end);
  await over;
  if (dataset.styled !== undefined && !getComputedStyle(document.documentElement).getPropertyValue("--lamp")) {
    unstyled();
  }
}

// unstyled says why the page looks bare. Everything on it works.
function unstyled() {
  const notice = document.createElement("section");
  notice.className = "edition unstyled";
  notice.setAttribute("role", "status");
  const says = document.createElement("p");
  says.textContent = say("The colors and shapes of this page have not come. What it says is right, and it can be used.");
  notice.append(says, button(say("Load it again"), () => window.location.reload()));
  document.body.prepend(notice);
}

// The worker fetches the whole site. That waits until the page can react, or
// can't be started.
async function store() {
  if (!navigator.serviceWorker) {
    return;
  }
  await new Promise((idle) => (window.requestIdleCallback ?? setTimeout)(idle));
  // A first visit is as small as it can be. On a later one the worker stores what finds
  // foods by their names in other languages, if it has not yet: see foods.js.
  window.larderFoods.forEach(({ address }) => navigator.serviceWorker.controller?.postMessage({ keep: address }));
  await navigator.serviceWorker.register(root + "app-worker.js");
}

start().catch((err) => {
  console.error("the program could not be started:", err);
  if (!running()) {
    unstarted(err instanceof Fault ? err.cause : tooOld());
  }
}).then(store).catch((err) => {
  // The browser cancels the requests of a page that is left, and nothing is wrong
  // then.
  const later = setTimeout(() => console.error("the site is not stored on this device:", err), 1000);
  window.addEventListener("pagehide", () => clearTimeout(later));
});
