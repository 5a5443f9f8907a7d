// Ids for what a page sends. crypto.randomUUID does not exist on plain http pages of a local network.

const LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/** @returns {string} An id that was never used: 22 letters out of 64, which is 132 bits. */
export function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(22));
  return Array.from(bytes, (byte) => LETTERS[byte % 64]).join("");
}
