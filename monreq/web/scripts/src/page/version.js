// At what a page stands, the show's revision and as of when that is told, and what a push is to it.

/**
 * What is pushed whole moves neither: it is of the laptop, not of the show. A phone's places are told as of no moment.
 * @typedef {{revision: number, as_of?: number}} Version
 * @typedef {Version & {after: number, after_as_of?: number, client_ids: string[], fragments: Record<string, string>}} Push
 */

/**
 * @param {Version} one
 * @param {Version} other
 */
export function isSame(one, other) {
  return one.revision === other.revision && momentOf(one) === momentOf(other);
}

/**
 * @param {Push} push
 * @param {Version} page
 * @returns {"whole" | "next" | "known" | "missed"} Missed: the page has to read all of its places.
 */
export function whatIsIt(push, page) {
  const base = { revision: push.after, as_of: push.after_as_of };
  if (page.revision < push.after) return "missed";
  if (isSame(base, push)) return "whole";
  const isWithin = push.after < page.revision && page.revision < push.revision;
  if (isSame(base, page) || isWithin) return "next";
  return isBefore(page, push) ? "missed" : "known";
}

function isBefore(one, other) {
  return one.revision < other.revision || (one.revision === other.revision && momentOf(one) < momentOf(other));
}

const momentOf = (version) => version.as_of ?? 0;
