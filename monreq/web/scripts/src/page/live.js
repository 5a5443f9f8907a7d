// The live connection: keeps the page at the show's revision, by pushes, and by reading again after any doubt.

import { io } from "socket.io-client";
import { apply } from "./morph.js";
import { ask, jsonOf } from "./sending.js";
import { say } from "./words.js";

const ASLEEP_MS = 10000; // chosen: a phone that slept so long has lost its connection, whatever it says
const LOOK_MS = 2000;
const LONGEST_PAUSE_MS = 5000;
const ROOM_MS = 5000; // how often a page that found no room for its connection tries again, and reads meanwhile
const MAY_TRY_AGAIN = ["failed", "too_many_pages"];

/**
 * What moves neither the revision nor the moment is of the laptop, not of the show.
 * @typedef {{revision: number, as_of?: number, after: number, after_as_of?: number, client_ids: string[],
 *   fragments: Record<string, string>}} Push
 * @typedef {object} Told
 * @property {() => void} applied Places of the page were changed.
 * @property {(state: "live" | "reading" | "reconnecting" | "refused", words?: string) => void} state
 * @property {() => void} awake Contact is to be had again, or may be.
 * @property {(nowMs: number) => void} time The server told its time.
 */

/** One page's connection. */
export class Live {
  /**
   * @param {HTMLFormElement} form
   * @param {Told} told
   */
  constructor(form, told) {
    this.form = form;
    this.told = told;
    this.revision = Number(form.dataset.revision);
    this.asOf = Number(form.dataset.asOf ?? 0);
    this.wasCutOff = false;
    this.isReading = false;
    this.isToReadAgain = false;
    this.isReadingInstead = false;
    /** @type {Push[]} */
    this.held = [];
    this.failures = 0;
    this.seenAt = Date.now();
    this.hiddenAt = 0;
    this.socket = io(form.dataset.live, {
      transports: ["websocket", "polling"],
      tryAllTransports: true,
      reconnectionDelay: 500,
      reconnectionDelayMax: 5000,
      randomizationFactor: 0.8,
      timeout: 5000,
      autoConnect: false,
      auth: { mix: form.dataset.mix, show: form.elements.namedItem("show")?.value, language: document.documentElement.lang },
    });
    this.listen();
    this.watch();
  }

  connect() {
    this.socket.connect();
  }

  listen() {
    const { socket } = this;
    socket.on("at", (said) => this.at(said));
    socket.on("changed", (push) => this.receive(push));
    // Who is there has no revision: it comes whole, and the next one heals one that was lost.
    socket.on("presence", ({ fragments }) => this.put(fragments));
    // The page itself says why it is not open any more, and whom to ask.
    socket.on("revoked", () => location.reload());
    socket.on("connect", () => this.told.awake());
    socket.on("disconnect", (reason) => {
      this.wasCutOff = true;
      this.told.state("reconnecting");
      if (reason === "io server disconnect") setTimeout(() => socket.connect(), LOOK_MS);
    });
    socket.on("connect_error", (error) => this.failed(error));
  }

  /** Without a live connection a page that may try again reads: nobody looks at what is not so any more. */
  failed(error) {
    const why = this.socket.active ? "" : (error.data?.error ?? "");
    const isRefused = why && !MAY_TRY_AGAIN.includes(why);
    if (isRefused) return this.told.state("refused", error.message);
    if (!this.isReadingInstead) this.told.state("reconnecting");
    this.read();
    if (!this.socket.active) setTimeout(() => this.socket.connect(), why === "failed" ? LOOK_MS : ROOM_MS);
  }

  /** From where on every change is pushed to this connection; what is of the laptop may have been missed while it was cut off. */
  at({ revision, as_of: asOf = 0 }) {
    const isThere = revision === this.revision && asOf === this.asOf;
    if (isThere && !this.wasCutOff && !this.isReading) this.told.state("live");
    else this.read();
    this.wasCutOff = false;
  }

  /** @param {Push} push */
  receive(push) {
    const { revision, as_of: asOf = 0, after, after_as_of: afterAsOf = 0 } = push;
    const isOfLaptop = revision === after && asOf === afterAsOf && after <= this.revision;
    const isNext = after === this.revision && afterAsOf === this.asOf;
    const isPartlyKnown = after < this.revision && this.revision < revision;
    const isKnown = revision < this.revision || (revision === this.revision && asOf <= this.asOf);
    if (this.isReading) this.held.push(push);
    else if (isOfLaptop) this.put(push.fragments);
    else if (isNext || isPartlyKnown) this.show(push);
    else if (!isKnown) this.read();
  }

  show({ revision, as_of: asOf = 0, fragments }) {
    this.revision = revision;
    this.asOf = asOf;
    this.put(fragments);
  }

  put(fragments) {
    apply(fragments);
    this.told.applied();
  }

  /** Reads the whole page's places again. What is pushed meanwhile is looked at afterwards. */
  async read() {
    if (this.isReading) {
      this.isToReadAgain = true;
      return;
    }
    this.isReading = true;
    do {
      this.isToReadAgain = false;
      const response = await ask(this.form.dataset.places);
      const places = response && response.ok && (await jsonOf(response));
      if (places && places.fragments) this.take(places);
      else if (isOver(response)) await this.end(response);
      else await this.pauseBeforeNext();
    } while (this.isToReadAgain);
    this.isReading = false;
    for (const push of this.held.splice(0)) this.receive(push);
  }

  take(places) {
    this.failures = 0;
    if (places.now_ms) this.told.time(places.now_ms);
    this.show(places);
    this.isReadingInstead = !this.socket.connected;
    this.told.state(this.socket.connected ? "live" : "reading");
  }

  async end(response) {
    const said = await jsonOf(response);
    this.told.state("refused", said?.message ?? say("Load this page again."));
  }

  async pauseBeforeNext() {
    this.isToReadAgain = true;
    this.isReadingInstead = false;
    this.told.state("reconnecting");
    const longest = Math.min(LONGEST_PAUSE_MS, 500 * 2 ** this.failures);
    this.failures = Math.min(this.failures + 1, 10);
    await new Promise((resolve) => setTimeout(resolve, longest * (0.5 + Math.random() / 2)));
  }

  /** Everything after which a page cannot know what it missed. */
  watch() {
    document.addEventListener("visibilitychange", () => {
      if (document.hidden) this.hiddenAt = Date.now();
      else this.wake(Date.now() - this.hiddenAt > ASLEEP_MS);
    });
    addEventListener("online", () => this.wake(true));
    addEventListener("pagehide", () => this.socket.disconnect());
    addEventListener("pageshow", (event) => event.persisted && this.wake(true));
    setInterval(() => {
      const sleptMs = Date.now() - this.seenAt - LOOK_MS;
      this.seenAt = Date.now();
      if (sleptMs > ASLEEP_MS && !document.hidden) this.wake(true);
    }, LOOK_MS);
  }

  /** @param {boolean} isStale Whether the connection may be dead without knowing it. */
  wake(isStale) {
    if (isStale) this.socket.disconnect().connect();
    this.read();
    this.told.awake();
  }
}

/** A page whose code was replaced gets nothing any more: asking again would not help. */
function isOver(response) {
  return Boolean(response) && response.status >= 400 && response.status < 500 && response.status !== 429;
}
