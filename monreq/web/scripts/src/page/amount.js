// The amount that a musician chose last stays chosen.

/**
 * @param {HTMLFormElement} form
 * @param {{read: (name: string) => any, write: (name: string, value: any) => void}} store
 */
export function rememberAmount(form, store) {
  const name = `monreq:amount:${new URL(form.action).pathname}`;
  const choices = Array.from(form.querySelectorAll("input[name=amount]"));
  const kept = choices.find((choice) => choice.value === store.read(name));
  if (kept && !new URLSearchParams(location.search).has("amount")) kept.checked = true;
  for (const choice of choices) choice.addEventListener("change", () => store.write(name, choice.value));
}
