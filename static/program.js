// Requests the program as soon as this file is here: it takes longest, and does
// not need the rest of the page. static/load.js takes it from here.
//
// Hosts of plain files compress nothing, and the program would be four times as
// large to fetch as it has to be. A compressed copy is beside it; code that
// fetches the program gets that copy, unpacked on the way, unless the host
// itself compresses, or the worker answers from the device.
"use strict";

(() => {
  const { fetch } = window;
  const { dataset } = document.documentElement;

  // compresses reports whether this host has sent the page compressed. That is
  // known when the whole page has arrived, or is guessed when nobody waits for
  // that any more.
  async function compresses() {
    const page = () => performance.getEntriesByType("navigation")[0];
    while (!window.larderBegun && page()?.responseEnd === 0) {
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    return page()?.encodedBodySize < page()?.decodedBodySize;
  }

  async function program(address, options) {
    if (await compresses()) {
      const response = await fetch(address, options);
      if (!response.ok || response.headers.get("Content-Encoding")) {
        return response;
      }
      await response.body.cancel(); // it compresses only pages
    }
    const response = await fetch(address + ".gz", options).catch(() => null);
    if (!response?.ok) {
      return fetch(address, options);
    }
    // Some hosts declare the compression of the copy, and the browser has
    // unpacked it already.
    const body = response.headers.get("Content-Encoding") ? response.body : response.body.pipeThrough(new DecompressionStream("gzip"));
    return new Response(body, { headers: { "Content-Type": "application/wasm" } });
  }

  window.fetch = (address, options) => {
    const packed = String(address).endsWith("/wasm/app.wasm") && !options?.integrity && "DecompressionStream" in window && !navigator.serviceWorker?.controller;
    return packed ? program(address, options) : fetch(address, options);
  };

  // Without cryptography (a page that came without TLS), the browser itself
  // compares the digest.
  window.larderAsk = () => window.fetch(dataset.wasm, window.crypto?.subtle ? {} : { integrity: dataset.digest });
  if (!window.larderProgram) { // the worker gives it
    window.larderAsked = window.larderAsk();
    window.larderAsked.catch(() => {}); // the code that waits for it sees the error
  }
})();
