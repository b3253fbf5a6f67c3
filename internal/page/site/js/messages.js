// Messages of the program: {key, args}.

/** A message and all that stand in it, outermost first. */
export function* messages(m) {
  if (!m || typeof m !== "object") return;
  if (m.key) yield m;
  for (const part of Object.values(m)) yield* messages(part);
}
