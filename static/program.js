// Hosts of plain files compress nothing, and the program would be four times as
// much to fetch as it has to be. A compressed copy lies beside it; here whoever
// fetches the program gets that copy, unpacked on the way, unless the host
// compresses by itself, or the worker answers from the device.
"use strict";

(() => {
  const { fetch } = window;

  // compresses tells whether this host has sent the page compressed.
  const compresses = () => performance.getEntriesByType("navigation").some((page) => page.encodedBodySize < page.decodedBodySize);

  async function program(address, options) {
    if (compresses()) {
      const response = await fetch(address, options);
      if (!response.ok || response.headers.get("Content-Encoding")) {
        return response;
      }
      await response.body.cancel(); // it compresses pages only
    }
    const response = await fetch(address + ".gz", options).catch(() => null);
    if (!response?.ok) {
      return fetch(address, options);
    }
    // Some hosts say what the copy is, and the browser has unpacked it already.
    const body = response.headers.get("Content-Encoding") ? response.body : response.body.pipeThrough(new DecompressionStream("gzip"));
    return new Response(body, { headers: { "Content-Type": "application/wasm" } });
  }

  window.fetch = (address, options) => {
    const packed = String(address).endsWith("/wasm/app.wasm") && !options?.integrity && "DecompressionStream" in window && !navigator.serviceWorker?.controller;
    return packed ? program(address, options) : fetch(address, options);
  };
})();
