// Makes a page live: sends through the outbox, shows what is pushed, and on the desk listens to the keys.
// Without it every page works as plain forms.

import { Ages } from "./page/ages.js";
import { rememberAmount } from "./page/amount.js";
import { foldCallsWhenLeft } from "./page/calls.js";
import { soundAtCalls } from "./page/callsound.js";
import { readWhileTyped } from "./page/asking.js";
import { countDown } from "./page/countdown.js";
import { askWhenDue } from "./page/due.js";
import { forgetAfterAWhile } from "./page/forget.js";
import { showWhatHolds } from "./page/holding.js";
import { Here } from "./page/here.js";
import { Keys } from "./page/keys.js";
import { Line } from "./page/line.js";
import { Live } from "./page/live.js";
import { News } from "./page/news.js";
import { PageKeys } from "./page/pagekeys.js";
import { Outbox } from "./page/outbox.js";
import { ask, jsonOf, sender } from "./page/sending.js";
import { createStore } from "./page/store.js";
import { moveOnStage } from "./page/stage.js";
import { TakingBack } from "./page/takingback.js";
import { askAboutOld, leftOver, outboxName, waitingElsewhere } from "./page/tooold.js";
import { makeRoom } from "./page/room.js";
import { UnsentCalls } from "./page/unsent.js";
import { say } from "./page/words.js";
import { buttonOf, clearTyped, Submitting } from "./page/submitting.js";

const ASKED_OLD_MS = 15 * 60000; // chosen: what was asked three songs ago is asked again, if it is still wanted
const ANSWERED_OLD_MS = 2 * 60000; // chosen: what a hand did two minutes ago may have been followed by something else
const LOOK_MS = 5000; // chosen: as often as ages are written

/** @param {HTMLFormElement} form */
function start(form) {
  const isDesk = form.dataset.live === "/desk";
  const store = createStore(() => window.localStorage);
  const line = new Line(document.getElementById("line"), isDesk ? say("no contact with monreq") : say("no contact with the desk"));
  const ages = new Ages(Number(form.dataset.now));
  const keys = isDesk ? new Keys(new PageKeys(), () => takingBack.press()) : null;
  const lookWhatIsDue = isDesk ? null : askWhenDue(() => ages.nowMs());
  const lookWhatHolds = isDesk ? null : showWhatHolds(() => ages.nowMs());
  const writeLeft = isDesk ? countDown(() => ages.nowMs()) : null;
  const oldMs = isDesk ? ANSWERED_OLD_MS : ASKED_OLD_MS;
  const outbox = new Outbox({
    store,
    name: outboxName(form),
    oldMs,
    send: sender(form, () => renewToken(form)),
    onAnswer(item, answer) {
      answered(form, item, answer);
      submitting.answered(item, answer);
      takingBack?.answered(item, answer);
      if (answer.verdict === "taken") unsentCalls?.taken(item);
      if (answer.confirms) keys?.lookAgain(buttonOf(item));
    },
    onChange: () => shown(),
  });
  const submitting = new Submitting(form, outbox);
  const takingBack = isDesk ? new TakingBack({ outbox, revision: () => live.version.revision, tell, onBack: back }) : null;

  function back(item, isGone) {
    if (isGone) clearTyped(form, item);
    keys?.bringBack(buttonOf(item).split(":")[1], isGone);
  }
  const unsentCalls = isDesk ? null : new UnsentCalls(document.getElementById("unsent-calls"), outbox);

  function shown() {
    submitting.mark();
    line.setToSend(outbox.sending.length, outbox.isHeldUp);
    unsentCalls?.look();
    if (isDesk) askAboutOld(document.getElementById("too-old"), outbox, form, stillElsewhere());
    else letGo(outbox);
  }

  // What a page of another show sends just now comes and goes: only what was found here is told.
  const found = isDesk ? waitingElsewhere(form, store).map((item) => item.client_id) : [];
  const stillElsewhere = () => waitingElsewhere(form, store).filter((item) => found.includes(item.client_id));

  /** Time passes, and other tabs send: what is left unsent changes without a hand here. */
  function lookAtUnsent() {
    const lost = leftOver(form, store, oldMs);
    if (lost) tell(lost);
    shown();
  }

  const live = new Live(form, {
    applied() {
      submitting.mark();
      unsentCalls?.look();
      ages.write();
      writeLeft?.();
      lookWhatIsDue?.();
      lookWhatHolds?.();
      keys?.refresh();
      if (isDesk) shown();
      here.mark();
      news?.look();
      soundNewCalls?.();
    },
    state: (state, words) => line.set(state, words),
    awake: () => outbox.wake(),
    time: (nowMs) => ages.setTime(nowMs),
  });

  const here = new Here(live.socket, isDesk);
  const news = isDesk ? null : new News(form, store);
  const soundNewCalls = isDesk ? soundAtCalls(store) : null;

  rememberAmount(form, store);
  foldCallsWhenLeft();
  makeRoom(document.querySelector(".asked"));
  forgetAfterAWhile(form, () => outbox.items.length > 0);
  ages.write();
  writeLeft?.();
  readWhileTyped(document.getElementById("asked-line"));
  lookAtUnsent();
  addEventListener("storage", lookAtUnsent);
  setInterval(lookAtUnsent, LOOK_MS);
  outbox.drain();
  afterPaint(() => live.connect());
}

/** A phone is told once; whoever still wants it asks again. */
function letGo(outbox) {
  const [item] = outbox.old;
  if (!item) return;
  outbox.remove(item);
  tell(say("There was no contact for so long that this was not sent. Ask again if you still want it."));
}

function tell(message) {
  document.getElementById("not-sent").textContent = message;
}

function answered(form, item, answer) {
  tell(answer.verdict === "refused" ? answer.message : "");
  if (answer.verdict === "taken") clearTyped(form, item);
}

async function renewToken(form) {
  const response = await ask(form.dataset.places);
  const token = response && response.ok && (await jsonOf(response))?.csrf_token;
  if (token) form.elements.namedItem("csrf_token").value = token;
  return Boolean(token);
}

function afterPaint(run) {
  requestAnimationFrame(() => setTimeout(run, 0));
}

const form = document.querySelector("form[data-live]");
if (form) start(form);
else new PageKeys().listen();
moveOnStage(document.querySelector("[data-stage]"));
