package chart

import "mudline/internal/look"

// chip is a part's letter on its colour and pattern, about a point.
func (d *Drawing) chip(p part, at Point) {
	const wide, tall = 26, 16
	half := widthOf(p.letter, smallSize*heavy)/2 + 1
	plate := box{at.X - half, at.Y - tall/2 + 2, at.X + half, at.Y + tall/2 - 2}
	d.patterned(p, at.X-wide/2, at.Y-tall/2, at.X+wide/2, at.Y+tall/2, plate)
	d.stroke(soft, 1, nil, closed(rectangle(at.X-wide/2, at.Y-tall/2, at.X+wide/2, at.Y+tall/2)))
	d.area(paint{own: p.Colour}, rectangle(plate.x0, plate.y0, plate.x1, plate.y1))
	d.write(text{at: Point{X: at.X, Y: at.Y + 4}, words: p.letter, size: smallSize, bold: true, anchor: middle}, paint{own: look.InkOn(p.Colour)})
}

// patterned fills a rectangle in a part's colour with its pattern on it, leaving
// out the box where words will stand.
func (d *Drawing) patterned(p part, x0, y0, x1, y1 float64, free box) {
	d.area(paint{own: p.Colour}, rectangle(x0, y0, x1, y1))
	var dots []Point
	var strokes [][]Point
	for i, y := 0, y0+4; y < y1-1.5; i, y = i+1, y+look.RowsApart {
		runs := [][2]float64{{x0 + 4, x1 - 4}}
		if y > free.y0 && y < free.y1 {
			runs = [][2]float64{{x0 + 4, free.x0}, {free.x1, x1 - 4}}
		}
		for _, run := range runs {
			for _, m := range p.Pattern.Row(run[0], run[1], i%2 == 1) {
				if m[0] == m[1] {
					dots = append(dots, Point{X: m[0], Y: y})
				} else {
					strokes = append(strokes, segment(m[0], y, m[1], y))
				}
			}
		}
	}
	own := paint{own: look.InkOn(p.Colour)}
	if len(dots) > 0 {
		d.add(mark{paths: [][]Point{dots}, dot: 0.9, fill: own, alpha: 0.75})
	}
	if len(strokes) > 0 {
		d.add(mark{paths: strokes, line: own, width: 0.8})
	}
}
