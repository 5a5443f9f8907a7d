// Puts drawn places into the page without disturbing whoever is using it: focus, typing and open folds stay.

import { Idiomorph } from "idiomorph";

/**
 * @param {Record<string, string>} fragments HTML by the id of its place, containers before what is in them.
 */
export function apply(fragments) {
  for (const [id, html] of Object.entries(fragments)) {
    const old = document.getElementById(id);
    const drawn = parse(id, html);
    if (!old || !drawn) continue;
    if (isContainer(old)) rearrange(listIn(old), listIn(drawn));
    else morph(old, drawn);
  }
}

/** Parsed apart from the page, where nothing in it can run. */
function parse(id, html) {
  const whole = html.startsWith("<tr") ? `<table><tbody>${html}</tbody></table>` : html;
  return new DOMParser().parseFromString(whole, "text/html").getElementById(id);
}

function isContainer(element) {
  return element.matches("#strips, #queue, #mixes");
}

function listIn(container) {
  return container.querySelector(":scope > tbody") ?? container;
}

function rearrange(list, drawn) {
  const children = Array.from(drawn.children, (child) => {
    const known = document.getElementById(child.id);
    if (!known || known.parentElement !== list) return document.importNode(child, true);
    if (child.hasChildNodes()) morph(known, child);
    return document.getElementById(child.id);
  });
  for (const gone of Array.from(list.children)) if (!children.includes(gone)) gone.remove();
  order(list, children);
}

/** Moves children around the one in use: an element that is moved loses its focus. */
function order(list, children) {
  if (!children.length) return;
  const used = children.findIndex((child) => child.contains(document.activeElement));
  const start = Math.max(used, 0);
  if (used < 0 && list.firstElementChild !== children[0]) list.prepend(children[0]);
  for (let place = start - 1; place >= 0; place--) {
    if (children[place].nextElementSibling !== children[place + 1]) list.insertBefore(children[place], children[place + 1]);
  }
  for (let place = start + 1; place < children.length; place++) {
    const before = children[place - 1];
    if (before.nextElementSibling !== children[place]) before.after(children[place]);
  }
}

function morph(old, drawn) {
  Idiomorph.morph(old, drawn, {
    morphStyle: "outerHTML",
    callbacks: { beforeNodeMorphed: isToBeMorphed, beforeAttributeUpdated: isToBeUpdated },
  });
}

/** What a person typed or chose is theirs; an age is written by the page itself. */
function isToBeMorphed(old, drawn) {
  if (old instanceof HTMLInputElement) return old.type === "hidden";
  if (old instanceof HTMLSelectElement || old instanceof HTMLTextAreaElement) return false;
  return !(old instanceof HTMLTimeElement && old.dataset.asked === drawn.dataset?.asked);
}

function isToBeUpdated(name, element) {
  return !(name === "open" && element instanceof HTMLDetailsElement);
}
