// The thin helper beside the program's IndexedDB library. The library opens the
// database through `factory`, which keeps a reference to the connection, so that
// `rows` can read many rows in one request, which the library can't.
"use strict";

window.larderStore = (() => {
  const connections = new Map();

  const done = (request) => new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

  // The browser may keep a page that is left in the middle of a transaction as it
  // is, and the transaction with it: in WebKit it would block every page that
  // writes. Reads are aborted, writes are finished.
  const underWay = new Set();

  function follow(connection) {
    connection.transaction = (...how) => {
      const transaction = IDBDatabase.prototype.transaction.apply(connection, how);
      underWay.add(transaction);
      const over = () => underWay.delete(transaction);
      transaction.addEventListener("complete", over);
      transaction.addEventListener("abort", over);
      return transaction;
    };
  }

  window.addEventListener("pagehide", () => {
    for (const transaction of underWay) {
      try {
        if (transaction.mode === "readonly") {
          transaction.abort();
        } else {
          transaction.commit?.();
        }
      } catch {
        // it has ended by itself
      }
    }
  });

  const factory = {
    open(name, version) {
      const request = indexedDB.open(name, version);
      request.addEventListener("success", () => {
        const connection = request.result;
        const forget = () => {
          if (connections.get(name) === connection) {
            connections.delete(name);
          }
        };
        connections.set(name, connection);
        follow(connection);
        // The library closes the connection when another tab brings a new schema.
        connection.addEventListener("versionchange", forget);
        connection.addEventListener("close", forget);
      });
      return request;
    },
    deleteDatabase: (name) => indexedDB.deleteDatabase(name),
    cmp: (a, b) => indexedDB.cmp(a, b),
  };

  // rows returns at most `limit` rows of a store that come after the key
  // `after`, or before it when the newest come first: their keys and their
  // values, each as one text with one line per row. The values are JSON and
  // hold no line ends.
  async function rows(name, kind, newest, after, limit) {
    const connection = connections.get(name);
    if (!connection) {
      throw new DOMException("the connection is closed", "InvalidStateError");
    }
    const store = connection.transaction(kind).objectStore(kind);
    let range = null;
    if (after !== "") {
      range = newest ? IDBKeyRange.upperBound(after, true) : IDBKeyRange.lowerBound(after, true);
    }
    let keys = await done(newest ? store.getAllKeys(range) : store.getAllKeys(range, limit));
    if (newest) {
      keys = keys.slice(-limit);
    }
    if (keys.length === 0) {
      return ["", ""];
    }
    const values = await done(store.getAll(IDBKeyRange.bound(keys[0], keys[keys.length - 1])));
    if (newest) {
      keys.reverse();
      values.reverse();
    }
    return [keys.join("\n"), values.join("\n")];
  }

  // stage collects rows, and then writes all of them at once or none.
  function stage(name) {
    const rows = [];
    return {
      // put collects one row; without a text, the row will be deleted.
      put(kind, id, text) {
        rows.push([kind, id, text]);
      },
      write: () => new Promise((resolve, reject) => {
        const connection = connections.get(name);
        if (!connection) {
          throw new DOMException("the connection is closed", "InvalidStateError");
        }
        const transaction = connection.transaction([...connection.objectStoreNames], "readwrite", { durability: "strict" });
        transaction.oncomplete = () => resolve(true);
        transaction.onabort = () => reject(transaction.error ?? new DOMException("the write was called off", "AbortError"));
        try {
          for (const [kind, id, text] of rows) {
            const store = transaction.objectStore(kind);
            if (text === undefined) {
              store.delete(id);
            } else {
              store.put(text, id);
            }
          }
        } catch (err) {
          reject(err);
          transaction.abort();
        }
      }),
    };
  }

  // alone waits for the other pages of this site that write, and returns the
  // function that lets the next one continue. A page that hangs blocks the
  // others for only ten seconds.
  const alone = (name) => new Promise((resolve) => {
    const hold = () => new Promise((done) => {
      setTimeout(done, 10000);
      resolve(done);
    });
    if (navigator.locks) {
      navigator.locks.request(name, hold).catch(() => resolve(() => {}));
    } else {
      hold();
    }
  });

  return { factory, rows, stage, alone };
})();
