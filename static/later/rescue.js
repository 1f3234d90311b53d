// What is needed only in special cases: a backup of what is on the device when
// the program has ended, and what a new edition would change. It reads the
// database as it is and never changes it or its schema.
"use strict";

const root = new URL("../..", import.meta.url).pathname;

// A browser that blocks storage throws an error here.
function database() {
  try {
    return localStorage.getItem("larderlamp-demo") === "on" ? "larderlamp-demo" : "larderlamp";
  } catch {
    return "larderlamp";
  }
}

const done = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

// opened returns the database, or nothing when there is none on this device. The
// browser would create an empty one, and the program's schema would no longer be
// added to it: that is aborted.
function opened() {
  const request = indexedDB.open(database());
  let none = false;
  request.onupgradeneeded = () => {
    none = true;
    request.transaction.abort();
  };
  return done(request).catch((err) => {
    if (none) {
      return null;
    }
    throw err;
  });
}

// stored returns the rows of every kind, each as JSON text.
async function stored() {
  const rows = {};
  const db = await opened();
  if (!db) {
    return rows;
  }
  try {
    for (const kind of db.objectStoreNames) {
      rows[kind] = await done(db.transaction(kind).objectStore(kind).getAll());
    }
  } finally {
    db.close();
  }
  return rows;
}

// The kinds of a backup, in the order of its format, which is that of record.Kinds and
// testdata/backup.schema.json; a test in app/backup holds them and the versions to those.
const kinds = ["places", "batches", "jars", "checks", "photos", "sweeps", "trips"];

// backup returns a backup of everything on this device. Rows are read some at a
// time and handed to the browser: photos are large.
export async function backup() {
  // The name of the edition may be unavailable; the records must still be saved.
  const { edition } = await window.larderDevice.data("edition.json").then(JSON.parse).catch(() => ({ edition: "unknown" }));
  const db = await opened();
  let found = 0;
  const parts = [];
  try {
    const now = new Date().toISOString().replace(/\.\d+Z$/, "Z");
    const stores = db ? [...db.objectStoreNames] : [];
    const store = (kind) => db.transaction(kind).objectStore(kind);
    const settings = (stores.includes("settings") && await done(store("settings").get("settings"))) || JSON.stringify({ version: 2, changed: now, revision: 0 });
    parts.push(`{"format":"larderlamp-backup","version":3,"written":"${now}","edition":${JSON.stringify(edition)},"settings":${settings}`);
    for (const kind of kinds) {
      parts.push(`,"${kind}":[`);
      let range = null;
      let between = "";
      while (stores.includes(kind)) {
        const most = kind === "photos" ? 8 : 500;
        const keys = await done(store(kind).getAllKeys(range, most));
        if (keys.length === 0) {
          break;
        }
        const rows = await done(store(kind).getAll(IDBKeyRange.bound(keys[0], keys[keys.length - 1])));
        parts.push(new Blob([between, rows.join(",\n")]));
        between = ",\n";
        found += rows.length;
        range = IDBKeyRange.lowerBound(keys[keys.length - 1], true);
      }
      parts.push("]");
    }
  } finally {
    db?.close();
  }
  if (found === 0) {
    // plain is what a person is told.
    throw Object.assign(new Error("nothing is kept on this device"), { plain: window.larderBoot.say("nothing is kept on this device") });
  }
  parts.push("}");
  return new Blob(parts, { type: "application/json" });
}

// saveBackup offers a backup as a file to keep.
export async function saveBackup() {
  const address = URL.createObjectURL(await backup());
  const link = document.createElement("a");
  link.href = address;
  link.download = "larderlamp-rescue.json";
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

// ask sends a question to a worker.
const ask = (worker, question) => new Promise((resolve, reject) => {
  const channel = new MessageChannel();
  channel.port1.onmessage = ({ data }) => resolve(data);
  setTimeout(() => reject(new Error("the worker does not answer")), 5000);
  worker.postMessage(question, [channel.port2]);
});

// verdicts judges every jar with the rules of an edition: its program is started
// once more beside the page, as a judge that sees only the rows.
async function verdicts(cache, rows, Program) {
  const file = await cache.match(root + "wasm/app.wasm");
  if (!file) {
    throw new Error("the edition has no program");
  }
  const program = new Program();
  program.argv = ["judge"];
  const told = new Promise((resolve, reject) => {
    globalThis.larderJudge = { rows, now: Date.now(), tell: (text) => resolve(JSON.parse(text)), fail: (text) => reject(new Error(text)) };
  });
  const { instance } = await WebAssembly.instantiate(await file.arrayBuffer(), program.importObject);
  const ended = program.run(instance).then(() => { throw new Error("the judge said nothing"); });
  try {
    return await Promise.race([told, ended]);
  } finally {
    delete globalThis.larderJudge;
  }
}

// compare says what the waiting edition would change: its name, what is new in
// it, how many jars there are, and how many would get which different verdict.
export async function compare(registration, Program) {
  const next = await caches.open(await ask(registration.waiting, "edition"));
  const now = await caches.open(await ask(registration.active, "edition"));
  const { edition, news } = await (await next.match(root + "static/edition.json")).json();
  const result = { edition, news };
  try {
    const rows = await stored();
    const before = await verdicts(now, rows, Program);
    const after = await verdicts(next, rows, Program);
    result.jars = Object.keys(before).length;
    result.changes = {};
    for (const [jar, verdict] of Object.entries(before)) {
      const other = after[jar] ?? "not readable";
      if (other !== verdict) {
        const change = `${verdict} → ${other}`;
        result.changes[change] = (result.changes[change] ?? 0) + 1;
      }
    }
  } catch (err) {
    // Rules of another edition may need another program. The rest is still
    // true.
    console.warn("the jars could not be judged by both editions:", err);
  }
  return result;
}
