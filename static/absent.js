// What a browser does not have, or does not give this site: if all cookies are
// blocked, reading window.localStorage throws an error, which would end the
// program in the middle of its start. Replacements keep things in memory until
// the page is closed. They run before everything else.
"use strict";

// gives reports whether something can be read without an error.
function gives(get) {
  try {
    return Boolean(get());
  } catch {
    return false;
  }
}

const standIn = (name, value) => Object.defineProperty(window, name, { value, configurable: true, writable: true });

for (const name of ["localStorage", "sessionStorage"]) {
  if (!gives(() => window[name])) {
    const kept = new Map();
    standIn(name, {
      getItem: (key) => kept.get(String(key)) ?? null,
      setItem: (key, value) => { kept.set(String(key), String(value)); },
      removeItem: (key) => { kept.delete(String(key)); },
      clear: () => kept.clear(),
      key: (n) => [...kept.keys()][n] ?? null,
      get length() { return kept.size; },
    });
  }
}

// The program's library looks for these when it starts, and gives up without
// them. With them it is refused the database, and the program keeps the records
// in memory and says so.
for (const name of ["IDBRequest", "IDBOpenDBRequest", "IDBDatabase", "IDBTransaction", "IDBObjectStore", "IDBIndex", "IDBCursor", "IDBCursorWithValue", "IDBKeyRange"]) {
  if (!gives(() => window[name])) {
    standIn(name, class {});
  }
}
if (!gives(() => window.indexedDB)) {
  const refuse = () => {
    throw new DOMException("this browser keeps no database for this site", "SecurityError");
  };
  standIn("indexedDB", { open: refuse, deleteDatabase: refuse, cmp: refuse, databases: async () => [] });
}

// In browsers that keep tabs apart, other tabs are not heard.
if ("BroadcastChannel" in window && !gives(() => { new BroadcastChannel("larderlamp-try").close(); return true; })) {
  standIn("BroadcastChannel", class extends EventTarget {
    postMessage() {}

    close() {}
  });
}

// A page without a worker still works, with a connection. Some browsers throw an
// error where others simply have none.
if ("serviceWorker" in navigator && !gives(() => navigator.serviceWorker)) {
  Object.defineProperty(navigator, "serviceWorker", { value: undefined, configurable: true });
}
