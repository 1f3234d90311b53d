// Follows static/later/sealed.js when the test runs it in Node, and holds it
// against the vectors.
import { readFileSync } from "node:fs";
import assert from "node:assert/strict";

const bytes = (hex) => Uint8Array.from(Buffer.from(hex, "hex"));
const hex = (b) => Buffer.from(b).toString("hex");
const vectors = JSON.parse(readFileSync(process.env.VECTORS, "utf8"));
const draw = crypto.getRandomValues.bind(crypto);
let count = 0;
let first;
for (const h of vectors.households) {
  const secret = bytes(h.secret);
  assert.equal(await invite(secret), h.invitation);
  assert.equal(hex(await readInvitation(h.invitation)), h.secret);
  const keys = await keysOf(secret);
  first ??= keys;
  assert.equal(keys.household, h.household);
  assert.equal(keys.token, h.token);
  for (const v of h.versions) {
    const text = v.text.repeat(v.repeat ?? 1);
    crypto.getRandomValues = (into) => {
      into.set(bytes(v.nonce));
      return into;
    };
    const { name, version } = await seal(keys, v.kind, text);
    crypto.getRandomValues = draw;
    assert.equal(name, v.name);
    assert.equal(version.length, v.size);
    assert.equal(hex(new Uint8Array(await crypto.subtle.digest("SHA-256", version))), v.digest);
    if (v.sealed) {
      assert.equal(hex(version), v.sealed);
    }
    assert.deepEqual(await open(keys, v.name, version), { kind: v.kind, text });
    count++;
  }
}
for (const r of vectors.refused) {
  await assert.rejects(open(first, r.name, bytes(r.sealed)), SealError, r.why);
}
// A code with any one letter changed is no code.
const code = vectors.households[0].invitation;
for (let i = 0; i < code.length; i++) {
  await assert.rejects(readInvitation(code.slice(0, i) + (code[i] === "A" ? "B" : "A") + code.slice(i + 1)), SealError);
}
// Too large by one byte.
const most = steps.at(-1) - around - "photos\n".length;
await assert.rejects(seal(first, "photos", "/".repeat(most + 1)), SealError);
// Two devices never share a secret by accident, and a secret is 256 bits.
assert.notEqual(hex(newSecret()), hex(newSecret()));
assert.equal(newSecret().length, 32);
console.log(`${count} sealed and opened, ${vectors.refused.length} refused`);
