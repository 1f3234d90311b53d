// The food in a jar can be named while the program is loading; the program takes
// it from the address and from window.larderEarly.
"use strict";

const { say, button } = window.larderBoot;

function early(picker) {
  const said = { query: "", group: "", typing: false };
  window.larderEarly = said;
  const field = picker.querySelector("#product");
  const links = [...picker.querySelectorAll("a.product")];
  const groups = picker.querySelectorAll(".groups details");
  const list = picker.querySelector(".found-products");
  const name = (link) => link.firstElementChild.textContent.trim();
  // The id of a food is its English name: that is understood in every language.
  const names = (link) => [name(link), new URL(link.href).hash.slice("#product=".length)].map(parts);
  const parts = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().split(/[^a-z0-9]+/).filter(Boolean);

  field.addEventListener("input", () => {
    said.query = field.value;
    const words = parts(field.value);
    const found = document.createElement("ul");
    found.className = "products";
    const begins = (a) => names(a).some(([first]) => first?.startsWith(words[0]));
    const fits = links.filter((a) => words.length > 0 && words.every((word) => names(a).flat().some((part) => part.startsWith(word))));
    fits.sort((a, b) => begins(b) - begins(a)).slice(0, 14).forEach((a) => {
      const item = document.createElement("li");
      item.append(a.cloneNode(true));
      found.append(item);
    });
    list.replaceChildren(found);
    picker.querySelector(".groups").hidden = words.length > 0;
  });
  field.addEventListener("focus", () => { said.typing = true; });
  // When the program takes over the page, the field loses the focus.
  field.addEventListener("blur", () => setTimeout(() => { said.typing = said.typing && !field.isConnected; }));
  groups.forEach((group) => group.addEventListener("toggle", () => {
    if (group.open) {
      said.group = group.id;
      groups.forEach((other) => { other.open = other === group; });
    } else if (said.group === group.id) {
      said.group = "";
    }
  }));

  // waits replaces the picker while the program is loading.
  function waits(heading, text) {
    const wait = document.createElement("div");
    wait.className = "picker";
    const title = document.createElement("h1");
    title.tabIndex = -1;
    title.textContent = heading;
    const says = document.createElement("p");
    says.className = "lead";
    says.textContent = text;
    const other = button(say("Another food"), () => {
      window.history.replaceState(null, "", window.location.pathname);
      wait.replaceWith(picker);
      field.focus();
    });
    other.className = "button plain";
    wait.append(title, says, picker.querySelector(".stop-short").cloneNode(true), other);
    picker.replaceWith(wait);
    return title;
  }
  const next = () => say("The first question comes as soon as the guide is ready.");
  picker.addEventListener("click", (event) => {
    const product = event.target.closest("a.product");
    if (product && !event.ctrlKey && !event.metaKey && !event.shiftKey) {
      event.preventDefault();
      window.history.replaceState(null, "", product.href);
      waits(name(product), next()).focus();
    }
  });
  // The request is behind the #, or in an older link before it.
  const { hash, search } = window.location;
  const asked = new URLSearchParams(hash.includes("=") ? hash.slice(1) : search);
  const product = asked.get("product") && links.find((a) => new URL(a.href).hash === "#product=" + asked.get("product"));
  if (product) {
    waits(name(product), next());
  } else if (asked.has("id")) {
    waits(say("Check a jar"), say("Looking for this check on your device…"));
  }
  // The program keeps the page busy while it starts; it lets the browser draw this
  // first.
  window.larderAnswerable = new Promise((shown) => {
    requestAnimationFrame(() => setTimeout(() => {
      performance.mark("answerable");
      shown();
    }));
  });
}
const picker = document.querySelector(".picker");
if (picker) {
  early(picker);
}
