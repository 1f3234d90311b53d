// A click makes the program draw what is still to be drawn of the choice before
// it, and that reverts the new choice before the browser has reported it. This
// puts the new choice back.
"use strict";

let choice = null;

document.addEventListener("click", ({ target }) => {
  if (target.type !== "radio" && target.type !== "checkbox") {
    return;
  }
  const made = { target, checked: target.checked };
  choice = made;
  setTimeout(() => {
    if (choice === made && target.isConnected && target.checked !== made.checked) {
      target.checked = made.checked;
      target.dispatchEvent(new Event("change", { bubbles: true }));
    }
  });
}, true);

document.addEventListener("change", ({ target }) => {
  if (choice?.target === target) {
    target.checked = choice.checked;
    choice = null;
  }
}, true);
