// What a line would change, while it is dragged.
import * as desk from "../desk.js";
import { isBox, mark, marksOf, placed } from "../lines.js";
import * as program from "../program.js";

/**
 * Previews asks the program what it would read were a line where it is dragged to, one
 * place at a time; the newest wins. The editor gives jar, photos, file and strip as
 * they are, answer() and closed(), settled() which waits for a reading that runs, and takes
 * what comes: sketched(answer) where there is no reading, read(answer) else; draw() draws
 * the charts of it.
 */
export class Previews {
  #editor; #wanted; #base; #running;
  /** Why the place that a line was dragged to last cannot be; empty where it can. */
  mistaken = "";

  constructor(editor) { this.#editor = editor; }

  /** A line is dragged. */
  moving(name, at) {
    if (isBox(name)) return;
    if (!this.#base) this.#editor.strip.hold(true);
    this.#base ||= this.#editor.answer();
    this.#wanted = { name, at };
    if (!this.#running) this.#running = this.#run().finally(() => { this.#running = undefined; });
  }

  /** It was let go where it counts. */
  dropped() { this.#wanted = this.#base = undefined; }

  /** It was let go without counting: the answer from before, when the last preview has come. */
  async cancelled() {
    const base = this.#base;
    this.dropped();
    await this.#running;
    this.right();
    return base;
  }

  /** What was mistaken no longer stands. */
  right() {
    this.mistaken = "";
    this.#editor.strip.element.classList.remove("mistaken");
  }

  async #run() {
    const { jar, file, settled, closed } = this.#editor;
    while (this.#wanted && !closed()) {
      const { name, at } = this.#wanted;
      this.#wanted = undefined;
      const record = structuredClone(jar.record), marks = marksOf(record, file);
      mark(record, file, { ...marks, lines: placed(marks.lines, name, at) });
      try {
        await settled();
        await this.#of(record);
      } catch {
        return; // the photos are not open yet: the reading after the drag tells
      }
    }
  }

  async #of(record) {
    const { jar, photos, strip } = this.#editor;
    const began = performance.now(), { refused } = this.#editor.answer();
    // The charts are asked for at once, so that the worker need not wait.
    const asked = refused ? desk.sketch(jar, photos, record) : program.preview(record);
    const drawn = refused ? undefined : this.#editor.draw();
    const answer = await asked;
    this.mistaken = answer.mistake ?? (answer.refused ? (await program.told(answer)).refused.text : "");
    strip.element.classList.toggle("mistaken", Boolean(this.mistaken));
    if (this.mistaken) return;
    if (refused) { this.#editor.sketched({ refused, lines: answer.lines }); return; }
    performance.measure("preview", { start: began });
    this.#editor.read(answer);
    await drawn;
    performance.measure("preview-drawn", { start: began });
  }
}
