// Where a view is: the part of the address after #. app.js follows it and shows the
// view; whoever wants another view goes there.

/** The address of a view, for links. */
export const address = (...parts) => "#/" + parts.map(encodeURIComponent).join("/");

/** Goes to a view: go("jar", id, "photo", name). */
export function go(...parts) { location.hash = address(...parts); }

/** The event that asks for the present view anew; its detail is called when that is there. */
export const AGAIN = "show-again";

/** Shows the present view anew and waits for it, as after a change of language. */
export const again = () => new Promise((shown) => { window.dispatchEvent(new CustomEvent(AGAIN, { detail: shown })); });
