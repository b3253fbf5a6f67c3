package imaging

import (
	"image"
	"io"

	"mudline/internal/words"
)

// DecodeHEIC decodes a HEIC picture where the browser does not. It is nil until a front
// end has loaded a decoder: the page's program would be larger by a third with one, and the
// phones that make HEIC decode it themselves.
var DecodeHEIC func(data []byte) (image.Image, error)

func decodeHEIC(r io.Reader) (image.Image, error) {
	if DecodeHEIC == nil {
		return nil, refuse(CodeUnsupported, words.Say("photo.browser-without-heic"), words.Say("do.open-on-phone"))
	}
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return DecodeHEIC(data)
}
