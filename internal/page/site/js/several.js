// What is done to several jars at once.
import * as desk from "./desk.js";
import { el } from "./dom.js";
import { nameOf, openFiles, saveFiles } from "./jarfile.js";
import { confirm, notice, progress, toast } from "./parts.js";
import { standing } from "./plan.js";
import { capital } from "./remedy.js";
import * as store from "./store.js";
import { why } from "./why.js";
import { counted, number, t } from "./words.js";

/** Whether a jar waits to be read: all that is due is there, and nobody read it yet. */
export const waits = (jar, at) => at.usable.length > 0 && !at.untimed.length && !at.twins && (at.enough || !at.next)
  && !at.photos.some((p) => p.note.refused) && !desk.fresh(jar, at.names.map((name) => ({ name })));

/**
 * Reads jars one after the other; in place shows how far that is. after(id) is called as one
 * is read, stopped() says whether to go on.
 */
export async function readAll(ids, place, after, stopped) {
  const bar = progress(t("several-reading"));
  place.replaceChildren(bar.element);
  let read = 0, refused = 0;
  for (const [i, id] of ids.entries()) {
    const jar = await store.jar(id);
    if (!jar) continue;
    const told = () => bar.tell(i, ids.length, t("several-reading-jar", { name: nameOf(jar), n: number(i + 1), all: number(ids.length) }));
    told();
    try {
      if (stopped()) return;
      // It may have changed since it was counted.
      if (waits(jar, await standing(jar))) {
        const answer = await desk.read(jar, await store.photos(id), (done, all) => bar.tell(i + done / (all + 1), ids.length));
        if (answer.reading) read++;
        else refused++;
      }
    } catch (e) {
      if (e instanceof store.Full) {
        place.replaceChildren(notice("bad", el("p", { class: "strong" }, t("full")), el("p", {}, t("full-how"))));
        return;
      }
      refused++;
    }
    if (stopped()) return;
    await after(id);
  }
  place.replaceChildren(notice(refused ? "warn" : "good", el("p", { class: "strong" }, counted("several-read", read)), refused ? el("p", {}, counted("several-refused", refused)) : null));
}

/** Saves jars to one file, and tells how far that is in place. */
export async function keepAll(ids, place) {
  const bar = progress(t("saving"));
  place.replaceChildren(bar.element);
  try {
    const left = await saveFiles(ids, (done, all) => bar.tell(done, all));
    toast(counted("several-saved", ids.length));
    place.replaceChildren(left.length ? notice("warn", el("p", {}, t("several-left")), el("ul", { class: "dots" }, left.map((l) => el("li", {}, t("of-file", { file: l.jar, text: l.photos.join(", ") }))))) : "");
  } catch (e) {
    place.replaceChildren(notice("bad", el("p", {}, t("not-saved", { reason: capital(why(e)) }))));
  }
}

/** Removes jars, if the person means it; says whether they are gone. */
export async function removeAll(ids) {
  const answer = await confirm(counted("several-remove-title", ids.length), [t("several-remove-what")], [[t("remove"), "bad", true]]);
  if (!answer) return false;
  for (const id of ids) await store.remove(id);
  toast(counted("several-removed", ids.length));
  return true;
}

/** Opens files of jars and tells in place what became of them; gives the jars that are new. */
export async function openAll(files, place) {
  const bar = progress(t("several-opening"));
  place.replaceChildren(bar.element);
  const { opened, here, failed } = await openFiles(files, (done, all) => bar.tell(done, all));
  place.replaceChildren(...failed.map(({ file, reason }) => notice("bad", el("p", { class: "strong" }, t("home-not-opened", { file })), el("p", {}, reason))),
    here.length ? notice("", el("p", {}, counted("several-here", here.length))) : "");
  if (opened.length > 1) toast(counted("several-opened", opened.length));
  return { opened, here, failed };
}

/** Where jars are kept: this browser, and at this address only. */
export const kept = () => t("kept-at", { address: location.host || location.origin });
