// A program that has ended, or can't start, says so. A program that has ended
// leaves its last picture on the screen, and nobody may take that for an
// answer. Technical details go to the console only.
"use strict";

const { say, button, rescue, running } = window.larderBoot;

// helps returns the buttons of a notice: load again, and save what there is.
// The result of saving is written in `says`, before the advice.
function helps(says, advice) {
  const again = button(say("Load it again"), () => window.location.reload());
  const save = button(say("Save a backup"), async () => {
    let outcome = say("The backup is saved as a file.");
    try {
      await (await rescue()).saveBackup();
    } catch (err) {
      console.error(err);
      outcome = say("The backup could not be saved: {why}.", { why: err.plain ?? say("what is kept on this device could not be read") });
    }
    says.textContent = outcome + " " + advice;
  });
  return [again, save];
}

let ended = false;

function stopped() {
  if (document.querySelector(".stopped")) {
    return;
  }
  const notice = document.createElement("div");
  notice.className = "stopped";
  notice.setAttribute("role", "alert");
  const advice = say("What is on this page may be out of date: do not rely on it. What was saved is still saved.");
  const says = document.createElement("p");
  says.textContent = say("Larderlamp has stopped working.") + " " + advice;
  const [again, save] = helps(says, advice);
  notice.append(says, again, save);
  document.body.prepend(notice);
  window.scrollTo(0, 0);
  again.focus();
}

// unstarted shows the notice that is ready in the page (see
// wasm/hosting/unready.go), which would otherwise show itself a little later,
// and adds what is known about the cause.
function unstarted(cause) {
  const notice = document.getElementById("unready");
  if (!notice || notice.classList.contains("unstarted")) {
    return;
  }
  const advice = say("No jar can be checked now. What stands on this page is still true.");
  let says = notice.querySelector(`:scope > [lang="${document.documentElement.lang}"] .unready-why`);
  if (!says) {
    says = document.createElement("p");
    notice.append(says);
  }
  says.textContent = say("Larderlamp could not start.") + " " + cause + " " + advice;
  says.after(...helps(says, advice));
  notice.classList.add("unstarted");
  document.documentElement.dataset.unready = "";
  document.getElementById("app-wasm-loader-label")?.replaceChildren();
  window.scrollTo(0, 0);
}

// end is called when nothing in the program can be trusted any more.
function end(why) {
  console.error("the program has ended:", why);
  if (ended) {
    return;
  }
  ended = true;
  if (running()) {
    stopped();
  } else {
    unstarted(say("It has stopped while it started. This browser may be too old for it, or have too little memory left."));
  }
}

// Whatever ends the program passes here: its own exit, and a browser error that
// goes through it and leaves it in a state in which it can't continue.
const Program = globalThis.Go;
if (Program) {
  globalThis.Go = class extends Program {
    constructor() {
      super();
      this.exit = (code) => end(`code ${code}`);
    }

    _resume() {
      if (ended || this.exited) {
        return;
      }
      try {
        super._resume();
      } catch (err) {
        end(err);
      }
    }
  };
}

window.larderStopped = { unstarted, end, Program };
