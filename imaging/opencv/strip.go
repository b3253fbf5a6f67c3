//go:build opencv

package opencv

import (
	"image"
	"image/color"
	"math"

	"gocv.io/x/gocv"

	"mudline/imaging"
)

// CutStrip is the pure Go engine's: for a strip of some hundred thousand points
// it takes a third of the time of Remapped, and both engines then read the very
// same strip of a picture.
func (Engine) CutStrip(pic *image.RGBA, f imaging.Frame, top, bottom float64) *imaging.Strip {
	return imaging.CutStrip(pic, f, top, bottom)
}

// Remapped lays the front of the jar straight with cv::remap (bilinear, to 1/32
// of a pixel) and converts with cv::cvtColor in floating point: the reference
// that CutStrip is held against. nil where OpenCV gives no picture.
func Remapped(pic *image.RGBA, f imaging.Frame, top, bottom float64) *imaging.Strip {
	s := imaging.NewStrip(f, top, bottom)
	var open scope
	defer open.close()
	if !cut(&open, s, pic, f) {
		return nil
	}
	return s
}

func cut(open *scope, s *imaging.Strip, pic *image.RGBA, f imaging.Frame) bool {
	places := make([]imaging.Point, 0, s.W*s.H)
	s.EachRow(f, func(_ int, at []imaging.Point) { places = append(places, at...) })
	part := around(places, pic.Rect)
	if part.Empty() {
		return false
	}
	src, err := open.fromRGBA(pic, part)
	if err != nil {
		return false
	}
	mapX, mapY := open.sized(s.H, s.W, gocv.MatTypeCV32FC1), open.sized(s.H, s.W, gocv.MatTypeCV32FC1)
	x, errX := mapX.DataPtrFloat32()
	y, errY := mapY.DataPtrFloat32()
	if errX != nil || errY != nil {
		return false
	}
	for i, p := range places { // OpenCV's 0,0 is the middle of the first pixel
		x[i] = float32(p.X - 0.5 - float64(part.Min.X))
		y[i] = float32(p.Y - 0.5 - float64(part.Min.Y))
	}
	straight := open.mat()
	gocv.Remap(*src, straight, mapX, mapY, gocv.InterpolationLinear, gocv.BorderReplicate, color.RGBA{})
	lab, err := toLab(open, straight)
	if err != nil {
		return false
	}
	return copy(s.Lab, lab) == len(s.Lab)
}

// toLab converts four 8-bit channels R, G, B, A to L*, a*, b* floats, which
// belong to the scope.
func toLab(open *scope, rgba *gocv.Mat) ([]float32, error) {
	rgb, unit, lab := open.mat(), open.mat(), open.mat()
	gocv.CvtColor(*rgba, rgb, gocv.ColorRGBAToBGR) // drops A; the order is as before the next line
	gocv.CvtColor(*rgb, rgb, gocv.ColorBGRToRGB)
	rgb.ConvertToWithParams(unit, gocv.MatTypeCV32FC3, 1.0/255, 0)
	gocv.CvtColor(*unit, lab, gocv.ColorRGBToLab)
	return lab.DataPtrFloat32()
}

// around is the part of the picture that the places and their neighbours need.
func around(places []imaging.Point, within image.Rectangle) image.Rectangle {
	minX, minY, maxX, maxY := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range places {
		minX, maxX = math.Min(minX, p.X), math.Max(maxX, p.X)
		minY, maxY = math.Min(minY, p.Y), math.Max(maxY, p.Y)
	}
	pixel := func(v float64) int { return int(math.Max(-1e6, math.Min(1e6, v))) }
	return image.Rect(pixel(minX)-2, pixel(minY)-2, pixel(maxX)+3, pixel(maxY)+3).Intersect(within)
}
