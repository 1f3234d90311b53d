// How this device reaches the exchange where the phones of a household share
// their shelf: what is sent is sealed first, what comes is opened here. See
// sealed.js for the seal, and app/share for what is sent and when.
import { keysOf, seal, open, newSecret, invite, readInvitation, toText, fromText, SealError } from "./sealed.js";

const patience = 30000; // after this, a missing answer counts as lost
const silence = 40000; // the exchange says something every 15 seconds

// What the exchange answers instead of doing what it was asked.
class Refused extends Error {
  constructor(word, startOver, after) {
    super(word);
    Object.assign(this, { word, startOver, after });
  }
}

const nobody = () => new Refused("nobody", false, 5);
const stranger = () => new Refused("stranger", false, 15);

// answered returns the JSON of an answer, or throws an error that says why
// there is none.
async function answered(response) {
  const isJSON = response.headers.get("Content-Type") === "application/json";
  const body = isJSON ? await response.json().catch(() => null) : null;
  if (response.ok && (body || response.status === 204)) {
    return body;
  }
  if (typeof body?.refused === "string") {
    const after = body.try_later ? Number(response.headers.get("Retry-After")) || 5 : 0;
    throw new Refused(body.refused, body.start_over === true, after);
  }
  throw stranger();
}

// exchangeAt returns the exchange of the site below root, for one household.
async function exchangeAt(root, secret) {
  const keys = await keysOf(fromText(secret));
  const address = `${root}exchange/1/${keys.household}`;
  const headers = { Authorization: `Bearer ${keys.token}` };

  const ask = (path, options) =>
    fetch(address + path, { ...options, headers, cache: "no-store", signal: AbortSignal.timeout(patience) })
      .catch(() => Promise.reject(nobody()))
      .then(answered);

  return {
    found: () => ask("", { method: "PUT" }),
    remove: () => ask("", { method: "DELETE" }),

    async send(kind, text) {
      let sealed;
      try {
        sealed = await seal(keys, kind, text);
      } catch (err) {
        throw err instanceof SealError ? new Refused("too-large", false, 0) : err;
      }
      const { number } = await ask(`/versions/${sealed.name}`, { method: "PUT", body: sealed.version });
      return { name: sealed.name, number };
    },

    // list returns versions as JSON text: the program reads it with one call.
    async list(place) {
      const { versions } = await ask(`/versions?after=${encodeURIComponent(place)}`, {});
      if (!Array.isArray(versions)) {
        throw stranger();
      }
      return JSON.stringify(
        await Promise.all(
          versions.map(async ({ place, name, sealed }) => {
            try {
              return { place, name, ...(await open(keys, name, Uint8Array.from(atob(sealed), (c) => c.charCodeAt(0)))) };
            } catch {
              return { place, name, wrong: true };
            }
          }),
        ),
      );
    },

    // wait ends when something follows the place, when stop is called, or when the
    // connection ends.
    async wait(place, stopped) {
      const control = new AbortController();
      stopped(() => control.abort());
      let watch;
      const alive = () => {
        clearTimeout(watch);
        watch = setTimeout(() => control.abort(), silence);
      };
      alive();
      try {
        const response = await fetch(`${address}/news?after=${encodeURIComponent(place)}`, { headers, cache: "no-store", signal: control.signal });
        if (!response.ok || response.headers.get("Content-Type") !== "text/event-stream") {
          await answered(response);
          throw stranger();
        }
        const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
        for (let heard = ""; ; ) {
          const { value, done } = await reader.read();
          if (done) {
            return;
          }
          alive();
          heard = heard.slice(-20) + value;
          if (/(^|\n)event: /.test(heard)) {
            return;
          }
        }
      } catch (err) {
        if (err instanceof Refused) {
          throw err;
        }
        if (!control.signal.aborted) {
          throw nobody();
        }
      } finally {
        clearTimeout(watch);
        control.abort();
      }
    },
  };
}

// isThere reports whether the site has an exchange, or null without a connection.
async function isThere(root) {
  const response = await fetch(`${root}exchange/1`, { cache: "no-store", signal: AbortSignal.timeout(patience) }).catch(() => null);
  if (!response) {
    return null; // unknown without a connection
  }
  return (await answered(response).catch(() => ({ exchange: 0 }))).exchange === 1;
}

// alone waits until no other page of the site is doing what this one is about to do,
// and then does it.
const alone = (work) => (navigator.locks ? navigator.locks.request("larderlamp exchange", work) : work());

export const exchange = {
  exchangeAt,
  isThere,
  alone,
  newSecret: () => toText(newSecret()),
  invite: (secret) => invite(fromText(secret)),
  read: async (code) => toText(await readInvitation(code)),
};
