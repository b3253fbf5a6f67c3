// The report to keep, in the language and the units of the page. Its own sentences are
// fetched only here: few people save a report, and nobody needs them to read a jar.
import * as program from "./program.js";
import { fahrenheit, inches, language, number, under } from "./words.js";

const fetched = async (name) => (await (await fetch(`words/${name}.json`)).json()).said || [];

// How the person's country writes numbers, as the page does.
const signs = () => ({ thousands: number(12345)[2], grouped: number(1234).length > 4 ? 4 : 5, decimal: number(0.5, 1)[1] });

/** The report on the jar read last, as the text of one HTML file. */
export async function report() {
  const l = language();
  const said = (await Promise.all(["said.en", ...(l === "en" ? [] : [l, `report.${l}`])].map(fetched))).flat();
  return (await program.ask("report", { inches: inches(), fahrenheit: fahrenheit(), language: l, said, words: under("chart:"), signs: l === "en" ? null : signs() })).html;
}
