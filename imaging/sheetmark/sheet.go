// Package sheetmark knows the printed sheet that stands upright behind a jar: where
// its marks, patches and its name's code lie, in millimetres, how a mark carries its
// code, and how the sheet is found again in a photo. From that come the camera's
// stand, true millimetres at the jar and the colour of the light.
//
// Sheet coordinates are millimetres from the middle of the paper's lower edge, x to
// the right and y up, seen from its printed side, so that everything but the paper's
// own edge lies in the same place on A4 and Letter.
package sheetmark

// Point is a place on the sheet (millimetres, y up) or in a picture (pixels, y down,
// 0,0 at the outer corner of the first pixel), as the name of what holds it says.
type Point struct{ X, Y float64 }

// Paper is a size of paper.
type Paper uint8

// The papers a sheet is printed on: ISO 216 A4 and ANSI/ASME Y14.1 A, "Letter".
const (
	A4 Paper = iota
	Letter
)

// SizeMM is the paper's width and height, upright.
func (p Paper) SizeMM() (w, h float64) {
	if p == Letter {
		return 215.9, 279.4
	}
	return 210, 297
}

// String is "a4" or "letter".
func (p Paper) String() string {
	if p == Letter {
		return "letter"
	}
	return "a4"
}

// Corners are the paper's: top left, top right, bottom right, bottom left.
func (p Paper) Corners() [4]Point {
	w, h := p.SizeMM()
	return [4]Point{{-w / 2, h}, {w / 2, h}, {w / 2, 0}, {-w / 2, 0}}
}

// The marks stand in a column along each side.
const (
	// Marks is how many there are, numbered up the left side, then up the right.
	Marks = 12
	// MarkMM is the side of a mark, with its black border.
	MarkMM = 16.0
	// MarkX is how far the middles of the columns are from the middle of the sheet.
	MarkX = 87.0
	// markFoot is the middle of the lowest marks, markStep how far apart they are.
	markFoot, markStep = 18.0, 48.0

	perSide = Marks / 2
)

// Mark is the middle of a mark, 0 <= i < Marks.
func Mark(i int) Point {
	x := -MarkX
	if i >= perSide {
		x, i = MarkX, i-perSide
	}
	return Point{x, markFoot + markStep*float64(i)}
}

// markCorners are the outer corners of a mark: top left, top right, bottom right,
// bottom left.
func markCorners(i int) [4]Point {
	const h = MarkMM / 2
	m := Mark(i)
	return [4]Point{{m.X - h, m.Y + h}, {m.X + h, m.Y + h}, {m.X + h, m.Y - h}, {m.X - h, m.Y - h}}
}

// Patch is a grey square between the marks, PatchMM wide.
type Patch struct {
	Mid Point
	// Ink is the share of the paper covered with black, 0 to 1.
	Ink float64
}

// Greys is how many greys there are; inks are those of the patches.
const Greys = 3

var inks = [Greys]float64{0.25, 0.5, 0.75}

// PatchMM is the side of a grey patch.
const PatchMM = 16.0

// Patches are the grey squares: each grey once on either side, at other heights, so
// that a light that fades upward is not taken for ink.
func Patches() []Patch {
	var out []Patch
	for i, ink := range inks {
		y := markFoot + markStep*(float64(i)+0.5)
		out = append(out, Patch{Point{-MarkX, y}, ink}, Patch{Point{MarkX, y}, inks[len(inks)-1-i]})
	}
	return out
}

// The code with the sheet's name is a square of QRMM around QRMid.
const QRMM = 34.0

// QRMid is the middle of the code with the sheet's name.
var QRMid = Point{53, 249}

// The plain middle, where the jar stands, is empty up to PlainTop and PlainX to
// either side.
const (
	PlainX   = 62.0
	PlainTop = 222.0
)

// The scales run up both sides, from ScaleLow to ScaleTop above the table: their outer
// ends are ScaleX from the middle, and with their numbers they are scaleWide wide.
const (
	ScaleX    = 75.5
	ScaleLow  = 10
	ScaleTop  = 210
	scaleWide = 10.0
)

// CheckMM is the length of the line that a person may measure.
const CheckMM = 100.0
