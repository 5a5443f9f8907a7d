// Which key was pressed, whatever the layout of the keyboard, and whether it was meant for the page.

const LATIN = /^[\x20-\x7e\u2212]$/;
const CODES = {
  Minus: "-",
  NumpadSubtract: "-",
  NumpadAdd: "+",
  Equal: "=",
  Comma: ",",
  Period: ".",
  Slash: "?",
};

/**
 * @param {Pick<KeyboardEvent, "key" | "code" | "shiftKey">} event
 * @returns {string} The key as it is printed on a Latin keyboard, letters small; where the layout gives a letter of
 *   another script, the one that its place has.
 */
export function keyOf({ key, code = "", shiftKey = false }) {
  if (LATIN.test(key)) return key.toLowerCase();
  if (key.length > 1 && key !== "Process" && key !== "Unidentified") return key;
  const letter = /^Key([A-Z])$/.exec(code);
  if (letter) return letter[1].toLowerCase();
  const digit = /^(?:Digit|Numpad)(\d)$/.exec(code);
  if (digit) return shiftKey && digit[1] === "2" ? "@" : digit[1];
  return shiftKey && code === "Equal" ? "+" : (CODES[code] ?? key);
}

/** Some keyboards need a modifier for @; every other combination is the browser's. */
export function isShortcut(event) {
  if (event.key === "@") return event.metaKey;
  return event.ctrlKey || event.altKey || event.metaKey;
}

/** Presses a button as a mouse would; one whose answer is on its way is not pressed again. */
export function click(within, selector) {
  const button = within?.querySelector(selector);
  const isBusy = button?.closest("[aria-busy='true']");
  if (button && !isBusy) button.click();
}
