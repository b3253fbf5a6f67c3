// Charts are drawn by the program; this brings them into the page.
import { drawing, el, unique } from "./dom.js";
import * as program from "./program.js";
import { capital } from "./remedy.js";
import { t } from "./words.js";

let styled;

// The charts' colours come with the program, for light and dark alike.
function style() {
  styled ||= program.ask("chart-style").then(({ css }) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  }).catch(() => { styled = undefined; }); // the charts keep their colours for light ground
  return styled;
}

/**
 * A place for a chart of a kind: "triangle", "settling", "sizes", "shares" or
 * "intervals", or "stacked" of several jars. Its update(request) draws {reading} or {jars}, or with neither
 * what was read or previewed last, for the room in CSS pixels that it will have, and gives false where there is nothing to show.
 * Its seen() says whether it is on the screen.
 */
export function chart(kind) {
  const figure = el("figure", { class: `figure ${kind}` });
  const id = unique(kind);
  const update = async (request = {}, room = figure.clientWidth) => {
    style();
    const width = Math.min(Math.max(room || 400, 320), 560);
    const { svg, empty } = await program.ask("chart", { kind, id, width, ...request });
    figure.replaceChildren(drawing(svg));
    return !empty;
  };
  const seen = () => {
    const { top, bottom } = figure.getBoundingClientRect();
    return bottom > 0 && top < window.innerHeight;
  };
  return { figure, update, seen };
}

/** The name of a texture class in the person's language. */
export const className = (name) => capital(t(`class.${name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "-")}`));
