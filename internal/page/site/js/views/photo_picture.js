// The picture of a photo as the browser can show it.
import * as desk from "../desk.js";
import * as program from "../program.js";

/** {url, size}: an address to show a photo by, and its size in pixels of the upright file. */
export async function pictureOf(jar, photos, photo) {
  const image = new Image();
  let url = image.src = URL.createObjectURL(photo.blob);
  let size = [3, 4];
  try {
    await image.decode();
    size = [image.naturalWidth, image.naturalHeight];
  } catch {
    // A picture this browser does not know: the program gives its own.
    await desk.ready(jar, photos);
    URL.revokeObjectURL(url);
    ({ url } = await program.ask("picture", { file: photo.name }));
  }
  return { url, size: desk.opened(jar, photo.name)?.size_px || size };
}
