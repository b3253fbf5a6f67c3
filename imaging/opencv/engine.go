//go:build opencv

package opencv

// #cgo pkg-config: libjpeg
// #cgo LDFLAGS: -lm
// #include "jpeg.h"
import "C"

import (
	"image"
	"unsafe"

	"mudline/imaging"
)

// Engine is the OpenCV engine.
type Engine struct{}

var _ imaging.Engine = Engine{}

// Name is "opencv".
func (Engine) Name() string { return "opencv" }

// Decode decodes a JPEG with libjpeg-turbo, OpenCV's own JPEG decoder, at the
// smallest of 1/8, 1/4, 1/2 and full size that is not below side, and averages
// it to side by area as pure Go does. The decoder is called past cv::imdecode:
// its rows are averaged as they come, so that the picture in between, 9 MB and
// more, is never laid into memory, and a damaged file is not passed over in
// silence. What gains nothing goes to the pure Go engine, so that both read the
// very same pixels: formats other than JPEG, and a JPEG that is to be decoded at
// full size anyway. So does a JPEG that libjpeg-turbo warns of.
func (Engine) Decode(data []byte, info imaging.Info, side int) (*image.RGBA, image.Point, error) {
	if info.Format == "jpeg" && max(info.W, info.H) > side {
		w, h := imaging.Fit(info.W, info.H, side)
		pic := image.NewRGBA(image.Rect(0, 0, w, h))
		by := reduction(max(info.W, info.H), side)
		if C.mudline_jpeg(bytesOf(data), C.size_t(len(data)), C.int(info.W), C.int(info.H), C.int(by), C.int(w), C.int(h), bytesOf(pic.Pix)) != 0 {
			return pic, image.Pt(info.W, info.H), nil
		}
	}
	return imaging.PureGo{}.Decode(data, info, side)
}

// reduction chooses at what fraction of its size a picture with a long side of
// long pixels is decoded.
func reduction(long, side int) int {
	for by := 8; by > 1; by /= 2 {
		if long/by >= side {
			return by
		}
	}
	return 1
}

func bytesOf(pix []uint8) *C.uchar { return (*C.uchar)(unsafe.Pointer(unsafe.SliceData(pix))) }
