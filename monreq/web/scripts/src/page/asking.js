// Says, while a line for somebody is typed, what it would ask: the desk reads it, so that one place knows how.

import { ask, jsonOf } from "./sending.js";

const PAUSE_MS = 120; // chosen: between two letters of a hand in a hurry

/** @param {HTMLInputElement | null} field */
export function readWhileTyped(field) {
  const output = field && document.getElementById(field.getAttribute("aria-describedby"));
  if (!output) return;
  let timer = 0;
  let turn = 0;
  const read = async () => {
    const mine = ++turn;
    const line = field.value.trim();
    const response = line && (await ask(`${field.dataset.reads}?line=${encodeURIComponent(line)}`));
    const said = response && response.ok && (await jsonOf(response));
    if (mine === turn) output.textContent = (line && said && said.reads) || "";
  };
  field.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(read, PAUSE_MS);
  });
  field.addEventListener("blur", () => {
    if (!field.value) output.textContent = "";
  });
}
