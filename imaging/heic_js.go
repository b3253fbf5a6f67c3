package imaging

import (
	"image"
	"io"

	"mudline/internal/words"
)

// decodeHEIC is left to the browser: the decoder would be a third of the page's
// program, and the phones that make HEIC decode it themselves.
func decodeHEIC(io.Reader) (image.Image, error) {
	return nil, refuse(CodeUnsupported, words.Say("photo.browser-without-heic"), words.Say("do.open-on-phone"))
}
