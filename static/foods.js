// The names of foods in the other languages of the site, for a search in English that
// does not know what was typed. They are requested when the program first asks for them,
// and the page is drawn again when they have come. Without a connection the search stays
// as it is.
"use strict";

const files = window.larderFoods;
const come = []; // what has come, as text
let asked = false;

async function request() {
  try {
    come.push(...await window.larderDevice.inTime(Promise.all(files.map(window.larderLanguages.texts))));
    window.larderSpeak();
  } catch (err) {
    console.warn("the names of foods in other languages have not come:", err);
    setTimeout(() => { asked = false; }, 10000); // what is typed later asks again
  }
}

window.larderDevice.foods = () => {
  if (!asked && files.length > 0) {
    asked = true;
    request();
  }
  return come;
};
