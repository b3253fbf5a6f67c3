//go:build opencv

package opencv

// #cgo CXXFLAGS: -std=c++11
// #cgo pkg-config: opencv4
// #include "ecc.h"
import "C"

import (
	"image"
	"math"

	"gocv.io/x/gocv"

	"mudline/imaging"
)

// Register finds the nearest whole row with cv::matchTemplate and refines it
// with cv::findTransformECC (a shift in both directions, of which the rows are
// returned). Where ECC finds no way to a better fit, the whole row and its
// correlation stand.
func (Engine) Register(a, b *image.Gray, reach float64) (rows, correlation float64) {
	n := int(math.Ceil(math.Max(reach, 0)))
	w := min(a.Rect.Dx(), b.Rect.Dx())
	h := min(a.Rect.Dy(), b.Rect.Dy())
	if w < 8 || h < 2*n+16 {
		return imaging.Register(a, b, reach)
	}
	middle, whole := packed(a, n, w, h-2*n), packed(b, 0, w, h)
	at, correlation := findRows(middle, whole, w)
	if correlation == 0 {
		return 0, 0
	}
	shift := [2]C.float{0, C.float(at)}
	got := C.mudline_ecc(bytesOf(middle), C.int(h-2*n), bytesOf(whole), C.int(h), C.int(w), &shift[0])
	if refined := float64(shift[1]); got >= C.double(correlation) && math.Abs(refined-at) <= 1 {
		at, correlation = refined, float64(got)
	}
	return math.Max(-reach, math.Min(reach, float64(n)-at)), correlation
}

// findRows gives the row of a taller picture at which a lower one of the same
// width fits best, and the correlation there; 0 when the lower one is flat.
func findRows(lower, taller []uint8, w int) (row, correlation float64) {
	if flat(lower) {
		return 0, 0
	}
	var open scope
	defer open.close()
	from, in := open.grey(lower, w), open.grey(taller, w)
	score, none := open.mat(), open.mat()
	gocv.MatchTemplate(*in, *from, score, gocv.TmCcoeffNormed, *none)
	_, best, _, at := gocv.MinMaxLoc(*score)
	if math.IsNaN(float64(best)) || math.IsInf(float64(best), 0) {
		return 0, 0
	}
	return float64(at.Y), float64(best)
}

// flat says whether all pixels are alike, which matchTemplate answers with 1.
func flat(pix []uint8) bool {
	for _, p := range pix {
		if p != pix[0] {
			return false
		}
	}
	return true
}

// packed copies h rows of a picture from a row on, w wide, without gaps.
func packed(g *image.Gray, from, w, h int) []uint8 {
	out := make([]uint8, 0, w*h)
	for y := from; y < from+h; y++ {
		at := g.PixOffset(g.Rect.Min.X, g.Rect.Min.Y+y)
		out = append(out, g.Pix[at:at+w]...)
	}
	return out
}
