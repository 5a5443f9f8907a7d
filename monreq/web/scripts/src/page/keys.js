// The desk's keys. They act on the row in hand, which stays the same one whatever arrives around it, but for a call above it.

import { callToTake, following, mayComeBack, waitingCalls } from "./inhand.js";
import { bringIntoView } from "./intoview.js";
import { click, isShortcut, keyOf } from "./pressed.js";
import { Settling } from "./settling.js";

const QUEUE = "queue";
const ROWS = "#queue > li[data-row]";
const FIELDS = "input, select, textarea";
const FIGURE = "input[name$='-figure']";
const PRESSED = "button, a, summary";
const STAYS = "[data-corrects], [value^='seen:']"; // what is said of a row that waits on
const CORRECTING = "c";

/** Watches the keyboard, and says which row is in hand. */
export class Keys {
  /**
   * @param {import("./pagekeys.js").PageKeys} page Takes the keys that belong to no row.
   * @param {() => boolean} takeBack Takes back what was pressed last; false if what the page shows as answered last is meant.
   */
  constructor(page, takeBack) {
    this.page = page;
    this.takeBack = takeBack;
    this.current = "";
    this.meaning = "";
    this.place = 0;
    this.wasAside = false;
    this.wasCall = false;
    /** @type {Set<string>} */
    this.passed = new Set();
    this.hadFocus = false;
    this.awaited = "";
    this.answered = "";
    this.isDone = false;
    this.settling = new Settling();
    this.stretch = stretch();
    document.addEventListener("keydown", (event) => this.press(event));
    document.addEventListener("keyup", () => this.giveWay());
    document.addEventListener("focusin", (event) => this.follow(event.target));
    document.addEventListener("click", letGo);
    document.addEventListener("click", (event) => this.take(event));
    document.addEventListener("click", (event) => this.await(event.target));
    document.addEventListener("click", (event) => this.note(event.target));
    this.refresh();
  }

  rows() {
    return Array.from(document.querySelectorAll(ROWS));
  }

  row() {
    return document.getElementById(this.current);
  }

  /** Finds the row in hand again after the queue has changed. */
  refresh() {
    const rows = this.rows();
    const before = this.current;
    const { meaning, wasCall } = this;
    const isAnswered = before !== "" && before === this.answered;
    if (isAnswered && this.isDone) this.passed.clear();
    const brought = this.broughtBack(rows);
    const taking = this.toTake(rows);
    this.choose(brought ?? taking ?? this.same(rows) ?? this.next(rows));
    if (this.current === before) return this.settleIfOther(meaning);
    const isOwnDoing = isAnswered && !taking;
    const isExpected = brought || (!wasCall && !this.wasCall && (isOwnDoing || !before));
    if (this.current && !isExpected) this.settling.begin(this.wasCall && !isOwnDoing);
    this.answered = "";
    this.arrive();
  }

  /** What takes the hand from the row that it is on: a call above, or the first row of a song or gap that began. */
  toTake(rows) {
    const first = this.firstOfNew(rows);
    if (isTyping()) return undefined;
    return elementOf(callToTake(rows.map(told), this.current, this.passed)) ?? first;
  }

  /** A call that came while something was typed takes the hand once nothing is typed any more. */
  giveWay() {
    if (!isTyping() && callToTake(this.rows().map(told), this.current, this.passed)) this.refresh();
  }

  /** What Enter does in the row in hand may become something else by itself, as any other row may come into the hand. */
  settleIfOther(meaning) {
    const isOwnDoing = this.answered === this.current || isTyping();
    if (meaning !== this.meaning && !isOwnDoing) {
      this.settling.begin(this.wasCall);
      bringIntoView(this.row());
    }
    if (!this.row()?.matches("[aria-busy='true']")) this.answered = ""; // else this was about something else
    this.settling.mark(this.row());
  }

  /** A song or gap that began has a plan of its own: work begins at its first row. */
  firstOfNew(rows) {
    const before = this.stretch;
    this.stretch = stretch();
    return before === this.stretch ? undefined : rows.find((row) => !isAside(row));
  }

  /** Brings the new row in hand into view, and takes over the focus of the one that is gone. */
  arrive() {
    const row = this.row();
    if (this.hadFocus && document.activeElement.matches(`body, ${ROWS}`)) row?.focus({ preventScroll: true });
    bringIntoView(row);
    this.settling.mark(row);
  }

  /** After an answer of one's own the next row is expected, unless one of the two is a call. */
  note(target) {
    const button = target instanceof Element && target.closest("button[name='do']");
    if (!button) return;
    this.answered = button.closest(ROWS)?.id ?? "";
    this.isDone = !button.matches(STAYS);
    if (this.answered) this.settling.answered();
  }

  /** Notes which row an answer is taken back of, for that one is awaited. */
  await(target) {
    const button = target instanceof Element && target.closest("[data-brings-back]");
    if (button) this.awaited = button.dataset.bringsBack;
  }

  /** The same for an answer that the page does not show; one that was never sent left its row where it is. */
  bringBack(place, isThere) {
    if (isThere) this.answered = "";
    else this.awaited = place;
    const row = document.getElementById(place);
    if (isThere && row) this.goTo(row);
  }

  broughtBack(rows) {
    const row = isTyping() ? undefined : rows.find((one) => one.id === this.awaited && one.id !== this.current);
    if (!row) return undefined;
    this.awaited = "";
    return mayComeBack(rows.map(told), row.id) ? row : undefined;
  }

  same(rows) {
    return rows.find((row) => row.id === this.current && (this.wasAside || !isAside(row)));
  }

  next(rows) {
    return elementOf(following(rows.map(told), this.place));
  }

  /** @param {Element | undefined} row */
  choose(row) {
    for (const other of document.querySelectorAll(`${ROWS}.now`)) if (other !== row) other.classList.remove("now", "settling");
    row?.classList.add("now");
    if (row?.id !== this.current) this.passed.clear();
    this.current = row?.id ?? "";
    this.meaning = row?.querySelector("[data-key='Enter']")?.textContent ?? "";
    this.place = row ? this.rows().filter((one) => !isAside(one)).indexOf(row) : 0;
    this.place = Math.max(this.place, 0);
    this.wasAside = Boolean(row && isAside(row));
    this.wasCall = Boolean(row && isCall(row));
  }

  /** Whoever goes to a row goes past the calls that wait by then. */
  choosePast(row) {
    this.choose(row);
    this.passed = new Set(waitingCalls(this.rows().map(told)).flatMap((call) => call.requests));
  }

  /** Whoever tabs or clicks into a row works on that row. */
  follow(target) {
    const row = target instanceof Element && target.closest(ROWS);
    this.hadFocus = Boolean(row);
    if (row && row.id !== this.current && target.matches(":focus-visible")) this.choosePast(row);
  }

  /** Only once a click is whole: a row that grows under the mouse would be missed by it. */
  take(event) {
    const row = event.detail > 0 && event.target instanceof Element && event.target.closest(ROWS);
    if (row) this.choosePast(row);
  }

  move(step) {
    const rows = this.rows();
    const at = rows.findIndex((row) => row.id === this.current);
    const row = rows[Math.max(0, Math.min(rows.length - 1, at + step))];
    this.choosePast(row);
    this.goTo(row);
  }

  goTo(row) {
    this.awaited = "";
    this.settling.went();
    this.choose(row);
    row?.focus({ preventScroll: true });
    bringIntoView(row);
  }

  /** @param {KeyboardEvent} event */
  press(event) {
    if (event.isComposing || isShortcut(event)) return;
    if (event.repeat) {
      if (event.key === "Enter") event.preventDefault();
      return;
    }
    const field = event.target.closest(FIELDS);
    const isNative = event.target.closest(PRESSED) && (event.key === "Enter" || event.key === " ");
    const key = keyOf(event);
    const acts = field ? this.pressIn(field, event.key) : !isNative && this.pressOutside(key);
    if (acts) event.preventDefault();
  }

  /** @returns {boolean} Whether the key was one of ours. */
  pressIn(field, key) {
    const row = field.closest(ROWS);
    if (key === "Escape") this.cancel(row, field);
    else if (key === "Enter") return row ? this.answerTyped(row, field) : sendLine(field);
    else return false;
    return true;
  }

  cancel(row, field) {
    if (field instanceof HTMLInputElement) field.value = "";
    document.getElementById("not-sent").textContent = "";
    if (row) this.goTo(row);
    else field.blur();
  }

  answerTyped(row, field) {
    const isFigure = field.matches(FIGURE);
    if (isFigure && this.settling.isOn) return true;
    if (isFigure && field.value.trim()) this.answer(row, field);
    else if (!isFigure) click(field.parentElement, "button");
    return true;
  }

  /** @returns {boolean} Whether the key was one of ours. */
  pressOutside(key) {
    const row = this.row();
    const reasons = row?.querySelector("details.reason[open]");
    if (this.page.number === null && reasons) return pressReason(reasons, key);
    return (this.page.number === null && this.pressOnRow(row, key)) || this.page.press(key);
  }

  /** @returns {boolean} Whether the key was one of the row's. */
  pressOnRow(row, key) {
    if (this.settling.isOn && actsOn(row, key)) return true;
    if (row && /^[-+@0-9\u2212]$/.test(key)) return type(row, key);
    const act = {
      Enter: () => this.answer(row),
      Escape: row?.querySelector(FIGURE)?.value && (() => this.cancel(row, row.querySelector(FIGURE))),
      ArrowDown: () => this.move(1),
      ArrowUp: () => this.move(-1),
      u: () => this.takeBack() || click(document, "#decisions [data-key='u']"),
      [CORRECTING]: row?.querySelector("[data-corrects]") && (() => type(row, `${CORRECTING} `)),
    }[key];
    if (act) act();
    const own = !act && keyOfRow(row, key);
    if (own) click(row, own);
    return Boolean(act || own);
  }

  /** A figure that is asked about is looked at where it was typed, unless something else is being typed by now. */
  lookAgain(button) {
    const row = document.getElementById(button.split(":")[1]);
    const field = row?.querySelector(FIGURE);
    if (!field || (isTyping() && document.activeElement !== field)) return;
    if (row !== this.row() && waitingCalls(this.rows().map(told)).length) return; // the hand is needed there
    this.goTo(row);
    field.focus();
    this.settling.begin(); // a second Enter that was on its way has read nothing
    this.settling.mark(row);
  }

  /** A figure that stands in the row is what was done, or corrected, wherever the focus is. */
  answer(row, field = row?.querySelector(FIGURE)) {
    const typed = field?.value.trim() ?? "";
    if (typed.startsWith(CORRECTING)) {
      click(row, "[data-corrects]");
      this.goTo(row); // it stays, and the next key is for it
    } else click(row, typed ? "button[value^='figure:']" : "[data-key='Enter']");
  }
}

/** @returns {string} Where the row says that this key is its own; empty if nowhere. */
function keyOfRow(row, key) {
  const own = row && Array.from(row.querySelectorAll("[data-key]")).find((one) => one.dataset.key === key);
  return own ? `[data-key="${key}"]` : "";
}

/** Whether a key would answer a row, or begin to; going elsewhere, or taking back, is free. */
function actsOn(row, key) {
  return Boolean(keyOfRow(row, key)) || /^(Enter|[-+@0-9\u2212])$/.test(key) || key === CORRECTING;
}

/** While the reasons are open only their letters count: a mistaken key does nothing. */
function pressReason(reasons, key) {
  if (key === "Escape" || key === "x") reasons.open = false;
  else if (key === "w") reasons.querySelector("input").focus();
  else if (/^[a-z]$/.test(key)) click(reasons, `[data-letter="${key}"]`);
  else return false;
  return true;
}

function type(row, text) {
  const input = row.querySelector(FIGURE);
  if (!input) return false;
  input.focus();
  input.value = text;
  return true;
}

/** A field of the desk's form that stands in no row is sent by the button beside it. */
function sendLine(field) {
  const button = field.form?.id === "desk" && field.parentElement.querySelector("button[name='do']");
  if (!button) return false;
  button.click();
  field.blur();
  return true;
}

const elementOf = (row) => (row ? document.getElementById(row.id) : undefined);
const isCall = (row) => row.classList.contains("urgent");
const isAside = (row) => row.classList.contains("aside");
const requestsOf = (row) => row.querySelector("input[name$='-requests']").value.split(" ");
const told = (row) => ({ id: row.id, isCall: isCall(row), isAside: isAside(row), requests: requestsOf(row) });
const stretch = () => document.getElementById(QUEUE)?.dataset.stretch;

function isTyping() {
  const field = document.activeElement;
  if (document.querySelector(`${ROWS}.now details.reason[open]`)) return true;
  return field instanceof HTMLSelectElement || (field instanceof HTMLInputElement && field.value !== "");
}

/** A button that kept the focus after a click would be pressed again by the next Enter. */
function letGo(event) {
  if (event.detail > 0 && event.target instanceof Element) event.target.closest("button")?.blur();
}
