// The language of the page. It is English until the texts of another one are there:
// see wasm/hosting/languages.go. A reader can choose another on every page; what the
// page shows and what was answered stay.
"use strict";

const { root, said, button } = window.larderBoot;
const languages = window.larderLanguages ?? { offered: [], wanted: null };
const english = { tag: "en", name: "English" };
const page = document.documentElement;
const got = new Map(); // the texts that have come, by language
let now = english;
let turns = 0; // how often a language was chosen

// What the page says before its program runs is in English. Each part that is shown
// in another language is kept here with how to put its English back.
let undo = [];

function put(owner, property, text) {
  const was = owner[property];
  undo.push(() => { owner[property] = was; });
  owner[property] = text;
}

function translated(text) {
  const core = text.trim();
  const theirs = core && said(core);
  return theirs ? text.replace(core, () => theirs) : text;
}

function before() {
  undo.forEach((back) => back());
  undo = [];
  if (now === english || "runs" in page.dataset) {
    return;
  }
  for (const part of document.querySelectorAll("#before, #app-wasm-loader")) {
    const texts = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      put(texts.currentNode, "data", translated(texts.currentNode.data));
    }
    for (const e of [part, ...part.querySelectorAll("[aria-label], [placeholder]")]) {
      for (const property of ["ariaLabel", "placeholder"]) {
        if (e[property]) {
          put(e, property, translated(e[property]));
        }
      }
    }
    for (const button of part.querySelectorAll(".language")) {
      if (button.lang === now.tag) {
        put(button, "textContent", english.name);
        put(button, "lang", english.tag);
      }
    }
  }
  put(document, "title", translated(document.title));
}

// turn shows the page in a language.
function turn(language) {
  now = language;
  window.larderLanguage = got.get(language.tag) ?? "";
  window.larderTexts = window.larderLanguage ? JSON.parse(window.larderLanguage) : null;
  page.lang = language.tag;
  const describes = document.querySelector("link[rel=manifest]");
  if (describes) {
    describes.href = root + (language === english ? "manifest.webmanifest" : `manifest.${language.tag}.webmanifest`);
  }
  before();
  delete page.dataset.translates;
  document.querySelector(".untold")?.remove();
  window.larderSpeak?.();
  document.dispatchEvent(new CustomEvent("larder-language"));
  keep();
}

// keep tells the worker to store the texts of the language, for use without a
// connection.
async function keep() {
  const language = now;
  if (language !== english && navigator.serviceWorker) {
    const { active } = await navigator.serviceWorker.ready;
    active.postMessage({ keep: language.address });
  }
}

// What has to be on the device besides the files that everybody needs.
window.larderNeeds = () => (now === english ? [] : [now.address]);

// untold says, in its own words, that the texts of a language have not come.
function untold(language) {
  document.querySelector(".untold")?.remove();
  const notice = document.createElement("section");
  notice.className = "edition untold";
  notice.lang = language.tag;
  notice.setAttribute("role", "status");
  const says = document.createElement("p");
  says.textContent = language.absent;
  notice.append(says, button(language.again, () => choose(language)));
  // The program uses the first element of the body as its own when it starts.
  const show = () => {
    if ("runs" in page.dataset) {
      document.body.prepend(notice);
    } else if (now !== language) {
      setTimeout(show, 200);
    }
  };
  show();
}

// choose shows the page in a language that the reader has chosen, and keeps the choice
// on this device.
async function choose(language) {
  turns++;
  const turned = turns;
  if (language !== english && !got.has(language.tag)) {
    try {
      got.set(language.tag, await window.larderDevice.inTime(languages.texts(language)));
    } catch (err) {
      console.warn("the texts of the language have not come:", err);
      if (turned === turns) {
        untold(language);
      }
      return;
    }
  }
  if (turned === turns) {
    window.larderDevice.setItem("larderlamp-language", language.tag);
    turn(language);
  }
}

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("button.language");
  if (button) {
    choose([english, ...languages.offered].find(({ tag }) => tag === button.lang));
  }
});

if (window.larderLanguage) {
  got.set(languages.wanted.tag, window.larderLanguage);
  turn(languages.wanted);
} else if (languages.wanted) {
  const { wanted, fault } = languages;
  console.warn("the page is in English, because the texts of its language have not come:", fault);
  turn(english);
  untold(wanted);
  // They may only be late.
  languages.coming.then((texts) => {
    got.set(wanted.tag, texts);
    if (turns === 0) {
      turn(wanted);
    }
  }, () => {});
}
