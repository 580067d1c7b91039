// The pages work without this file. It adds: one moment of the heat picture at a
// time with a slider, a board after laid over the board before, and a picture to
// tap on that is as wide as the screen.
"use strict";

const make = (tag, set) => Object.assign(document.createElement(tag), set);

// slider puts a labelled range before an element and returns it.
function slider(before, label, max, value, step) {
  const line = make("div", { className: "slide" });
  const id = "slide-" + Math.random().toString(36).slice(2);
  const range = make("input", { type: "range", id, min: 0, max, step, value });
  const name = make("label", { htmlFor: id, textContent: label });
  const out = make("output", {});
  out.htmlFor.add(id);
  line.append(name, range, out);
  before.before(line);
  return { range, out };
}

for (const row of document.querySelectorAll("[data-moments]")) {
  const all = [...row.querySelectorAll(".moment")];
  if (all.length < 2) continue;
  const first = Math.max(0, all.findIndex((m) => "now" in m.dataset));
  const { range, out } = slider(row, "Time", all.length - 1, first, 1);
  const show = () => {
    all.forEach((m, i) => m.classList.toggle("shown", i === Number(range.value)));
    out.value = all[range.value].dataset.title;
    range.setAttribute("aria-valuetext", out.value);
  };
  row.classList.add("one");
  range.addEventListener("input", show);
  show();
}

for (const box of document.querySelectorAll("[data-compare]")) {
  const pair = box.querySelector(".sidebyside");
  const before = box.querySelector("[data-before] svg"), after = box.querySelector("[data-after] svg");
  if (!before || !after) continue;
  const laid = make("div", { className: "laid" }), top = make("div", { className: "top" });
  top.append(after);
  laid.append(before, top);
  pair.after(laid);
  pair.remove();
  after.setAttribute("preserveAspectRatio", "none");
  const { range, out } = slider(laid, "After", 100, 50, 1);
  const fit = () => {
    after.style.width = laid.clientWidth + "px";
    after.style.height = laid.clientHeight + "px";
    top.style.width = range.value + "%";
    out.value = "left of the line after, right of it before";
    range.setAttribute("aria-valuetext", out.value);
  };
  range.addEventListener("input", fit);
  addEventListener("resize", fit);
  fit();
}

// Without a size in the address the picture to tap on is as wide as there is room.
for (const map of document.querySelectorAll(".tapmap")) {
  if (new URLSearchParams(location.search).has("size")) continue;
  const room = map.closest(".tapscroll").clientWidth - 2;
  if (room < 100) continue;
  const form = map.form, w = Number(form.elements.w.value), h = Number(form.elements.h.value);
  map.width = room;
  map.height = Math.round((room * h) / w);
  form.elements.w.value = map.width;
  form.elements.h.value = map.height;
  form.elements.size.value = "";
}
