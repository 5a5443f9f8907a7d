// The desk's `u`: takes back what this hand pressed last, wherever that is by now, and never another answer instead.

import { buttonOf } from "./submitting.js";
import { say } from "./words.js";

const TAKES_BACK = ["takes_back", "yes"];
const DOUBLE_MS = 350; // chosen: a finger that bounces, not one that takes two answers back
/** What `u` means: answers to rows, and what takes one back. Notes and the like have buttons of their own. */
const ANSWER = /^(done|same_loudness|rest_down|figure|set_aside|not_done|answered|take_back):/;
const ELSE_TAKEN_BACK = /^(undo|take_back_stretch|begin_song|begin_gap):/;

/**
 * @typedef {import("./outbox.js").Item} Item
 * @typedef {import("./outbox.js").Answer} Answer
 */

/** Knows what was pressed last as long as the page does not show what came of it. */
export class TakingBack {
  /**
   * @param {object} parts
   * @param {import("./outbox.js").Outbox} parts.outbox
   * @param {() => number} parts.revision Up to which the page shows the show.
   * @param {(message: string) => void} parts.tell
   * @param {(item: Item, isGone: boolean) => void} parts.onBack Called for what is taken back; gone if it was never sent.
   * @param {() => number} [parts.counted] A clock that only counts on. [ms]
   */
  constructor({ outbox, revision, tell, onBack, counted = () => performance.now() }) {
    Object.assign(this, { outbox, revision, tell, onBack, counted });
    /** @type {{item: Item, answer: Answer} | null} */
    this.last = null;
    this.at = -Infinity;
  }

  /** @returns {boolean} False where the last answer that the page shows is the one that is meant. */
  press() {
    const isBounce = this.counted() - this.at < DOUBLE_MS;
    const isSeenTo = isBounce || this.seeTo();
    if (isSeenTo && !isBounce) this.at = this.counted();
    return isSeenTo;
  }

  seeTo() {
    const item = this.outbox.sending.filter(isMeant).at(-1);
    if (item) this.takeOut(item);
    else if (this.last?.answer.verdict === "refused") this.tellRefused(this.last.item);
    else if (this.last?.answer.revision > this.revision()) this.takeBackTaken(this.last.item);
    else if (this.outbox.old.some(isMeant)) this.tell(say("Say first whether what was pressed before is still right."));
    else return false;
    return true;
  }

  /** @param {Item} item */
  takeOut(item) {
    const what = item.said;
    if (isTakenBack(item)) this.tell(say("Being taken back: %(what)s.", { what }));
    else if (!item.tried) {
      this.outbox.remove(item);
      this.tell(say("Taken back, never sent: %(what)s.", { what }));
      this.onBack(item, true);
    } else if (!ANSWER.test(buttonOf(item))) this.tell(say("Still on its way: %(what)s. Wait for its answer.", { what }));
    else {
      this.outbox.change(item, { fields: [...item.fields, TAKES_BACK] });
      this.outbox.renew(item); // it is the taking back that counts as pressed now
      this.backUnderWay(item);
    }
  }

  /** The page does not show it yet, but it was recorded: sent again under its own id it names itself. */
  takeBackTaken(item) {
    if (!ANSWER.test(buttonOf(item))) {
      this.tell(say("Still on its way: %(what)s. Wait for its answer.", { what: item.said }));
      return;
    }
    this.last = null;
    const { client_id, said, fields } = item;
    this.outbox.add({ client_id, said, fields: [...fields, TAKES_BACK] });
    this.backUnderWay(item);
  }

  backUnderWay(item) {
    this.tell(say("Being taken back: %(what)s.", { what: item.said }));
    this.onBack(item, false);
  }

  tellRefused(item) {
    this.last = null;
    this.tell(say("%(what)s: this was not taken, so there is nothing to take back.", { what: item.said }));
  }

  /** @param {Item} item @param {Answer} answer */
  answered(item, answer) {
    if (!isMeant(item)) return;
    const isBack = isTakenBack(item);
    this.last = isBack ? null : { item, answer };
    if (isBack && answer.verdict === "taken") this.tell(say("Taken back: %(what)s.", { what: item.said }));
  }
}

function isMeant(item) {
  return ANSWER.test(buttonOf(item)) || ELSE_TAKEN_BACK.test(buttonOf(item));
}

/** @param {Item} item */
export function isTakenBack(item) {
  return item.fields.some(([name]) => name === TAKES_BACK[0]);
}
