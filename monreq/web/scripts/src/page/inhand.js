// Which row comes into hand by itself: calls before anything else, the top one first, unless a person went past them.

/**
 * @typedef {object} Row
 * @property {string} id
 * @property {boolean} isCall
 * @property {boolean} isAside
 * @property {string[]} requests
 */

/**
 * @param {Row[]} rows As they stand.
 * @returns {Row[]} The calls that wait, seen or not.
 */
export function waitingCalls(rows) {
  return rows.filter((row) => row.isCall && !row.isAside);
}

/**
 * @param {Row[]} rows As they stand.
 * @param {string} inHand The row in hand, by id.
 * @param {Set<string>} passed The calls that a person went past to that row, by request.
 * @returns {Row | undefined} The call that takes the hand from that row: the top one, once any above it was not passed.
 */
export function callToTake(rows, inHand, passed) {
  const place = rows.findIndex((row) => row.id === inHand);
  const isNew = waitingCalls(rows.slice(0, Math.max(place, 0))).some((call) => call.requests.some((request) => !passed.has(request)));
  return isNew ? waitingCalls(rows)[0] : undefined;
}

/**
 * @param {Row[]} rows As they stand.
 * @param {number} place Where among those that wait the row stood that was in hand.
 * @returns {Row | undefined} The row that comes after it: the top call, else what follows; set aside rows never do.
 */
export function following(rows, place) {
  const waiting = rows.filter((row) => !row.isAside);
  return waitingCalls(rows)[0] ?? waiting[Math.min(place, waiting.length - 1)];
}

/**
 * Whoever takes an answer back wants to answer that row anew, but for a call that waits.
 *
 * @param {Row[]} rows As they stand.
 * @param {string} id The row that was awaited.
 */
export function mayComeBack(rows, id) {
  const [call] = waitingCalls(rows);
  return !call || call.id === id;
}
