// The thin helper beside the program for what a device offers: small settings, room
// to keep things, a screen that stays awake, a tone, and a channel between tabs.
// Files (files.js), the camera (photo.js) and what has been read of a list (seen.js)
// add to it. Everything is asked for only when a person asks for it.
"use strict";

window.larderDevice = (() => {
  const root = new URL("..", window.larderScript).pathname;

  // Browsers that keep nothing throw when asked.
  function item(key) {
    try {
      return localStorage.getItem(key) ?? "";
    } catch {
      return "";
    }
  }

  function setItem(key, value) {
    try {
      if (value === "") {
        localStorage.removeItem(key);
      } else {
        localStorage.setItem(key, value);
      }
    } catch {
      // the choice holds for this page only
    }
  }

  // knowsLanguage tells whether the browser can write dates in a language. Asked
  // for one whose name it does not take, it throws.
  function knowsLanguage(language) {
    try {
      return Intl.DateTimeFormat.supportedLocalesOf(language).length > 0;
    } catch {
      return false;
    }
  }

  // inTime gives up what was promised when it has not come after 15 seconds: a
  // connection may hang, and a page that waits without a word looks dead.
  const inTime = (promise) => Promise.race([promise, new Promise((_, reject) => setTimeout(reject, 15000, new Error("it has not come in time")))]);

  // data gives the text of a file of the site that is fetched when it is wanted.
  const data = (name) => inTime((async () => {
    const response = await fetch(root + "static/" + name);
    if (!response.ok) {
      throw new Error(`${name}: status ${response.status}`);
    }
    return response.text();
  })());

  // persist asks the browser not to clear what is kept; room tells how much is.
  // Browsers that put the question to the person may never answer.
  const within = (promise, milliseconds) => Promise.race([promise, new Promise((resolve) => setTimeout(resolve, milliseconds, null))]);
  const persist = async () => within(navigator.storage?.persist?.() ?? false, 30000);
  const persisted = async () => (await within(navigator.storage?.persisted?.() ?? false, 3000)) ?? false;

  // isPrivate tells whether this is a private window, which keeps what it is given
  // only until it is closed: "yes", "no", or "" where the browser keeps that to
  // itself. Firefox and Safari refuse a private window a file system of its own;
  // Chromium shows no difference, but that it never promises one to keep things.
  async function isPrivate() {
    if (await persisted()) {
      return "no";
    }
    if (navigator.webkitTemporaryStorage || !navigator.storage?.getDirectory) {
      return "";
    }
    try {
      return (await within(navigator.storage.getDirectory(), 3000)) ? "no" : "";
    } catch (err) {
      return err.name === "SecurityError" || err.name === "UnknownError" ? "yes" : "";
    }
  }

  // apple tells whether this is an iPhone or iPad: a label that its camera app
  // reads opens in the browser, and the guide on the Home Screen keeps other data.
  const apple = () => /iP(hone|ad|od)/.test(navigator.userAgent) || /Macintosh/.test(navigator.userAgent) && navigator.maxTouchPoints > 1;

  // forgets tells whether the browser deletes what a page keeps when it was not
  // opened for seven days, and how it is installed, which keeps it from that: "ios",
  // "mac", or "" for one that does not. From memory of the vendor's announcement.
  function forgets() {
    if (window.matchMedia("(display-mode: standalone)").matches || navigator.standalone) {
      return "";
    }
    const agent = navigator.userAgent;
    if (apple()) {
      return "ios";
    }
    return /Macintosh/.test(agent) && /Safari\//.test(agent) && !/Chrom|Edg|Firefox/.test(agent) ? "mac" : "";
  }

  // awake keeps the screen on while a sweep is walked, where the browser can.
  let lock = null;
  let wanted = false;
  document.addEventListener("visibilitychange", () => {
    // The browser lets go whenever the page is hidden.
    if (wanted && document.visibilityState === "visible") {
      awake(true);
    }
  });
  async function awake(on) {
    wanted = on;
    try {
      if (on && !lock) {
        lock = await navigator.wakeLock?.request("screen");
        lock?.addEventListener("release", () => {
          lock = null;
        });
      } else if (!on) {
        await lock?.release();
      }
    } catch {
      lock = null;
    }
  }

  const canVibrate = () => "vibrate" in navigator;
  const buzz = (pattern) => navigator.vibrate?.(pattern);

  // beep plays a short tone.
  let sound = null;
  function beep(hertz) {
    try {
      sound ??= new AudioContext();
      const tone = sound.createOscillator();
      const volume = sound.createGain();
      volume.gain.setValueAtTime(0.15, sound.currentTime);
      volume.gain.exponentialRampToValueAtTime(0.001, sound.currentTime + 0.15);
      tone.frequency.value = hertz;
      tone.connect(volume).connect(sound.destination);
      tone.start();
      tone.stop(sound.currentTime + 0.16);
    } catch {
      // a device without sound stays silent
    }
  }

  // Other tabs of this site are told what was written, and tell it.
  const channel = "BroadcastChannel" in window ? new BroadcastChannel("larderlamp") : null;
  const tell = (text) => channel?.postMessage(text);
  const listen = (heard) => channel?.addEventListener("message", (event) => heard(event.data));

  // exchange gives what shares a shelf with other phones, fetched when it is wanted.
  const exchange = async () => (await import(root + "static/later/exchange.js")).exchange;

  return { item, setItem, knowsLanguage, inTime, data, isPrivate, forgets, apple, canVibrate, persist, persisted, awake, buzz, beep, tell, listen, exchange };
})();

// The countries that give the weather in degrees Fahrenheit. From memory.
window.larderFahrenheit = /-(AG|BS|BZ|FM|GU|KN|KY|LR|MH|PR|PW|US|VI)\b/.test(navigator.language);
// The countries that print on Letter paper. From memory.
window.larderLetter = /-(US|CA|MX|PH|CL|CO|CR|GT|PA|PR|SV|VE)\b/.test(navigator.language);
