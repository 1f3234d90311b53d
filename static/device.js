// The thin helper beside the program for what a device offers: small settings,
// storage space, a screen that stays on, a tone, and a channel between tabs. Files
// (files.js), the camera (photo.js) and what has been read of a list (seen.js) add
// to it. Each is requested only when a person asks for it.
"use strict";

window.larderDevice = (() => {
  const root = new URL("..", window.larderScript).pathname;

  // Browsers that store nothing throw an error here.
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
      // the choice applies to this page only
    }
  }

  // knowsLanguage reports whether the browser can write dates in a language. It
  // throws an error for a language name that it does not accept.
  function knowsLanguage(language) {
    try {
      return Intl.DateTimeFormat.supportedLocalesOf(language).length > 0;
    } catch {
      return false;
    }
  }

  // inTime gives up on a promise that has not settled after 15 seconds: a
  // connection may hang, and a page that waits silently looks dead.
  const inTime = (promise) => Promise.race([promise, new Promise((_, reject) => setTimeout(reject, 15000, new Error("it has not come in time")))]);

  // data returns the text of a file of the site that is fetched when it is
  // needed.
  const data = (name) => inTime((async () => {
    const response = await fetch(root + "static/" + name);
    if (!response.ok) {
      throw new Error(`${name}: status ${response.status}`);
    }
    return response.text();
  })());

  // persist asks the browser not to clear what is stored; room says how much
  // space there is. Browsers that ask the person may never answer.
  const within = (promise, milliseconds) => Promise.race([promise, new Promise((resolve) => setTimeout(resolve, milliseconds, null))]);
  const persist = async () => within(navigator.storage?.persist?.() ?? false, 30000);
  const persisted = async () => (await within(navigator.storage?.persisted?.() ?? false, 3000)) ?? false;

  // isPrivate says whether this is a private window, which keeps its data only
  // until it is closed: "yes", "no", or "" if the browser does not reveal it.
  // Firefox and Safari refuse a private window a file system of its own; Chromium
  // shows no difference, except that it never promises a private window to keep
  // things.
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

  // apple reports whether this is an iPhone or iPad: a label that its camera app
  // reads opens in the browser, and the guide on the Home Screen keeps other data.
  const apple = () => /iP(hone|ad|od)/.test(navigator.userAgent) || /Macintosh/.test(navigator.userAgent) && navigator.maxTouchPoints > 1;

  // forgets says whether the browser deletes a page's data when the page was not
  // opened for seven days, and how to install it, which prevents that: "ios", "mac",
  // or "" for a browser that does not. From memory of the vendor's announcement.
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

  // awake keeps the screen on during a sweep, if the browser can.
  let lock = null;
  let wanted = false;
  document.addEventListener("visibilitychange", () => {
    // The browser releases the lock whenever the page is hidden.
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

  // Other tabs of this site are told what was written, and tell this one.
  const channel = "BroadcastChannel" in window ? new BroadcastChannel("larderlamp") : null;
  const tell = (text) => channel?.postMessage(text);
  const listen = (heard) => channel?.addEventListener("message", (event) => heard(event.data));

  // exchange returns the code that shares a shelf with other phones, fetched when it
  // is needed.
  const exchange = async () => (await import(root + "static/later/exchange.js")).exchange;

  return { item, setItem, knowsLanguage, inTime, data, isPrivate, forgets, apple, canVibrate, persist, persisted, awake, buzz, beep, tell, listen, exchange };
})();

// The countries that give the weather in degrees Fahrenheit. From memory.
window.larderFahrenheit = /-(AG|BS|BZ|FM|GU|KN|KY|LR|MH|PR|PW|US|VI)\b/.test(navigator.language);
// The countries that print on Letter paper. From memory.
window.larderLetter = /-(US|CA|MX|PH|CL|CO|CR|GT|PA|PR|SV|VE)\b/.test(navigator.language);
