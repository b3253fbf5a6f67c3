// What was done to the lines of a jar, for undo and redo, while the page is open.

const kept = new Map();

/** The history of a jar: entries are {file, name, before, after}. */
export function history(jar) {
  if (!kept.has(jar)) kept.set(jar, new History());
  return kept.get(jar);
}

class History {
  #done = [];
  #undone = [];

  get canUndo() { return this.#done.length > 0; }
  get canRedo() { return this.#undone.length > 0; }

  add(entry) {
    this.#done.push(entry);
    this.#undone = [];
  }

  /** Takes the last entry back and gives it; undefined where there is none. */
  undo() {
    const entry = this.#done.pop();
    if (entry) this.#undone.push(entry);
    return entry;
  }

  redo() {
    const entry = this.#undone.pop();
    if (entry) this.#done.push(entry);
    return entry;
  }

  /** Strikes the last entry out, which was a mistake, and gives it. */
  strike() { return this.#done.pop(); }
}
