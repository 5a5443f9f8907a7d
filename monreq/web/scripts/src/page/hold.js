// Keeps the row in hand, and all that stands above it, where they are, whatever order is pushed; calls stand as pushed.

/**
 * @typedef {object} Item
 * @property {string} id
 * @property {"row" | "head" | "line"} kind
 * @property {string} mix
 * @property {boolean} isUrgent
 * @property {boolean} isLater Whether it does not fit into the gap.
 */

/**
 * Returns the items in the order in which they are to stand. Urgent calls come first at once, in the order pushed, which
 * is that of their urgency; the rest below the row in hand stands as pushed.
 *
 * @param {Item[]} shown As the page shows them.
 * @param {Item[]} drawn As they were pushed.
 * @param {string} inHand The row in hand, by id.
 * @returns {Item[]}
 */
export function held(shown, drawn, inHand) {
  const place = shown.findIndex((item) => item.id === inHand);
  const pushed = new Map(drawn.map((item) => [item.id, item]));
  if (place < 0 || !pushed.has(inHand)) return drawn;
  const calls = drawn.filter((item) => item.isUrgent);
  const first = new Set(calls.map((item) => item.id));
  const kept = shown
    .slice(0, place + 1)
    .filter((item) => !item.isUrgent && !first.has(item.id) && (item.kind !== "row" || pushed.has(item.id)))
    .map((item) => pushed.get(item.id) ?? item);
  const above = new Set(kept.map((item) => item.id));
  const below = drawn.filter((item) => !first.has(item.id) && !above.has(item.id));
  return [...calls, ...headed([...kept, ...lined(below, above)])];
}

/** Puts the line above the first of those that do not fit, unless it stands above the row in hand already. */
function lined(below, above) {
  const line = below.find((item) => item.kind === "line");
  const rest = below.filter((item) => item !== line);
  if (!line || [...above].includes(line.id)) return rest;
  let first = rest.length;
  while (first > 0 && (rest[first - 1].kind === "head" || rest[first - 1].isLater)) first -= 1;
  return first < rest.length ? [...rest.slice(0, first), line, ...rest.slice(first)] : rest;
}

/** Puts one head above each run of rows of one mix: the one that stands there, or another of that mix. */
function headed(items) {
  const result = [];
  let mix = "";
  let head = null;
  for (const item of items) {
    if (item.kind === "head") head = item;
    else if (item.kind === "line") result.push(item);
    else {
      if (!item.isUrgent && item.mix !== mix) result.push(head?.mix === item.mix ? head : headAgain(item));
      result.push(item);
      mix = item.isUrgent ? "" : item.mix;
      head = null;
    }
  }
  return result;
}

/** A run of rows that the order in hand parts from its others gets a head like theirs. */
function headAgain(row) {
  return { id: `again-${row.id}`, kind: "head", mix: row.mix, isUrgent: false, isLater: false };
}
