// A sound at the desk for each new urgent call, if it is wanted: off until somebody ticks it, and remembered here.

const NAME = "monreq:callsound";
const TONES_HZ = [880, 660]; // chosen: two falling tones, unlike a ring of feedback, which is one
const TONE_S = 0.18;
const LOUDNESS = 0.4; // chosen: of full scale; how loud that is, the laptop says

/**
 * @param {{read: (name: string) => any, write: (name: string, value: any) => void}} store
 * @returns {() => void} To be called whenever the queue has changed.
 */
export function soundAtCalls(store) {
  const holder = document.getElementById("call-sound");
  const box = holder?.querySelector("input");
  const Context = window.AudioContext ?? window.webkitAudioContext;
  if (!box || !Context) return () => {};
  /** @type {AudioContext | null} */
  let context = null;
  let known = calls();
  holder.hidden = false;
  box.checked = store.read(NAME) === true;

  /** A browser lets nothing sound before a person has pressed something on the page. */
  function wake() {
    if (!box.checked) return;
    context ??= new Context();
    context.resume().then(show, show);
  }

  function show() {
    holder.querySelector("span").hidden = !box.checked || context?.state === "running";
  }

  box.addEventListener("change", () => {
    store.write(NAME, box.checked);
    if (box.checked) wake();
    show();
  });
  for (const act of ["click", "keydown"]) document.addEventListener(act, wake);
  show();

  return () => {
    const now = calls();
    const isNew = [...now].some((call) => !known.has(call));
    known = now;
    if (isNew && box.checked && context?.state === "running") sound(context);
  };
}

/** @returns {Set<string>} The ids of the calls that wait. */
function calls() {
  const fields = document.querySelectorAll("#queue > .urgent:not(.aside) > input[name$='-requests']");
  return new Set(Array.from(fields, (field) => field.value.split(" ")).flat());
}

/** @param {AudioContext} context */
function sound(context) {
  document.documentElement.dataset.sounded = String(Number(document.documentElement.dataset.sounded ?? 0) + 1);
  TONES_HZ.forEach((hertz, place) => {
    const [tone, volume] = [context.createOscillator(), context.createGain()];
    const begin = context.currentTime + place * TONE_S;
    tone.frequency.value = hertz;
    volume.gain.setValueAtTime(LOUDNESS, begin);
    volume.gain.linearRampToValueAtTime(0, begin + TONE_S);
    tone.connect(volume).connect(context.destination);
    tone.start(begin);
    tone.stop(begin + TONE_S);
  });
}
