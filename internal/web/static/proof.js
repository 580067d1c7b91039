// The pages work without this file. It adds: the clock of a running soak ticks, and
// once a minute the tally is read anew. What runs is in the journal, not here.
"use strict";

const tally = document.querySelector("[data-tally][data-on]");

if (tally) {
  const clock = tally.querySelector("[data-clock]");
  const began = Date.now() - 1000 * Number(tally.dataset.on);
  const two = (n) => String(n).padStart(2, "0");
  const tick = () => {
    const s = Math.floor((Date.now() - began) / 1000);
    clock.textContent = `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
  };
  tick();
  setInterval(tick, 1000);

  // Not while somebody is filling something in.
  let touched = false;
  document.addEventListener("input", () => { touched = true; });
  setInterval(() => {
    if (document.hidden || touched || tally.querySelector("details[open]")) return;
    location.reload();
  }, 60000);
}
