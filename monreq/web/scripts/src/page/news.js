// What came while a phone was asleep stays marked as new until its strip was on the screen for a while.

const SEEN_MS = 4000; // chosen: as long as one reads a strip and the one below

/** Remembers what each strip said when it was last seen. */
export class News {
  /**
   * @param {HTMLFormElement} form
   * @param {{read: (name: string) => any, write: (name: string, value: any) => void}} store
   */
  constructor(form, store) {
    this.store = store;
    this.name = `monreq:seen:${new URL(form.action).pathname}`;
    this.word = form.dataset.new;
    this.seen = new Map(Object.entries(store.read(this.name) ?? {}));
    this.timers = new Map();
    this.onScreen = new Set();
    this.observer = new IntersectionObserver((changes) => changes.forEach((one) => this.moved(one)));
    document.addEventListener("visibilitychange", () => this.look());
    if (!this.seen.size) this.keep(strips());
    this.look();
  }

  /** Looks at all strips anew. */
  look() {
    for (const strip of strips()) {
      this.observer.observe(strip);
      this.mark(strip);
    }
  }

  moved({ target, isIntersecting }) {
    if (isIntersecting) this.onScreen.add(target.id);
    else this.onScreen.delete(target.id);
    this.mark(target);
  }

  mark(strip) {
    const isNew = this.isNew(strip);
    this.write(strip, isNew);
    this.markGroup(strip.closest(".group"));
    const isRead = isNew && !document.hidden && this.onScreen.has(strip.id);
    if (!isRead) this.stop(strip.id);
    else if (!this.timers.has(strip.id)) this.timers.set(strip.id, setTimeout(() => this.read(strip.id), SEEN_MS));
  }

  /** What waits, or is gone, is the musician's own doing, and no news. */
  isNew(strip) {
    const words = strip.classList.contains("waits") ? "" : said(strip);
    return words !== "" && words !== (this.seen.get(strip.id) ?? "");
  }

  /** What is new in a group that is folded is told by the group. */
  markGroup(group) {
    const [head, ...within] = Array.from(group?.querySelectorAll(".strip") ?? []);
    if (!head) return;
    const isFoldedIn = within.some((strip) => strip.querySelector("b[data-new]") && !strip.getClientRects().length);
    this.write(head, isFoldedIn || this.isNew(head));
  }

  write(strip, isNew) {
    const tape = strip.querySelector(".tape b");
    if (isNew) tape.dataset.new = this.word;
    else delete tape.dataset.new;
  }

  stop(id) {
    clearTimeout(this.timers.get(id));
    this.timers.delete(id);
  }

  read(id) {
    this.stop(id);
    const strip = document.getElementById(id);
    if (!strip) return;
    this.keep([strip]);
    this.mark(strip);
  }

  keep(all) {
    for (const strip of all) this.seen.set(strip.id, said(strip));
    this.store.write(this.name, Object.fromEntries(this.seen));
  }
}

const strips = () => Array.from(document.querySelectorAll("#strips .strip")).filter((strip) => strip.querySelector(".tape b"));

/** What stands under a strip's name, without what a group says of its sources: they say it themselves. */
function said(strip) {
  return Array.from(strip.querySelectorAll(".tape small:not(.members)"), (line) => line.textContent).join("\n");
}
