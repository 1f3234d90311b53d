// Which lines of a list have been on the screen: no one can confirm what they
// have not read. It belongs to window.larderDevice (static/device.js).
"use strict";

// lines are the lines of the list with their positions, and where the screen ends
// for them.
function* lines() {
  const cover = document.querySelector(".hands")?.getBoundingClientRect();
  for (const line of document.querySelectorAll("[data-line]")) {
    const box = line.getBoundingClientRect();
    const beside = !cover || cover.right <= box.left || cover.left >= box.right;
    yield { line, box, foot: beside ? window.innerHeight : Math.min(window.innerHeight, cover.top) };
  }
}

// unread says how many lines of a list have not been on the screen since the
// subject of the list came up: both edges of a line must have been seen, above
// whatever covers the foot of the page. onRead is called when that changes.
const read = { of: "", edges: new Set(), left: 0, tell: null };
function unread(of) {
  if (of !== read.of) {
    read.of = of;
    read.edges.clear();
  }
  read.left = 0;
  for (const { line, box, foot } of lines()) {
    for (const [edge, at] of [["top", box.top], ["foot", box.bottom]]) {
      // Half a pixel more or less is the browser's rounding.
      if (box.height > 0 && at >= -0.5 && at <= foot + 0.5) {
        read.edges.add(line.dataset.line + edge);
      }
    }
    if (!read.edges.has(line.dataset.line + "top") || !read.edges.has(line.dataset.line + "foot")) {
      read.left++;
    }
  }
  return read.left;
}

for (const kind of ["scroll", "resize"]) {
  window.addEventListener(kind, () => {
    if (read.tell && document.querySelector("[data-line]")) {
      const was = read.left;
      if (unread(read.of) !== was) {
        read.tell();
      }
    }
  }, { passive: true });
}
const onRead = (tell) => {
  read.tell = tell;
};

// showUnread scrolls to the first edge of a line that has not been on the
// screen: the top of the line below the header, or its bottom above the button.
function showUnread() {
  for (const { line, box, foot } of lines()) {
    if (!read.edges.has(line.dataset.line + "top")) {
      window.scrollBy(0, box.top - 4);
      return;
    }
    if (!read.edges.has(line.dataset.line + "foot")) {
      window.scrollBy(0, box.bottom - foot + 4);
      return;
    }
  }
}

Object.assign(window.larderDevice, { unread, onRead, showUnread });
