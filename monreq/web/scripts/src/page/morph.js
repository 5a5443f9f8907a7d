// Puts drawn places into the page without disturbing whoever is using it: focus, typing and open folds stay.

import { Idiomorph } from "idiomorph";
import { held } from "./hold.js";

/**
 * @param {Record<string, string>} fragments HTML by the id of its place, containers before what is in them.
 */
export function apply(fragments) {
  const inHand = document.querySelector("#queue > .now");
  const before = inHand?.getBoundingClientRect().top;
  put(fragments);
  // What grew or came above the row in hand must not move it under the eye.
  const moved = inHand?.isConnected ? inHand.getBoundingClientRect().top - before : 0;
  if (moved) scrollBy(0, moved);
}

function put(fragments) {
  for (const [id, html] of Object.entries(fragments)) {
    const old = document.getElementById(id);
    const drawn = parse(id, html);
    if (!old || !drawn) continue;
    if (old.id === "queue") rearrangeQueue(old, drawn);
    else if (isContainer(old)) rearrange(listIn(old), Array.from(listIn(drawn).children));
    else morph(old, drawn);
  }
}

/** Parsed apart from the page, where nothing in it can run. */
function parse(id, html) {
  const whole = html.startsWith("<tr") ? `<table><tbody>${html}</tbody></table>` : html;
  return new DOMParser().parseFromString(whole, "text/html").getElementById(id);
}

function isContainer(element) {
  return element.matches("#strips, .group, #queue, #mixes");
}

function listIn(container) {
  return container.querySelector(":scope > tbody, :scope > ul") ?? container;
}

/** A song or gap that begins, or the row in hand being set aside, frees the order; until then it is kept around that row. */
function rearrangeQueue(list, drawn) {
  const now = list.querySelector(":scope > .now")?.id ?? "";
  const isAside = (one) => (one.dataset.aside ?? "").split(" ").includes(now);
  const isFree = list.dataset.stretch !== drawn.dataset.stretch || isAside(list) !== isAside(drawn);
  Object.assign(list.dataset, drawn.dataset);
  const inHand = isFree ? "" : now;
  const items = held(itemsOf(list), itemsOf(drawn), inHand);
  const others = Array.from(drawn.children).filter((child) => !nameOf(child));
  const children = items.map((item) => childOf(drawn, item.id) ?? headOf(list, item));
  rearrange(list, [...children.filter(Boolean), ...others]);
}

/** What a child is, from its id alone: one that is new comes as an empty shell, and is drawn right after. */
function nameOf(child) {
  if (child.id === "gap-line") return { kind: "line", mix: "" };
  const [, what, mix] = /^(row|head|again-row)-([^-]+)-/.exec(child.id) ?? [];
  return what && { kind: what === "row" ? "row" : "head", mix };
}

/** Urgent calls stand first; what stands behind the line does not fit into the gap. */
function itemsOf(list) {
  let areCalls = true;
  let isLater = false;
  return Array.from(list.children).flatMap((child) => {
    const name = nameOf(child);
    if (!name) return [];
    areCalls &&= child.id.endsWith("-call");
    isLater ||= name.kind === "line";
    return [{ id: child.id, ...name, isUrgent: areCalls, isLater }];
  });
}

function childOf(list, id) {
  return Array.from(list.children).find((child) => child.id === id);
}

/** A head that stands, or one like another of its mix. */
function headOf(list, { id, mix }) {
  const like = childOf(list, id) ?? list.querySelector(`:scope > [id^="head-${mix}-"]`);
  const head = like?.cloneNode(true);
  if (head) head.id = id;
  return head;
}

function rearrange(list, drawn) {
  const children = drawn.map((child) => {
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

/** Which row is in hand, the page alone knows. */
function morph(old, drawn) {
  if (old.classList.contains("now")) drawn.classList.add("now");
  Idiomorph.morph(old, drawn, {
    morphStyle: "outerHTML",
    callbacks: { beforeNodeMorphed: isToBeMorphed, beforeAttributeUpdated: isToBeUpdated },
  });
}

/** What a person typed or chose is theirs; an age is written by the page itself. */
function isToBeMorphed(old, drawn) {
  if (old instanceof HTMLInputElement) return old.type === "hidden";
  if (old instanceof HTMLSelectElement || old instanceof HTMLTextAreaElement) return false;
  // Another place within this one, of which only an empty shell was drawn.
  if (old instanceof HTMLElement && "beside" in old.dataset && !drawn.hasChildNodes()) return false;
  return !(old instanceof HTMLTimeElement && old.dataset.asked === drawn.dataset?.asked);
}

function isToBeUpdated(name, element) {
  return !(name === "open" && element instanceof HTMLDetailsElement);
}
