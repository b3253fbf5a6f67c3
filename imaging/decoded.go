package imaging

import "image"

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
		return nil, nameRefusal(name, refuse(CodeDamaged, remedyCopyAgain, "the picture was decoded to %d x %d pixels, not to %d x %d", pic.Rect.Dx(), pic.Rect.Dy(), w, h))
	}
	return newPhoto(name, pic, full, info), nil
}
