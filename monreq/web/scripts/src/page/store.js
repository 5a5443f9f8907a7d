// What a page keeps over a reload. Private windows and sign-in windows of a Wi-Fi may keep nothing, or throw.

/**
 * @param {() => Storage} open Opens the browser's storage; may throw.
 * @returns {{read: (name: string) => any, write: (name: string, value: any) => void, names: () => string[]}}
 */
export function createStore(open) {
  const memory = new Map();
  return {
    names() {
      try {
        return [...new Set([...Object.keys(open()), ...memory.keys()])];
      } catch {
        return [...memory.keys()];
      }
    },
    read(name) {
      try {
        return JSON.parse(open().getItem(name)) ?? memory.get(name) ?? null;
      } catch {
        return memory.get(name) ?? null;
      }
    },
    write(name, value) {
      memory.set(name, value);
      try {
        open().setItem(name, JSON.stringify(value));
        memory.delete(name);
      } catch {
        // Kept in memory: it is lost with the page, and nothing else.
      }
    },
  };
}
