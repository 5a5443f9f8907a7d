// The outbox: everything sent waits here until it was answered, over lost Wi-Fi, reloads and restarts.

/**
 * @typedef {object} Item
 * @property {string} client_id
 * @property {number} at When it was pressed, by this device's clock. [ms since 1970]
 * @property {string} said What was pressed, in words.
 * @property {[string, string][]} fields
 * @property {boolean} [tried] Whether it was ever sent: nobody can say then that it did not arrive.
 *
 * @typedef {{verdict: "taken", revision?: number} | {verdict: "refused", message: string, confirms?: string} | {verdict: "later", waitMs?: number}} Answer
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
   * @param {() => void} parts.onChange Called whenever something came or left, or became too old to be sent unasked.
   * @param {number} [parts.oldMs] After so long something is not sent any more unless a person says so.
   * @param {() => number} [parts.now] The time. [ms since 1970]
   * @param {() => number} [parts.counted] A clock that only counts on, while this page is open. [ms]
   * @param {(run: () => void, ms: number) => any} [parts.later]
   * @param {() => number} [parts.chance] From 0 to 1.
   */
  constructor({ store, name, send, onAnswer, onChange, oldMs = Infinity, now = Date.now, counted = performanceNow, later = defaultLater, chance = Math.random }) {
    Object.assign(this, { store, name, send, onAnswer, onChange, oldMs, now, counted, later, chance });
    /** @type {Map<string, number>} When this page took each of its own, by the clock that only counts on. */
    this.taken = new Map();
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

  /** @returns {Item[]} What is on its way. */
  get sending() {
    return this.items.filter((item) => !this.isOld(item));
  }

  /** @returns {Item[]} What is too old to be sent unasked. */
  get old() {
    return this.items.filter((item) => this.isOld(item));
  }

  /** @param {Item} item */
  isOld(item) {
    return this.ageMs(item) > this.oldMs;
  }

  /**
   * A clock that was set back makes nothing younger than no age; one that only counts on may stand while a device sleeps.
   * @param {Item} item
   */
  ageMs(item) {
    const here = this.taken.get(item.client_id);
    return Math.max(0, this.now() - item.at, here === undefined ? 0 : this.counted() - here);
  }

  /** @param {{client_id: string, said: string, fields: [string, string][]}} pressed */
  add(pressed) {
    this.taken.set(pressed.client_id, this.counted());
    this.store.write(this.name, [...this.items, { ...pressed, at: this.now() }]);
    this.onChange();
    this.wake();
  }

  /** Sends something old after all: it counts as pressed now. @param {Item} item */
  renew(item) {
    this.taken.set(item.client_id, this.counted());
    this.change(item, { at: this.now() });
    this.onChange();
    this.wake();
  }

  /** What is on its way and was taken is sent again as it says now. @param {Item} item @param {Partial<Item>} values */
  change(item, values) {
    this.store.write(this.name, this.items.map((other) => (other.client_id === item.client_id ? { ...other, ...values } : other)));
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
      for (let item = this.sending[0]; item; item = this.sending[0]) await this.attempt(item);
    } finally {
      this.isSending = false;
    }
    if (this.items.length === 0) this.isHeldUp = false; // another tab sent it
    this.onChange();
  }

  /** @param {Item} item */
  async attempt(item) {
    this.change(item, { tried: true });
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
    const now = this.items.find((other) => other.client_id === item.client_id) ?? item;
    if (answer.verdict === "taken" && isChanged(now, item)) return;
    this.remove(item);
    this.onAnswer(now, answer);
  }

  /** @param {Item} item */
  remove(item) {
    const rest = this.items.filter((other) => other.client_id !== item.client_id);
    this.taken.delete(item.client_id);
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

/** Whether it says something else now than what was sent. */
function isChanged(now, sent) {
  return JSON.stringify(now.fields) !== JSON.stringify(sent.fields);
}

function performanceNow() {
  return performance.now();
}

function defaultLater(run, ms) {
  return setTimeout(run, ms);
}
