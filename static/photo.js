// The camera: photos to keep, and codes read from a picture or as the camera sees
// them. It belongs to window.larderDevice (static/device.js).
"use strict";

const { root } = window.larderBoot;
const { ask, inTime } = window.larderDevice;
const photo = () => ask("image/*", Infinity, true);

function unreadable() {
  throw new Error("this file is not a picture that the browser can read");
}

// picture asks for a photo and returns it as a JPEG of at most `most` pixels on
// its longer side, in base64, without anything else that the camera wrote into
// it; "" when no photo was taken.
async function picture(most) {
  const file = await photo();
  return file ? shrink(file, most).catch(unreadable) : "";
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

// reader returns what reads the code in a picture: the browser itself, or,
// where it can't, a program of our own that is fetched then and stored from
// then on.
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

// scanPhoto asks for a photo of a code and returns its text; "" when there is
// none in it, and null when no photo was taken.
async function scanPhoto() {
  const file = await photo();
  if (!file) {
    return null;
  }
  const image = await createImageBitmap(file).catch(unreadable);
  try {
    const codes = await reader();
    try {
      return await codes.read(image);
    } finally {
      codes.end();
    }
  } finally {
    image.close();
  }
}

Object.assign(window.larderDevice, { picture, canScan, scan, scanPhoto, stopScan: () => stopScan() });
