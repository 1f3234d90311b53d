// What the small scripts beside the program share. All of them are joined into
// one file, in the order of their names, with load.js at the end: see
// wasm/hosting/script.go.
"use strict";

// root is the folder of the site.
const root = new URL("..", window.larderScript).pathname;

// key stands for an English text in the file of a language: see Key in
// app/language.
const key = (text) => (new TextEncoder().encode(text).reduce((sum, byte) => Math.imul(sum ^ byte, 0x01000193), 0x811c9dc5) >>> 0).toString(36);

// said returns a text in the language of the page, or nothing when there is none.
// What is said before the program may be no text of its own.
const said = (text) => {
  const texts = window.larderTexts;
  return texts && (texts.before?.[key(text)] ?? texts.whole[key(text)]);
};

// say returns a text in the language of the page, with {names} filled in.
const say = (text, filled = {}) => Object.entries(filled).reduce((whole, [name, value]) => whole.replaceAll("{" + name + "}", value), said(text) ?? text);

function button(text, act) {
  const b = document.createElement("button");
  b.type = "button";
  b.textContent = text;
  b.addEventListener("click", act);
  return b;
}

// What is needed only in special cases is fetched only then.
const rescue = () => window.larderDevice.inTime(import(root + "static/later/rescue.js"));

// written waits for what is still being written: the browser drops it when its
// page is left. A write that hangs blocks nobody for longer than ten seconds.
async function written() {
  for (let n = 0; window.larderWriting && n < 1000; n++) {
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
  window.larderWriting = false;
}

// running reports whether the program has taken the page over.
const running = () => "runs" in document.documentElement.dataset;

window.larderBoot = { root, said, say, button, rescue, written, running };

// A page that was cut off, or whose rest does not come, gets the parts that the
// program needs: an element to replace with its page, and the style.
if (!document.body) {
  document.documentElement.append(document.createElement("body"));
}
if (!document.body.firstElementChild) {
  document.body.append(document.createElement("div"));
}
const early = document.querySelector("link[rel=preload][as=style]");
if (early && !document.querySelector("link[rel=stylesheet]")) {
  const style = document.createElement("link");
  style.rel = "stylesheet";
  style.href = early.href;
  style.integrity = early.integrity;
  document.head.append(style);
}

// Plain hosts answer /check with a redirect to /check/; the routes have no slash.
const { pathname, search, hash } = window.location;
if (pathname !== root && pathname.endsWith("/")) {
  window.history.replaceState(null, "", pathname.replace(/\/+$/, "") + search + hash);
}

// The link to the content is not a step in the history: what the address asks
// for stays there.
document.addEventListener("click", (event) => {
  if (event.target.closest?.("a.skip")) {
    event.preventDefault();
    event.stopPropagation();
    document.getElementById("main").focus();
  }
}, true);
