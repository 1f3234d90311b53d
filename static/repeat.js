// A shaky thumb touches twice. What the first touch brings up in its own place
// nobody has read yet, so there the second one is no answer. Whatever says data-once
// is such a place; in it, data-again is what may be touched quickly.
"use strict";

const soon = 400; // ms
const near = 30; // px
let last = null;
let repeats = false;

// The window hears a click before everything else does. It is judged by the touch
// that it comes from: a label passes its click on to its button, and keys make
// clicks too.
window.addEventListener("pointerdown", (event) => {
  repeats = last !== null && event.timeStamp - last.timeStamp < soon && Math.hypot(event.clientX - last.clientX, event.clientY - last.clientY) < near;
  last = event;
}, true);

window.addEventListener("keydown", () => {
  last = null;
  repeats = false;
}, true);

window.addEventListener("click", (event) => {
  if (repeats && event.target.closest?.("[data-once], [data-again]")?.matches("[data-once]")) {
    event.preventDefault();
    event.stopPropagation();
  }
  repeats = false;
}, true);
