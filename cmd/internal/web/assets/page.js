"use strict";
// The page works without this file. With it, forms that change a house compute
// without a new page, materials and places are offered while one types, and the
// progress of a long run moves.

const say = (words) => { document.getElementById("said").textContent = words; };

// place says where an element stands, so that its like can be found on a fresh
// page: the nearest thing with an id, and what it is there.
function place(element) {
  const within = element && element.closest("main [id]");
  return element && { id: within && within.id !== element.id ? within.id : "", tag: element.tagName, name: element.name || "", words: element.textContent };
}
function find(main, at) {
  if (!at) return null;
  const within = at.id ? main.querySelector("#" + CSS.escape(at.id)) : main;
  return within && [...within.querySelectorAll(at.tag)].find((e) => (e.name || "") === at.name && (at.name || e.textContent === at.words));
}

// show puts the main part of another page in the place of this one and keeps
// what was open, and the focus.
function show(text, address, from) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  const main = fresh.getElementById("main");
  if (!main) { location.assign(address); return; }
  const open = [...document.querySelectorAll("main details[open] > summary")].map((s) => s.textContent);
  const focus = place(document.activeElement && document.activeElement.closest("main") ? document.activeElement : from);
  const top = scrollY;
  const same = new URL(address, location.href).pathname === location.pathname;
  document.getElementById("main").replaceWith(main);
  const trail = fresh.querySelector(".trail");
  if (trail) document.querySelector(".trail").replaceWith(trail);
  document.title = fresh.title;
  const alert = main.querySelector("[role=alert]");
  if (same && !alert) {
    for (const s of main.querySelectorAll("details > summary")) if (open.includes(s.textContent)) s.parentElement.open = true;
    (find(main, focus) || main).focus({ preventScroll: true });
    scrollTo(0, top);
  } else {
    (alert || main).focus();
    scrollTo(0, 0);
  }
  say(alert ? alert.textContent : "Done. " + (main.querySelector(".lead") || main.querySelector("h1")).textContent);
  ready(main);
}

// send sends a form and shows the answer. A second press while it is on its way
// is no second order.
let sending = false;
async function send(form, button) {
  if (sending) return;
  sending = true;
  const data = new URLSearchParams(new FormData(form));
  if (button && button.name) data.append(button.name, button.value);
  const main = document.getElementById("main");
  main.classList.add("busy");
  main.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.action, { method: "POST", body: data });
    const text = await answer.text();
    if (answer.ok && answer.url !== location.href) { history.pushState(null, "", answer.url); here = shown(); }
    show(text, answer.ok ? answer.url : form.action, form);
  } catch {
    say("The program does not answer. Is it still running?");
    main.classList.remove("busy");
    main.removeAttribute("aria-busy");
  } finally {
    sending = false;
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || event.defaultPrevented) return;
  event.preventDefault();
  send(form, event.submitter);
});
// Going back to another page loads it; a step within this one does not.
const shown = () => location.pathname + location.search;
let here = shown();
addEventListener("popstate", () => { if (shown() !== here) location.reload(); });
addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });

// offer makes a field offer what fits while one types.
function offer(input) {
  const box = input.closest("label") || input.parentElement;
  const list = document.createElement("ul");
  let timer = 0, asked = 0, at = -1;
  box.classList.add("suggests");
  list.className = "suggest";
  list.id = "s" + Math.random().toString(36).slice(2);
  list.setAttribute("role", "listbox");
  list.setAttribute("aria-label", "What fits");
  list.hidden = true;
  box.append(list);
  const set = (name, value) => input.setAttribute(name, value);
  set("role", "combobox"); set("aria-autocomplete", "list"); set("aria-controls", list.id); set("aria-expanded", "false");
  const close = () => { list.hidden = true; at = -1; set("aria-expanded", "false"); input.removeAttribute("aria-activedescendant"); };
  const parts = () => input.value.split(";");
  const take = (item) => {
    const words = parts();
    words[words.length - 1] = (words.length > 1 ? " " : "") + item.dataset.value;
    input.value = words.join(";");
    close();
    input.focus();
  };
  const mark = (to) => {
    const items = list.children;
    if (!items.length) return;
    at = (to + items.length) % items.length;
    [...items].forEach((e, i) => e.setAttribute("aria-selected", String(i === at)));
    set("aria-activedescendant", items[at].id);
    items[at].scrollIntoView({ block: "nearest" });
  };
  const ask = async () => {
    const words = parts().pop().trim(), mine = ++asked;
    if (words.length < 2) { close(); return; }
    try {
      const answer = await fetch("/suggest/" + input.dataset.suggest + "?q=" + encodeURIComponent(words));
      if (!answer.ok || mine !== asked || document.activeElement !== input) return;
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      const items = [...fresh.querySelectorAll("li[data-value]")];
      items.forEach((e, i) => { e.id = list.id + "-" + i; e.setAttribute("role", "option"); e.setAttribute("aria-selected", "false"); });
      list.replaceChildren(...items);
      at = -1;
      list.hidden = !items.length;
      set("aria-expanded", String(!list.hidden));
      say(items.length ? items.length + " fit; arrows choose" : "nothing fits");
    } catch { close(); }
  };
  input.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(ask, 120); });
  input.addEventListener("blur", () => setTimeout(close, 150));
  input.addEventListener("keydown", (event) => {
    if (list.hidden) return;
    if (event.key === "ArrowDown") { mark(at + 1); event.preventDefault(); }
    if (event.key === "ArrowUp") { mark(at < 0 ? -1 : at - 1); event.preventDefault(); }
    if (event.key === "Escape") { close(); event.preventDefault(); }
    if (event.key === "Enter" && at >= 0) { take(list.children[at]); event.preventDefault(); }
  });
  list.addEventListener("mousedown", (event) => {
    const item = event.target.closest("li");
    if (item) { event.preventDefault(); take(item); }
  });
}

// follow asks for the state of a long run until it is done.
function follow(run) {
  const next = async () => {
    if (!run.isConnected) return;
    try {
      const text = await (await fetch(location.href)).text();
      const fresh = new DOMParser().parseFromString(text, "text/html");
      const there = fresh.querySelector("[data-run]");
      if (!there) { show(text, location.href); return; }
      run.replaceChildren(...there.childNodes);
    } catch { say("The program does not answer. Is it still running?"); }
    setTimeout(next, 700);
  };
  setTimeout(next, 700);
}

function ready(root) {
  root.querySelectorAll("[data-suggest]").forEach(offer);
  root.querySelectorAll("[data-run]").forEach(follow);
}
ready(document);
