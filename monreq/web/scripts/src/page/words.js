// Says the script's few texts in the page's language: the page brings them along, the English sentence is the key.

/** @type {Record<string, string> | null} */
let brought = null;

/**
 * @param {string} text With `%(name)s` where a value goes.
 * @param {Record<string, string | number>} [values]
 * @returns {string}
 */
export function say(text, values = {}) {
  const said = texts()[text] ?? text;
  return said.replace(/%\((\w+)\)s/g, (_, name) => String(values[name] ?? ""));
}

/** @returns {Record<string, string>} */
function texts() {
  if (brought) return brought;
  const holder = globalThis.document?.querySelector("[data-texts]");
  brought = holder ? JSON.parse(holder.dataset.texts) : {};
  return brought;
}
