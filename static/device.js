// The thin helper beside the program for what a device offers: small settings,
// files in and out, sharing, a camera, a screen that stays awake, and a channel
// between tabs. Everything is asked for only when a person asks for it.
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

  // parts collects the content of a large file piece by piece, outside the program.
  function parts(type) {
    let pieces = [];
    return {
      add(bytes) {
        pieces.push(new Blob([bytes]));
      },
      blob() {
        pieces = [new Blob(pieces, { type })];
        return pieces[0];
      },
    };
  }

  // save offers a text or what parts has collected as a file to keep.
  function save(name, type, content) {
    if (sheet(name, type)) {
      share(name, type, content).then((became) => became === "again" && download(name, type, content), () => download(name, type, content));
      return;
    }
    download(name, type, content);
  }

  // sheet tells whether files are kept by the sheet that shares them. Opened from
  // the Home Screen of an iPhone or iPad, a page has no list of downloads: a file
  // that it saves is shown in place of the page. From memory.
  const sheet = (name, type) => navigator.standalone === true && canShare(name, type);

  function download(name, type, content) {
    const address = URL.createObjectURL(new Blob([content], { type }));
    const link = document.createElement("a");
    link.href = address;
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
  }

  function canShare(name, type) {
    try {
      return navigator.canShare?.({ files: [new File(["x"], name, { type })] }) ?? false;
    } catch {
      return false;
    }
  }

  // share says what became of it: "shared"; "cancelled" by the person; or "again",
  // when the browser wants another touch because the file took long to make.
  async function share(name, type, content) {
    try {
      await navigator.share({ files: [new File([content], name, { type })], title: name });
      return "shared";
    } catch (err) {
      if (err.name === "AbortError") {
        return "cancelled";
      }
      if (err.name === "NotAllowedError") {
        return "again";
      }
      throw err;
    }
  }

  // ask asks for a file of at most so many bytes, or gives nothing.
  function ask(accept, most) {
    return new Promise((resolve, reject) => {
      const input = document.createElement("input");
      input.type = "file";
      input.accept = accept;
      input.dataset.choose = "";
      input.className = "unseen-live";
      input.addEventListener("cancel", () => {
        input.remove();
        resolve(null);
      });
      input.addEventListener("change", () => {
        const file = input.files[0];
        input.remove();
        if (file && file.size > most) {
          reject(new Error(`${file.name} has ${file.size} bytes, at most ${most} are read`));
        } else {
          resolve(file ?? null);
        }
      });
      document.body.append(input);
      input.click();
    });
  }

  // choose asks for a file and gives its name and text, or nothing.
  async function choose(accept, most) {
    const file = await ask(accept, most);
    return file && [file.name, await file.text()];
  }

  // large asks for a file and gives its name, its size and how to read a part of
  // it, or nothing.
  async function large(accept, most) {
    const file = await ask(accept, most);
    return file && {
      name: file.name,
      size: file.size,
      read: async (from, to) => new Uint8Array(await file.slice(from, to).arrayBuffer()),
    };
  }

  // picture asks for a photo and gives it as a JPEG of at most `most` pixels on
  // its longer side, in base64, without whatever else the camera wrote into it.
  function picture(most) {
    return new Promise((resolve, reject) => {
      const input = document.createElement("input");
      input.type = "file";
      input.accept = "image/*";
      input.capture = "environment";
      input.dataset.choose = "";
      input.className = "unseen-live";
      input.addEventListener("cancel", () => {
        input.remove();
        resolve("");
      });
      input.addEventListener("change", async () => {
        const file = input.files[0];
        input.remove();
        try {
          resolve(file ? await shrink(file, most) : "");
        } catch {
          reject(new Error("this file is not a picture that the browser can read"));
        }
      });
      document.body.append(input);
      input.click();
    });
  }

  async function shrink(file, most) {
    const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, most / Math.max(bitmap.width, bitmap.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(bitmap.width * scale));
    canvas.height = Math.max(1, Math.round(bitmap.height * scale));
    canvas.getContext("2d").drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    return canvas.toDataURL("image/jpeg", 0.82).split(",")[1];
  }

  // reader gives what reads the code in a picture: the browser itself, or, where
  // it cannot, a program of our own that is fetched then and stored from then on.
  async function reader() {
    const own = "BarcodeDetector" in window && (await BarcodeDetector.getSupportedFormats().catch(() => [])).includes("qr_code");
    if (own) {
      const detector = new BarcodeDetector({ formats: ["qr_code"] });
      return { read: async (image) => (await detector.detect(image).catch(() => []))[0]?.rawValue ?? "", end() {} };
    }
    const worker = new Worker(root + "static/later/scan.js");
    const canvas = document.createElement("canvas");
    const context = canvas.getContext("2d", { willReadFrequently: true });
    let answer;
    worker.onmessage = ({ data }) => (data.fault === undefined ? answer.resolve(data.text) : answer.reject(new Error(data.fault)));
    worker.onerror = () => answer?.reject(new Error("the reader of codes could not be loaded"));
    return {
      read(image) {
        const [width, height] = [image.videoWidth ?? image.width, image.videoHeight ?? image.height];
        if (!width || !height) {
          return Promise.resolve(""); // the camera has not begun
        }
        const scale = Math.min(1, 1000 / Math.max(width, height));
        canvas.width = Math.round(width * scale);
        canvas.height = Math.round(height * scale);
        context.drawImage(image, 0, 0, canvas.width, canvas.height);
        const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
        return inTime(new Promise((resolve, reject) => {
          answer = { resolve, reject };
          worker.postMessage({ pixels: data, width: canvas.width, height: canvas.height }, [data.buffer]);
        }));
      },
      end: () => worker.terminate(),
    };
  }

  // scan reads codes from the camera until one is found or stop is called.
  const canScan = () => Boolean(navigator.mediaDevices?.getUserMedia);
  let stopScan = () => {};

  async function scan(video, found) {
    let on = true;
    let stream = null;
    stopScan = () => {
      on = false;
      stream?.getTracks().forEach((track) => track.stop());
    };
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
    if (!on) {
      stopScan();
      return;
    }
    const codes = await reader();
    try {
      video.srcObject = stream;
      await video.play();
      while (on) {
        const text = await codes.read(video);
        if (on && text) {
          found(text);
          return;
        }
        await new Promise((resolve) => setTimeout(resolve, 150));
      }
    } finally {
      stopScan();
      codes.end();
    }
  }

  // scanPhoto asks for a photo of a code and gives its text; "" when there is
  // none in it, and nothing when no photo was taken.
  function scanPhoto() {
    return new Promise((resolve, reject) => {
      const input = document.createElement("input");
      input.type = "file";
      input.accept = "image/*";
      input.capture = "environment";
      input.dataset.choose = "";
      input.className = "unseen-live";
      input.addEventListener("cancel", () => {
        input.remove();
        resolve(null);
      });
      input.addEventListener("change", async () => {
        const file = input.files[0];
        input.remove();
        if (!file) {
          resolve(null);
          return;
        }
        const image = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => null);
        if (!image) {
          reject(new Error("this file is not a picture that the browser can read"));
          return;
        }
        try {
          const codes = await reader();
          try {
            resolve(await codes.read(image));
          } finally {
            codes.end();
          }
        } catch (err) {
          reject(err);
        } finally {
          image.close();
        }
      });
      document.body.append(input);
      input.click();
    });
  }

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

  // lines are those of the list, where each stands, and where the screen ends for it.
  function* lines() {
    const cover = document.querySelector(".hands")?.getBoundingClientRect();
    for (const line of document.querySelectorAll("[data-line]")) {
      const box = line.getBoundingClientRect();
      const beside = !cover || cover.right <= box.left || cover.left >= box.right;
      yield { line, box, foot: beside ? window.innerHeight : Math.min(window.innerHeight, cover.top) };
    }
  }

  // unread tells how many lines of a list have not been on the screen since what
  // the list is about came up: both edges of a line have to have been seen, above
  // whatever lies over the foot of the page. onRead hears when that changes.
  const read = { of: "", edges: new Set(), left: 0, tell: null };
  function unread(of) {
    if (of !== read.of) {
      read.of = of;
      read.edges.clear();
    }
    read.left = 0;
    for (const { line, box, foot } of lines()) {
      for (const [edge, at] of [["top", box.top], ["foot", box.bottom]]) {
        // Half a pixel more or less is the browser's rounding.
        if (box.height > 0 && at >= -0.5 && at <= foot + 0.5) {
          read.edges.add(line.dataset.line + edge);
        }
      }
      if (!read.edges.has(line.dataset.line + "top") || !read.edges.has(line.dataset.line + "foot")) {
        read.left++;
      }
    }
    return read.left;
  }

  for (const kind of ["scroll", "resize"]) {
    window.addEventListener(kind, () => {
      if (read.tell && document.querySelector("[data-line]")) {
        const was = read.left;
        if (unread(read.of) !== was) {
          read.tell();
        }
      }
    }, { passive: true });
  }
  const onRead = (tell) => {
    read.tell = tell;
  };

  // showUnread moves the page to the first edge of a line that has not been on the
  // screen: the top of the line below the header, or its foot above the button.
  function showUnread() {
    for (const { line, box, foot } of lines()) {
      if (!read.edges.has(line.dataset.line + "top")) {
        window.scrollBy(0, box.top - 4);
        return;
      }
      if (!read.edges.has(line.dataset.line + "foot")) {
        window.scrollBy(0, box.bottom - foot + 4);
        return;
      }
    }
  }

  return { unread, onRead, showUnread, item, setItem, knowsLanguage, inTime, data, parts, save, canShare, sheet, share, choose, large, picture, isPrivate, forgets, apple, canVibrate, canScan, scan, scanPhoto, stopScan: () => stopScan(), persist, persisted, awake, buzz, beep, tell, listen };
})();

// The countries that give the weather in degrees Fahrenheit. From memory.
window.larderFahrenheit = /-(AG|BS|BZ|FM|GU|KN|KY|LR|MH|PR|PW|US|VI)\b/.test(navigator.language);
// The countries that print on Letter paper. From memory.
window.larderLetter = /-(US|CA|MX|PH|CL|CO|CR|GT|PA|PR|SV|VE)\b/.test(navigator.language);
