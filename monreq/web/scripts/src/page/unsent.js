// A call that is on its way stands on the phone at once, with what to do meanwhile: without Wi-Fi nobody else has heard it.

import { buttonOf } from "./submitting.js";
import { say } from "./words.js";

const CALL = /^call-/;

/** Shows the calls that were not sent yet. */
export class UnsentCalls {
  /**
   * @param {HTMLElement} place
   * @param {import("./outbox.js").Outbox} outbox
   */
  constructor(place, outbox) {
    this.place = place;
    this.outbox = outbox;
    this.shown = "";
  }

  look() {
    const calls = [...new Set(this.outbox.sending.map(buttonOf).filter((button) => CALL.test(button)))];
    this.draw(calls, say("Not sent yet: %(calls)s. Shout or wave.", { calls: namesOf(calls) }));
  }

  /** Until the page has heard from the desk that the call waits there, it goes on standing here. */
  taken(item) {
    const call = buttonOf(item);
    if (!CALL.test(call) || this.place.hasChildNodes() || document.querySelector("#calls .called")) return;
    this.draw([call], say("Desk called: %(calls)s", { calls: namesOf([call]) }));
  }

  draw(calls, words) {
    const shown = calls.length ? words : "";
    if (shown === this.shown) return;
    this.shown = shown;
    this.place.replaceChildren(...(calls.length ? [box(calls, words)] : []));
  }
}

function box(calls, words) {
  const hatch = element("div", "hatch");
  const called = element("div", "called");
  const advice = new Set(calls.map((call) => choiceOf(call)?.dataset.advice).filter(Boolean));
  called.append(element("strong", "", words), ...Array.from(advice, (line) => element("span", "", line)));
  called.dataset.calls = calls.join(" ");
  hatch.append(called);
  return hatch;
}

function element(tag, name, words = "") {
  const made = document.createElement(tag);
  made.className = name;
  made.textContent = words;
  return made;
}

function choiceOf(call) {
  return document.querySelector(`.call-choices button[value="${call}"]`);
}

function namesOf(calls) {
  return calls.map((call) => choiceOf(call)?.dataset.called ?? "").join(say(", "));
}
