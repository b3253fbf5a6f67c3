//go:build opencv

package opencv

import (
	"image"

	"gocv.io/x/gocv"
)

// scope owns the Mats of one call and closes them all at its end.
type scope []*gocv.Mat

// mat gives a new empty Mat.
func (s *scope) mat() *gocv.Mat {
	m := gocv.NewMat()
	return s.own(&m)
}

// sized gives a new Mat of a size and type.
func (s *scope) sized(rows, cols int, kind gocv.MatType) *gocv.Mat {
	m := gocv.NewMatWithSize(rows, cols, kind)
	return s.own(&m)
}

func (s *scope) own(m *gocv.Mat) *gocv.Mat {
	*s = append(*s, m)
	return m
}

func (s *scope) close() {
	for _, m := range *s {
		m.Close()
	}
}

// fromRGBA copies a part of a picture into OpenCV's memory. OpenCV must hold no
// pointer into Go's, and knows no sub-image.
func (s *scope) fromRGBA(pic *image.RGBA, part image.Rectangle) (*gocv.Mat, error) {
	m := s.sized(part.Dy(), part.Dx(), gocv.MatTypeCV8UC4)
	pix, err := m.DataPtrUint8()
	if err != nil {
		return nil, err
	}
	row := 4 * part.Dx()
	for y := range part.Dy() {
		from := pic.PixOffset(part.Min.X, part.Min.Y+y)
		copy(pix[y*row:(y+1)*row], pic.Pix[from:from+row])
	}
	return m, nil
}
