package jartest

import (
	"cmp"
	"math"

	"mudline/imaging/colour"
	"mudline/imaging/sheetmark"
)

// Printing is how a sheet came out of the printer and how it stands; the zero value is an
// even print on flat paper.
type Printing struct {
	// Black is the share of the paper's light that solid ink throws back; 0 stands for
	// 0.05 (common practice: a density of 1.3).
	Black float64
	// DotGain is how much more of the paper is covered than was meant, at a half, by a
	// printer that makes greys of dots and knows of no tone curve; 0 is a printer whose
	// greys are those of the file.
	DotGain float64
	// Gloss is the share of the paper's light that shines back from ink, at the right
	// side of the sheet; at the left it does not.
	Gloss float64
	// Scale is the size of the print about the middle of the paper; 0 stands for 1.
	Scale float64
	// CurlMM is how far the sides of the paper bend towards the camera.
	CurlMM float64
}

// leaves is the share of the paper's light that is left of a grey level of the file.
func (p Printing) leaves(level uint8) float64 {
	black := cmp.Or(p.Black, 0.05)
	if p.DotGain == 0 {
		return black + (1-black)*colour.LightOf(level)
	}
	ink := 1 - float64(level)/255
	ink = math.Min(ink+4*p.DotGain*ink*(1-ink), 1)
	return 1 - ink*(1-black) // Murray & Davies 1936
}

// Distance and height of the camera before the sheet, for what a curl moves; and the half
// width of the paper.
const (
	curlFromMM = 450.0
	curlMidY   = 0.55 // of the sheet's height, from the top
	curlHalfMM = 105.0
)

// Seen is where the photo shows a place on the sheet.
func (p Printing) Seen(photo TruthPhoto, paper sheetmark.Paper, on sheetmark.Point) sheetmark.Point {
	w, h := paper.SizeMM()
	scale := cmp.Or(p.Scale, 1)
	x, y := scale*on.X, (1-curlMidY)*h-(h/2+scale*(on.Y-h/2)) // from the camera's axis, down
	k := 1 + p.CurlMM*(x/curlHalfMM)*(x/curlHalfMM)/curlFromMM
	corners := make([]sheetmark.Point, 4)
	for i, c := range photo.Rows.SheetCorners {
		corners[i] = sheetmark.Point{X: c[0], Y: c[1]}
	}
	flat, _ := sheetmark.PlaneOf([]sheetmark.Point{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}}, corners)
	return flat.At(sheetmark.Point{X: w/2 + k*x, Y: curlMidY*h + k*y})
}

// placed is where on the print, w by h, a place in the picture shows it.
func (p Printing) placed(flat sheetmark.Plane, w, h float64, paper sheetmark.Paper) func(sheetmark.Point) sheetmark.Point {
	scale := cmp.Or(p.Scale, 1)
	wideMM, _ := paper.SizeMM()
	return func(seen sheetmark.Point) sheetmark.Point {
		q := flat.At(seen)
		if p.CurlMM != 0 {
			// What is nearer by z is seen farther from the camera's axis by z in D.
			x, y := q.X-w/2, q.Y-curlMidY*h
			side := x / w * wideMM / curlHalfMM
			k := 1 / (1 + p.CurlMM*side*side/curlFromMM)
			q = sheetmark.Point{X: w/2 + k*x, Y: curlMidY*h + k*y}
		}
		return sheetmark.Point{X: w/2 + (q.X-w/2)/scale, Y: h/2 + (q.Y-h/2)/scale}
	}
}

// shine is what glossy ink adds at a place on the print, as a share of the paper's light;
// left is what the print leaves there.
func (p Printing) shine(x, w, left float64) float64 {
	return p.Gloss * math.Max(0, math.Min(x/w, 1)) * (1 - left)
}
