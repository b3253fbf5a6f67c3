package imaging

import "image"

// PureGo is the engine written in Go alone, the default.
type PureGo struct{}

// Name is "go".
func (PureGo) Name() string { return "go" }

// Decode decodes with the standard library (JPEG, PNG), golang.org/x/image
// (WebP, TIFF) or libheif run as WebAssembly (HEIC), and reduces by area. JPEG
// pictures more than twice the size wanted go through package scaledjpeg.
func (PureGo) Decode(data []byte, info Info, side int) (*image.RGBA, image.Point, error) {
	if pic, ok := decodeReduced(data, info, side); ok {
		return pic, image.Pt(info.W, info.H), nil
	}
	img, err := decodeFull(data, info)
	if err != nil {
		return nil, image.Point{}, err
	}
	return reduceImage(img, side), img.Bounds().Size(), nil
}

// CutStrip is the function CutStrip.
func (PureGo) CutStrip(pic *image.RGBA, f Frame, top, bottom float64) *Strip {
	return CutStrip(pic, f, top, bottom)
}
