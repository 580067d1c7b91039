// The page for writing a note works without this file: "Look at it" does the
// same. With it the look follows the typing: after a pause, one request at a
// time, and never more than one in so many seconds.
"use strict";

const pause = 800; // ms without a key
const rest = 1500; // ms between two requests

const text = document.getElementById("text");
const look = document.getElementById("look");
const said = document.getElementById("look-said");

let timer = 0;
let last = 0;
let going = false;
let stale = false;
let shown = text.value;

function soon() {
  clearTimeout(timer);
  timer = setTimeout(ask, Math.max(pause, last + rest - Date.now()));
}

async function ask() {
  if (going) {
    stale = true;
    return;
  }
  if (text.value === shown) return;
  going = true;
  stale = false;
  last = Date.now();
  const sent = text.value;
  look.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(text.dataset.look, { method: "POST", body: new URLSearchParams({ text: sent }) });
    if (answer.ok) {
      look.innerHTML = await answer.text();
      shown = sent;
      places();
      said.textContent = look.querySelector("h2")?.textContent ?? "";
    }
  } catch {
    // the bench is away; the button says so when it is pressed
  }
  look.setAttribute("aria-busy", "false");
  going = false;
  if (stale || text.value !== sent) soon();
}

// places turns "line:column" into a button that leads there.
function places() {
  for (const tag of look.querySelectorAll("[data-line]")) {
    const go = document.createElement("button");
    go.type = "button";
    go.className = "place";
    go.textContent = tag.textContent;
    go.title = "Go there in the text";
    go.addEventListener("click", () => lead(Number(tag.dataset.line), Number(tag.dataset.column)));
    tag.replaceWith(go);
  }
}

function lead(line, column) {
  const lines = text.value.split("\n");
  const start = lines.slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0);
  const at = start + [...(lines[line - 1] ?? "")].slice(0, column - 1).join("").length;
  text.focus();
  text.setSelectionRange(at, start + (lines[line - 1] ?? "").length);
  text.scrollTop = Math.max(0, (line - 4) * (text.scrollHeight / Math.max(lines.length, 1)));
}

text.addEventListener("input", soon);
places();
