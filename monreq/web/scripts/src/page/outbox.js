// The outbox: everything sent waits here until it was answered, over lost Wi-Fi, reloads and restarts.

/**
 * @typedef {{client_id: string, until: number | null, fields: [string, string][]}} Item
 * @typedef {{verdict: "taken"} | {verdict: "refused", message: string, confirms?: string} | {verdict: "later", waitMs?: number}} Answer
 */

const FIRST_PAUSE_MS = 500; // chosen: a hiccup of the Wi-Fi is over by then
const LONGEST_PAUSE_MS = 5000; // chosen: someone who walks back into reach waits no longer than this

/** Sends one after another, so that what was asked first arrives first. */
export class Outbox {
  /**
   * @param {object} parts
   * @param {{read: (name: string) => any, write: (name: string, value: any) => void}} parts.store
   * @param {string} parts.name Under which it is stored.
   * @param {(item: Item) => Promise<Answer>} parts.send Never rejects.
   * @param {(item: Item, answer: Answer) => void} parts.onAnswer Called for whatever leaves.
   * @param {() => void} parts.onChange Called whenever something came or left.
   * @param {(run: () => void, ms: number) => any} [parts.later]
   * @param {() => number} [parts.chance] From 0 to 1.
   */
  constructor({ store, name, send, onAnswer, onChange, later = defaultLater, chance = Math.random }) {
    Object.assign(this, { store, name, send, onAnswer, onChange, later, chance });
    this.isSending = false;
    this.isHeldUp = false;
    this.failures = 0;
    this.endPause = () => {};
  }

  /** @returns {Item[]} What waits. Read anew each time: another tab shares it. */
  get items() {
    const found = this.store.read(this.name);
    return Array.isArray(found) ? found : [];
  }

  /** @param {Item} item */
  add(item) {
    this.store.write(this.name, [...this.items, item]);
    this.onChange();
    this.wake();
  }

  /** Tries now, whatever pause was being kept. */
  wake() {
    this.endPause();
    this.drain();
  }

  async drain() {
    if (this.isSending) return;
    this.isSending = true;
    try {
      for (let item = this.items[0]; item; item = this.items[0]) await this.attempt(item);
    } finally {
      this.isSending = false;
    }
  }

  /** @param {Item} item */
  async attempt(item) {
    const answer = await this.send(item);
    if (answer.verdict === "later") {
      const pauseMs = answer.waitMs ?? this.nextPauseMs();
      this.isHeldUp = true;
      this.onChange();
      await this.pause(pauseMs);
      return;
    }
    this.failures = 0;
    this.isHeldUp = false;
    this.remove(item);
    this.onAnswer(item, answer);
  }

  /** @param {Item} item */
  remove(item) {
    const rest = this.items.filter((other) => other.client_id !== item.client_id);
    this.store.write(this.name, rest);
    this.onChange();
  }

  /** @returns {number} Twice as long each time, and never the same for all the phones of a stage. */
  nextPauseMs() {
    const longest = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** this.failures);
    this.failures = Math.min(this.failures + 1, 10);
    return longest * (0.5 + this.chance() / 2);
  }

  /** @param {number} ms */
  pause(ms) {
    return new Promise((resolve) => {
      this.endPause = resolve;
      this.later(resolve, ms);
    });
  }
}

function defaultLater(run, ms) {
  return setTimeout(run, ms);
}
