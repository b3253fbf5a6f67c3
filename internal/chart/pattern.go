package chart

// pattern tells layers apart without colour: dots for sand, broken lines for
// silt and lines for clay, the way geologists draw them (FGDC Digital
// Cartographic Standard for Geologic Map Symbolization, 2006, lithologic
// patterns; the spacings are our own).
type pattern int

const (
	dotted pattern = iota
	dashed
	ruled
)

// rows is how far the rows of a pattern lie apart.
const rows = 7

// patterned fills a rectangle in a part's colour with its pattern on it, leaving
// out the box where words will stand.
func (d *Drawing) patterned(p part, x0, y0, x1, y1 float64, free box) {
	d.area(paint{own: p.colour}, rectangle(x0, y0, x1, y1))
	var dots []Point
	var strokes [][]Point
	for i, y := 0, y0+4; y < y1-1.5; i, y = i+1, y+rows {
		runs := [][2]float64{{x0 + 4, x1 - 4}}
		if y > free.y0 && y < free.y1 {
			runs = [][2]float64{{x0 + 4, free.x0}, {free.x1, x1 - 4}}
		}
		for _, run := range runs {
			d, s := p.pattern.row(run[0], run[1], y, i%2 == 1)
			dots, strokes = append(dots, d...), append(strokes, s...)
		}
	}
	own := paint{own: InkOn(p.colour)}
	if len(dots) > 0 {
		d.add(mark{paths: [][]Point{dots}, dot: 0.9, fill: own, alpha: 0.75})
	}
	if len(strokes) > 0 {
		d.add(mark{paths: strokes, line: own, width: 0.8})
	}
}

// row is one row of a pattern; every other is shifted by half a step.
func (p pattern) row(from, to, y float64, shifted bool) (dots []Point, strokes [][]Point) {
	const dotStep, dash, dashStep = 7, 5, 11
	switch p {
	case ruled:
		if to-from > 2 {
			strokes = append(strokes, segment(from, y, to, y))
		}
	case dotted:
		for x := from + half(dotStep, shifted); x <= to; x += dotStep {
			dots = append(dots, Point{X: x, Y: y})
		}
	case dashed:
		for x := from + half(dashStep, shifted); x+dash <= to; x += dashStep {
			strokes = append(strokes, segment(x, y, x+dash, y))
		}
	}
	return dots, strokes
}

func half(step float64, shifted bool) float64 {
	if shifted {
		return step / 2
	}
	return 0
}
