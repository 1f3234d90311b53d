// Whether the guide itself is stored on this device, so that it works without a
// connection, and what is in the way. The worker (static/worker.js) stores it.
"use strict";

window.larderStored = (() => {
  const { say } = window.larderBoot;
  let failed = ""; // the name of what last went wrong
  const workers = "serviceWorker" in navigator ? navigator.serviceWorker : null;

  // told waits for the answer of a worker, for three seconds.
  const told = (worker, question) => new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, 3000, null);
    worker.postMessage(question, [port2]);
  });

  // cellar says how many files are stored, of how many, and if not all, why.
  async function cellar() {
    if (!workers) {
      return { have: 0, of: 0, why: window.isSecureContext ? "unable" : "insecure" };
    }
    const registration = await workers.getRegistration().catch(() => null);
    const worker = registration?.active ?? registration?.waiting ?? registration?.installing;
    const counts = worker && await told(worker, { stored: window.larderNeeds() });
    const why = failed === "QuotaExceededError" ? "full" : failed && "failed";
    if (!counts) {
      return { have: 0, of: 0, why: why || "starting" };
    }
    return { ...counts, why: counts.have === counts.of && registration.active ? "" : why || "starting" };
  }

  // The current edition stays in use when a newer one can't be stored; the page
  // says that there is a newer one.
  function notStored() {
    if (document.querySelector(".unstored")) {
      return;
    }
    const notice = document.createElement("section");
    notice.className = "edition unstored";
    notice.setAttribute("role", "status");
    notice.setAttribute("aria-label", say("A new edition"));
    const says = document.createElement("p");
    says.textContent = say("There is a new edition of this guide, and no room on this device to store it. The edition in use stays as it is. Free some room on the device, and load this page again.");
    notice.append(says);
    document.body.append(notice);
  }

  workers?.addEventListener("message", ({ data }) => {
    if (typeof data?.notStored === "string") {
      failed = data.notStored;
      if (failed === "QuotaExceededError" && workers.controller) {
        notStored();
      }
    }
  });

  return { cellar };
})();
