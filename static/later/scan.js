// Reads the code of a label in a picture, in a worker, so that the camera's
// picture keeps moving. It runs where the browser itself can't read codes; its
// program is fetched with the first picture. See wasm/scan.
"use strict";

self.trustedTypes?.createPolicy("default", { createScriptURL: (address) => (address === "../../wasm_exec.js" ? address : null) });
importScripts("../../wasm_exec.js");

let begun = null;
function begin() {
  begun ??= (async () => {
    const go = new Go();
    const response = await fetch("../../wasm/scan.wasm");
    if (!response.ok) {
      throw new Error(`the reader of codes is not there (${response.status})`);
    }
    const { instance } = await WebAssembly.instantiate(await response.arrayBuffer(), go.importObject);
    go.run(instance);
  })();
  return begun;
}

self.onmessage = async ({ data: { pixels, width, height } }) => {
  try {
    await begin();
    self.postMessage({ text: self.larderReads(pixels, width, height) });
  } catch (err) {
    begun = null; // without a connection; it may come the next time
    self.postMessage({ fault: err.message });
  }
};
