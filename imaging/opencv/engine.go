//go:build opencv

package opencv

import (
	"image"

	"gocv.io/x/gocv"

	"mudline/imaging"
)

// Engine is the OpenCV engine.
type Engine struct{}

var _ imaging.Engine = Engine{}

// Name is "opencv".
func (Engine) Name() string { return "opencv" }

// ignoreOrientation leaves the turning to package imaging.
const ignoreOrientation = gocv.IMReadIgnoreOrientation

// reduced lists how OpenCV can decode a JPEG at a fraction of its size, which
// spares most of the inverse transform.
var reduced = []struct {
	by   int
	flag gocv.IMReadFlag
}{
	{8, gocv.IMReadReducedColor8},
	{4, gocv.IMReadReducedColor4},
	{2, gocv.IMReadReducedColor2},
	{1, gocv.IMReadColor},
}

// Decode decodes a JPEG at the smallest of 1/8, 1/4, 1/2 and full size that is
// not below side, and brings it to side. What gains nothing from OpenCV goes to
// the pure Go engine, so that both read the very same pixels: formats other than
// JPEG, and a JPEG that is to be decoded at full size anyway. So does a JPEG
// that OpenCV does not take.
func (Engine) Decode(data []byte, info imaging.Info, side int) (*image.RGBA, image.Point, error) {
	if info.Format != "jpeg" || max(info.W, info.H) <= side {
		return imaging.PureGo{}.Decode(data, info, side)
	}
	var open scope
	defer open.close()
	coded, err := gocv.IMDecode(data, flagFor(max(info.W, info.H), side)|ignoreOrientation)
	if err != nil {
		return imaging.PureGo{}.Decode(data, info, side)
	}
	pic := open.own(&coded)
	if pic.Empty() {
		return imaging.PureGo{}.Decode(data, info, side)
	}
	w, h := imaging.Fit(info.W, info.H, side)
	if pic.Cols() != w || pic.Rows() != h {
		small := open.mat()
		gocv.Resize(*pic, small, image.Pt(w, h), 0, 0, shrinkBy(pic.Cols(), w))
		pic = small
	}
	rgba := open.mat()
	gocv.CvtColor(*pic, rgba, gocv.ColorBGRToRGBA)
	out, err := toRGBA(rgba)
	if err != nil {
		return nil, image.Point{}, err
	}
	return out, image.Pt(info.W, info.H), nil
}

// flagFor chooses the reduction for a picture with a long side of long pixels.
func flagFor(long, side int) gocv.IMReadFlag {
	for _, r := range reduced {
		if long/r.by >= side {
			return r.flag
		}
	}
	return gocv.IMReadColor
}

// shrinkBy chooses how to bring a width to a smaller one. What is left to do
// after a reduced decode is nearly always less than one half, where bilinear
// sampling passes over no pixel and takes a tenth of the time of a mean by area.
func shrinkBy(from, to int) gocv.InterpolationFlags {
	if from < 2*to {
		return gocv.InterpolationLinear
	}
	return gocv.InterpolationArea
}
