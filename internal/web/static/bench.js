// The bench works without this file. It adds three comforts: "/" goes to the
// say-box from anywhere on the page, a form that is on its way is not sent twice,
// and on a narrow screen the strip at the head shows where we are.
"use strict";

const here = document.querySelector(".rail [aria-current]");
if (here) {
  const strip = here.closest("nav");
  strip.scrollLeft = here.getBoundingClientRect().right - strip.getBoundingClientRect().right;
}

document.addEventListener("keydown", (e) => {
  if (e.key !== "/" || e.ctrlKey || e.metaKey || e.altKey) return;
  if (e.target.closest("input:not([type=radio]):not([type=checkbox]), textarea, select, [contenteditable]")) return;
  const box = document.querySelector("[data-say]");
  if (!box) return;
  e.preventDefault();
  box.focus();
  box.scrollIntoView({ block: "center" });
});

const sent = new WeakSet();

document.addEventListener("submit", (e) => {
  if (e.defaultPrevented || e.target.method !== "post") return;
  if (sent.has(e.target)) {
    e.preventDefault();
    return;
  }
  sent.add(e.target);
});

// Coming back by the browser's own button must not find the forms locked.
window.addEventListener("pageshow", (e) => {
  if (e.persisted) location.reload();
});
