package imaging

import (
	"image"

	"mudline/internal/words"
)

// OpenDecoded is Open for a picture that a front end has decoded already, as a
// browser does: pic is upright, at origin 0,0, reduced to fit WorkingSide, and
// full is the upright size in the file. data is the file itself, from whose head
// the time and the lens are read. The error is a *Refusal that names the file.
func OpenDecoded(name string, data []byte, pic *image.RGBA, full image.Point) (*Photo, error) {
	info, err := Inspect(data)
	if err != nil {
		return nil, nameRefusal(name, err)
	}
	w, h := Fit(full.X, full.Y, WorkingSide)
	if full.X < 1 || full.Y < 1 || pic.Rect != image.Rect(0, 0, w, h) {
		return nil, nameRefusal(name, damaged(words.Say("photo.decoded-otherwise",
			words.Whole("w", pic.Rect.Dx()), words.Whole("h", pic.Rect.Dy()), words.Whole("wanted_w", w), words.Whole("wanted_h", h))))
	}
	return newPhoto(name, pic, full, info), nil
}
