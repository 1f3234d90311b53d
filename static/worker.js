// The service worker of Larderlamp: a template, filled in when the site is
// built. It keeps one complete edition of the site on the device and answers
// from it, so that a jar can be judged without a connection.
//
// An edition is all or nothing: every file is fetched with the digest it must
// have, and if one is missing, interrupted or from another edition, the install
// fails and the edition in use stays whole. A new edition waits until the page
// says that the person wants it, because an update can change advice.
"use strict";

// files maps every address that is fetched for the edition to its digest, and packed
// some of them to the digest of the compressed copy beside it.
const files = {{.Files}};
const packed = {{.Packed}};
const program = {{.Program}};
// bundle is the address of the file that holds all others, and bundled are theirs.
const bundle = {{.Bundle}};
const bundled = {{.Bundled}};
// later are files that few people need. They are stored when they are first
// requested, and by every later edition from then on.
const later = {{.Later}};
const scope = {{.Scope}};
const shell = {{.Shell}};
const family = "larderlamp " + scope + " ";
const edition = family + {{.Version}};

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "skipWaiting") {
    event.waitUntil(self.skipWaiting());
  }
  if (event.data === "edition") {
    event.ports[0].postMessage(edition);
  }
  if (event.data?.stored) {
    event.waitUntil(counted(event.data.stored).then((counts) => event.ports[0].postMessage(counts)));
  }
  if (event.data?.keep in later) {
    event.waitUntil(keep(event.data.keep));
  }
});
self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  // What is shared with other phones is never answered from here: see static/later/exchange.js.
  if (event.request.method === "GET" && url.origin === self.location.origin && url.pathname.startsWith(scope) && !url.pathname.startsWith(scope + "exchange/")) {
    event.respondWith(answer(event.request, url));
  }
});

async function install() {
  const cache = await caches.open(edition);
  try {
    const wanted = await Promise.all(Object.keys(later).map(stored));
    const all = [...Object.entries(files), ...Object.entries(later).filter((_, n) => wanted[n])];
    await Promise.all(all.map(async ([address, integrity]) => {
      const response = await (address in packed ? fetchPacked(address, integrity) : fetch(address, { cache: "no-cache", integrity }));
      if (!response.ok) {
        throw new Error(`${address}: status ${response.status}`);
      }
      if (address === bundle) {
        await unbundle(cache, response);
      } else {
        await cache.put(address, address === program ? proven(response, integrity) : direct(response));
      }
    }));
  } catch (err) {
    await caches.delete(edition);
    // The pages say why the guide is not stored: see static/stored.js.
    for (const page of await self.clients.matchAll({ includeUncontrolled: true })) {
      page.postMessage({ notStored: err.name });
    }
    throw err;
  }
}

// fetchPacked fetches a file from its compressed copy if the host itself does not
// compress. If a host declares the compression of the copy, the browser unpacks it,
// and then it has the digest of the file.
async function fetchPacked(address, integrity) {
  const plain = await fetch(address, { method: "HEAD", cache: "no-cache" });
  if (!plain.headers.get("Content-Encoding")) {
    const copy = await fetch(address + ".gz", { cache: "no-cache", integrity: `${packed[address]} ${integrity}` }).catch(() => null);
    if (copy?.ok) {
      return like(copy, copy.headers.get("Content-Encoding") ? copy.body : copy.body.pipeThrough(new DecompressionStream("gzip")), plain.headers.get("Content-Type"));
    }
  }
  return fetch(address, { cache: "no-cache", integrity });
}

// unbundle stores every file of the bundle, with what the host says of all its files:
// the policy is among that.
async function unbundle(cache, response) {
  await Promise.all((await response.json()).map(([address, kind, text]) => cache.put(address, like(response, text, kind))));
}

// like returns a response with another body of some kind, and the headers that are not
// about the body.
function like(response, body, kind) {
  const headers = new Headers(response.headers);
  for (const name of ["Content-Encoding", "Content-Length", "ETag", "Last-Modified", "Accept-Ranges"]) {
    headers.delete(name);
  }
  headers.set("Content-Type", kind);
  return new Response(body, { headers });
}

// proven returns the program with the digest that it was found to have: a page
// that waits for it need not compute that again. See static/load.js.
function proven(response, integrity) {
  return new Response(response.body, { headers: { "Content-Type": "application/wasm", "Larder-Digest": integrity } });
}

// counted says how many files of the edition are stored, and how many there are,
// together with those of the later ones that a page needs.
async function counted(needed) {
  const cache = await caches.open(edition);
  const all = [...Object.keys(files).filter((address) => address !== bundle), ...bundled, ...needed];
  return { have: (await cache.keys()).filter(({ url }) => all.includes(new URL(url).pathname)).length, of: all.length };
}

// keep stores a later file that a page has fetched before this worker answered it.
async function keep(address) {
  const cache = await caches.open(edition);
  if (!await cache.match(address)) {
    await fetchLater(cache, address).catch(() => {}); // it is fetched again when it is needed
  }
}

// stored reports whether an edition of this site has stored a file.
async function stored(address) {
  for (const name of await caches.keys()) {
    if (name.startsWith(family) && await (await caches.open(name)).match(address)) {
      return true;
    }
  }
  return false;
}

// fetchLater stores a file when it is first requested.
async function fetchLater(cache, address) {
  const response = await fetch(address, { cache: "no-cache", integrity: later[address] });
  if (response.ok) {
    await cache.put(address, response.clone()).catch(() => {}); // without room it is fetched again
  }
  return response;
}

// direct returns a response without its redirects. Plain hosts redirect a
// folder to its address with a slash, and browsers refuse a redirected answer
// to a navigation.
function direct(response) {
  if (!response.redirected) {
    return response;
  }
  return new Response(response.body, { headers: { "Content-Type": response.headers.get("Content-Type") } });
}

async function activate() {
  for (const name of await caches.keys()) {
    if (name.startsWith(family) && name !== edition) {
      await caches.delete(name);
    }
  }
  await self.clients.claim();
}

async function answer(request, url) {
  const cache = await caches.open(edition);
  if (request.mode !== "navigate") {
    return (await cache.match(request)) ?? (url.pathname in later ? fetchLater(cache, url.pathname) : fetch(request));
  }
  // A page is the same whatever follows its path, and with or without a slash.
  const path = url.pathname === scope ? scope : url.pathname.replace(/\/+$/, "");
  return (await cache.match(path)) ?? (await cache.match(shell)) ?? fetch(request);
}
