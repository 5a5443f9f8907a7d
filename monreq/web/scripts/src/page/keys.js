// The desk's keys. They act on the current row, which stays the same one whatever arrives above it.

const ROWS = "#queue > li[data-row]";
const FIELDS = "input, select, textarea";
const FIGURE = "input[name$='-figure']";
const PRESSED = "button, a, summary";

/** Watches the keyboard, and says which row is the current one. */
export class Keys {
  constructor() {
    this.current = "";
    this.place = 0;
    this.wasAside = false;
    this.hadFocus = false;
    this.awaited = "";
    this.urgent = new Set(this.rows().filter(isUrgent).map(idOf));
    document.addEventListener("keydown", (event) => this.press(event));
    document.addEventListener("focusin", (event) => this.follow(event.target));
    document.addEventListener("click", letGo);
    document.addEventListener("click", (event) => this.await(event.target));
    this.refresh();
  }

  rows() {
    return Array.from(document.querySelectorAll(ROWS));
  }

  row() {
    return document.getElementById(this.current);
  }

  /** Finds the current row again after the queue has changed. */
  refresh() {
    const rows = this.rows();
    const calls = rows.filter(isUrgent);
    const call = calls.find((row) => !this.urgent.has(row.id));
    this.urgent = new Set(calls.map(idOf));
    const before = this.current;
    this.choose(call && !isTyping() ? call : (this.broughtBack(rows) ?? this.same(rows) ?? this.next(rows)));
    if (this.current !== before) this.arrive();
  }

  /** Brings the new current row into view, and takes over the focus of the one that is gone. */
  arrive() {
    const row = this.row();
    if (this.hadFocus && document.activeElement.matches(`body, ${ROWS}`)) row?.focus({ preventScroll: true });
    row?.scrollIntoView({ block: "nearest" });
  }

  /** Whoever takes an answer back wants to answer that row anew. */
  await(target) {
    const button = target instanceof Element && target.closest("[data-brings-back]");
    if (button) this.awaited = button.dataset.bringsBack;
  }

  broughtBack(rows) {
    const row = isTyping() ? undefined : rows.find((one) => one.id === this.awaited && one.id !== this.current);
    if (row) this.awaited = "";
    return row;
  }

  same(rows) {
    return rows.find((row) => row.id === this.current && (this.wasAside || !isAside(row)));
  }

  /** The row that follows one that was answered; set aside rows come last of all. */
  next(rows) {
    const waiting = rows.filter((row) => !isAside(row));
    return waiting[Math.min(this.place, waiting.length - 1)];
  }

  /** @param {Element | undefined} row */
  choose(row) {
    for (const other of document.querySelectorAll(`${ROWS}.now`)) if (other !== row) other.classList.remove("now");
    row?.classList.add("now");
    this.current = row?.id ?? "";
    this.place = row ? this.rows().filter((one) => !isAside(one)).indexOf(row) : 0;
    this.place = Math.max(this.place, 0);
    this.wasAside = Boolean(row && isAside(row));
  }

  /** Whoever tabs or clicks into a row works on that row. */
  follow(target) {
    const row = target instanceof Element && target.closest(ROWS);
    this.hadFocus = Boolean(row);
    if (row) this.choose(row);
  }

  move(step) {
    const rows = this.rows();
    const at = rows.findIndex((row) => row.id === this.current);
    this.goTo(rows[Math.max(0, Math.min(rows.length - 1, at + step))]);
  }

  goTo(row) {
    this.choose(row);
    row?.focus({ preventScroll: true });
    row?.scrollIntoView({ block: "nearest" });
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
    const acts = field ? this.pressIn(field, event) : !isNative && this.pressOnRow(event);
    if (acts) event.preventDefault();
  }

  /** @returns {boolean} Whether the key was one of ours. */
  pressIn(field, event) {
    const row = field.closest(ROWS);
    if (row && event.key === "Escape") this.cancel(row, field);
    else if (row && event.key === "Enter") this.answerTyped(row, field);
    else return false;
    return true;
  }

  cancel(row, field) {
    if (field instanceof HTMLInputElement) field.value = "";
    this.goTo(row);
  }

  answerTyped(row, field) {
    const isFigure = field.id.endsWith("-figure");
    if (isFigure && !field.value.trim()) return;
    click(row, isFigure ? "button[value^='figure:']" : "button[value^='not_done:']");
  }

  /** @returns {boolean} Whether the key was one of ours. */
  pressOnRow(event) {
    const row = this.row();
    const { key } = event;
    if (row && /^[-+@0-9\u2212]$/.test(key)) return this.type(row, key);
    const act = {
      Enter: () => this.answer(row),
      s: () => click(row, "[data-key='s']"),
      d: () => click(row, "[data-key='d']"),
      r: () => click(row, "[data-key='r']"),
      "=": () => click(row, "[data-key='=']"),
      u: () => click(document, "#decisions [data-key='u']"),
      x: () => row?.querySelector("select[name$='-reason']")?.focus(),
      ArrowDown: () => this.move(1),
      j: () => this.move(1),
      ArrowUp: () => this.move(-1),
      k: () => this.move(-1),
    }[key.length === 1 ? key.toLowerCase() : key];
    act?.();
    return Boolean(act);
  }

  /** A figure that stands in the row is what was done, wherever the focus is. */
  answer(row) {
    const figure = row?.querySelector(FIGURE);
    click(row, figure?.value.trim() ? "button[value^='figure:']" : "[data-key='Enter']");
  }

  type(row, key) {
    const input = row.querySelector(FIGURE);
    if (!input) return false;
    input.focus();
    input.value = key;
    return true;
  }
}

const idOf = (row) => row.id;
const isUrgent = (row) => row.classList.contains("urgent");
const isAside = (row) => row.classList.contains("aside");

function isTyping() {
  const field = document.activeElement;
  return field instanceof HTMLSelectElement || (field instanceof HTMLInputElement && field.value !== "");
}

/** A button that kept the focus after a click would be pressed again by the next Enter. */
function letGo(event) {
  if (event.detail > 0 && event.target instanceof Element) event.target.closest("button")?.blur();
}

/** Some keyboards need a modifier for @; every other combination is the browser's. */
function isShortcut(event) {
  if (event.key === "@") return event.metaKey;
  return event.ctrlKey || event.altKey || event.metaKey;
}

/** A row whose answer is on its way is not answered again. */
function click(within, selector) {
  const button = within?.querySelector(selector);
  const isBusy = button?.closest("[aria-busy='true']");
  if (button && !isBusy) button.click();
}
