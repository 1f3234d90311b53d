// How a version of a record leaves this device: sealed with a key that only the
// household has. The format is described in testdata/exchange/README.md; all of
// the cryptography is the browser's own. This code neither stores nor sends.
const form = 1;
const label = new TextEncoder().encode("larderlamp exchange 1");
const nonceSize = 12;
const tagSize = 16;
// How much longer a sealed version is than its content, at least: format,
// nonce, tag, and the length of the content.
const around = 1 + nonceSize + tagSize + 4;
// The sizes that a sealed version can have, so that its size reveals little.
export const steps = [...Array.from({ length: 10 }, (_, i) => 1024 << i), 1016 * 1024];
// What a code to join a shelf begins with.
const invitation = "L1";

// A version that cannot be sealed or opened; the message says why.
export class SealError extends Error {}

export function toText(bytes) {
  let text = "";
  for (let i = 0; i < bytes.length; i += 8192) {
    text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  }
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

// Returns nothing for a text that is not exactly how bytes are written.
export function fromText(text) {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) {
    return null;
  }
  const bytes = Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
  return toText(bytes) === text ? bytes : null;
}

function joined(...parts) {
  const all = new Uint8Array(parts.reduce((sum, p) => sum + p.length, 0));
  let at = 0;
  for (const p of parts) {
    all.set(p, at);
    at += p.length;
  }
  return all;
}

const same = (a, b) => a.length === b.length && a.every((x, i) => x === b[i]);

// newSecret draws the secret of a new household.
export const newSecret = () => crypto.getRandomValues(new Uint8Array(32));

const checksum = async (secret) => new Uint8Array(await crypto.subtle.digest("SHA-256", secret)).subarray(0, 4);

// invite returns the code with which another device joins: it is shown in a
// picture, or is behind the # of a link, which is never sent.
export async function invite(secret) {
  return invitation + toText(joined(secret, await checksum(secret)));
}

// readInvitation returns the secret in such a code. A mistyped letter is an
// error.
export async function readInvitation(code) {
  const bytes = code.startsWith(invitation) && fromText(code.slice(invitation.length));
  if (!bytes || bytes.length !== 36) {
    throw new SealError("this is no code to join a shelf");
  }
  const secret = bytes.slice(0, 32);
  if (!same(await checksum(secret), bytes.subarray(32))) {
    throw new SealError("a letter of the code is wrong");
  }
  return secret;
}

// keysOf derives what a device needs from the secret. The keys for sealing and
// naming can't be read back from the browser.
export async function keysOf(secret) {
  const from = await crypto.subtle.importKey("raw", secret, "HKDF", false, ["deriveBits", "deriveKey"]);
  const how = (use) => ({ name: "HKDF", hash: "SHA-256", salt: label, info: new TextEncoder().encode(use) });
  const bytes = async (use, size) => new Uint8Array(await crypto.subtle.deriveBits(how(use), from, size * 8));
  const hash = { name: "HMAC", hash: "SHA-256", length: 256 };
  const [household, token, sealing, naming] = await Promise.all([
    bytes("household", 16),
    bytes("token", 32),
    crypto.subtle.deriveKey(how("seal"), from, { name: "AES-GCM", length: 256 }, false, ["encrypt", "decrypt"]),
    crypto.subtle.deriveKey(how("name"), from, hash, false, ["sign", "verify"]),
  ]);
  return { household: toText(household), token: toText(token), sealing, naming };
}

const cipher = (nonce, name) => ({ name: "AES-GCM", iv: nonce, additionalData: joined(label, name), tagLength: tagSize * 8 });

// seal seals one version of a record, given as JSON text.
export async function seal(keys, kind, text) {
  const content = new TextEncoder().encode(`${kind}\n${text}`);
  const step = steps.find((size) => content.length + around <= size);
  if (!step) {
    throw new SealError(`${kind}: the record is too large to be shared, at most ${steps.at(-1) - around} bytes`);
  }
  const name = new Uint8Array(await crypto.subtle.sign("HMAC", keys.naming, content));
  const nonce = crypto.getRandomValues(new Uint8Array(nonceSize));
  const padded = new Uint8Array(step - 1 - nonceSize - tagSize);
  new DataView(padded.buffer).setUint32(0, content.length);
  padded.set(content, 4);
  const closed = new Uint8Array(await crypto.subtle.encrypt(cipher(nonce, name), keys.sealing, padded));
  return { name: toText(name), version: joined([form], nonce, closed) };
}

// open opens a version that is known by a name. Anything that is not, bit by bit,
// what a device of this household sealed under this name is an error.
export async function open(keys, name, version) {
  const wrong = (what) => new SealError(`version ${name.slice(0, 8)}: ${what}`);
  const called = fromText(name);
  if (!called || called.length !== 32) {
    throw wrong("it has no name of a version");
  }
  if (version.length < around) {
    throw wrong("it is too short");
  }
  if (version[0] !== form) {
    throw wrong(`it has form ${version[0]}, this program knows form ${form}`);
  }
  const nonce = version.subarray(1, 1 + nonceSize);
  const padded = await crypto.subtle.decrypt(cipher(nonce, called), keys.sealing, version.subarray(1 + nonceSize)).then(
    (bytes) => new Uint8Array(bytes),
    () => {
      throw wrong("it was not sealed by this household under this name");
    },
  );
  const size = new DataView(padded.buffer).getUint32(0);
  if (size > padded.length - 4) {
    throw wrong("its content is longer than itself");
  }
  const content = padded.subarray(4, 4 + size);
  if (padded.subarray(4 + size).some((b) => b !== 0)) {
    throw wrong("something follows its content");
  }
  if (!(await crypto.subtle.verify("HMAC", keys.naming, called, content))) {
    throw wrong("its name is that of another version");
  }
  const end = content.indexOf(10);
  if (end < 0) {
    throw wrong("it does not say what kind of record it is");
  }
  const read = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
  return { kind: read.decode(content.subarray(0, end)), text: read.decode(content.subarray(end + 1)) };
}
