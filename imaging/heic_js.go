package imaging

import (
	"image"
	"io"
)

// decodeHEIC is left to the browser: the decoder would be a third of the page's
// program, and the phones that make HEIC decode it themselves.
func decodeHEIC(io.Reader) (image.Image, error) {
	return nil, refuse(CodeUnsupported, "open the page on the phone that took it, or save it as JPEG", "this browser does not read HEIC pictures")
}
