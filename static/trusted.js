// In browsers with Trusted Types the policy of the site lets no text become
// markup or a script unless it passes here: the drawings that the program
// makes, and the two workers.
"use strict";

const { root } = window.larderBoot;

const workers = ["app-worker.js", "static/later/scan.js"].map((name) => new URL(root + name, window.location.href).href);

// A drawing is a series of texts and tags, with quoted values.
const tag = /<(?:\/[a-z][\w:-]*\s*|([a-z][\w:-]*)((?:\s+[^\s=<>"'/]+(?:\s*=\s*(?:"[^"]*"|'[^']*'))?)*)\s*\/?)>/giy;
const attribute = /([^\s=<>"'/]+)(?:\s*=\s*(?:"([^"]*)"|'([^']*)'))?/g;
// These run scripts, load something, or change the attributes of others.
const active = /^(?:script|i?frame|object|embed|link|meta|base|form|foreignobject|animate\w*|set|image|img|audio|video)$/i;

function harmless(text) {
  for (let at = text.indexOf("<"); at >= 0; at = text.indexOf("<", tag.lastIndex)) {
    tag.lastIndex = at;
    const found = tag.exec(text);
    if (!found || (found[1] && active.test(found[1]))) {
      return false;
    }
    for (const [, name, double, single] of (found[2] ?? "").matchAll(attribute)) {
      if (/^on/i.test(name) || (/(?:^|:)href$/i.test(name) && !/^(?:#|\/(?!\/))/.test(double ?? single ?? ""))) {
        return false;
      }
    }
  }
  return true;
}

window.trustedTypes?.createPolicy("default", {
  createHTML(text) {
    if (harmless(text)) {
      return text;
    }
    console.error("markup that is no drawing was refused");
    return null;
  },
  createScriptURL: (address) => (workers.includes(new URL(address, window.location.href).href) ? address : null),
});
