// Sends one item of the outbox as the form would have been sent, and reads what the answer means.

import { say } from "./words.js";

const PATIENCE_MS = 8000; // chosen: a connection that was dead for so long will not come back to life

/**
 * @typedef {import("./outbox.js").Item} Item
 * @typedef {import("./outbox.js").Answer} Answer
 */

/** @type {Answer} */
const LATER = { verdict: "later" };

/**
 * @param {HTMLFormElement} form Gives the address and, at the moment of sending, the token.
 * @param {() => Promise<boolean>} renewToken Puts a new token into the form; false if it could not.
 * @returns {(item: Item) => Promise<Answer>}
 */
export function sender(form, renewToken) {
  return async (item) => {
    const response = await post(form, item);
    if (!response || !(await isTokenStale(response))) return read(response);
    return (await renewToken()) ? read(await post(form, item)) : LATER;
  };
}

/** @returns {Promise<Response | null>} Null if nobody answered. */
async function post(form, item) {
  const body = new URLSearchParams(item.fields);
  body.set("client_id", item.client_id);
  body.set("csrf_token", form.elements.namedItem("csrf_token").value);
  return ask(form.action, { method: "POST", body });
}

/**
 * Fetches with an end; no redirect is followed, since the ones that come are those of a Wi-Fi's sign-in page.
 * @returns {Promise<Response | null>}
 */
export async function ask(address, options = {}) {
  const ending = new AbortController();
  const timer = setTimeout(() => ending.abort(), PATIENCE_MS);
  try {
    const headers = { Accept: "application/json" };
    return await fetch(address, {
      ...options,
      headers,
      redirect: "manual",
      cache: "no-store",
      credentials: "same-origin",
      signal: ending.signal,
    });
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

/** @returns {Promise<any>} The JSON of an answer, null if it is something else. */
export async function jsonOf(response) {
  try {
    return await response.clone().json();
  } catch {
    return null;
  }
}

async function isTokenStale(response) {
  if (response.status !== 400) return false;
  const said = await jsonOf(response);
  return String(said?.error).startsWith("csrf");
}

/** @returns {Promise<Answer>} */
async function read(response) {
  if (!response || response.status === 0 || response.status >= 500 || response.status === 408) return LATER;
  const said = await jsonOf(response);
  if (said?.error === "for_another_show") return outOfDate();
  if (response.ok) return said ? { verdict: "taken", ...(said.revision ? { revision: said.revision } : {}) } : LATER;
  const waitS = Number(response.headers.get("Retry-After"));
  if (response.status === 429 && waitS > 0) return { verdict: "later", waitMs: waitS * 1000 };
  const asked = said?.confirms ? { confirms: said.confirms } : {};
  if (response.status >= 400) return { verdict: "refused", message: said?.message ?? unclear(response), ...asked };
  return LATER;
}

/** The page is of a show that was restored since, or that this browser is not at any more: loaded anew it says what was not sent. */
function outOfDate() {
  location.reload();
  return LATER;
}

function unclear(response) {
  return say("This was not taken (%(status)s). Load the page again.", { status: response.status });
}
