package chart

// note is an entry of a legend: words beside a key drawn at a place.
type note struct {
	words string
	key   func(d *Drawing, at Point)
}

// keyWide is how wide a key is drawn.
const keyWide = 20

func lineKey(p paint, dash []float64) func(*Drawing, Point) {
	return func(d *Drawing, at Point) { d.stroke(p, 1.8, dash, segment(at.X, at.Y, at.X+keyWide, at.Y)) }
}

func symbolKey(s symbol, p paint) func(*Drawing, Point) {
	return func(d *Drawing, at Point) { d.put(s, Point{X: at.X + keyWide/2, Y: at.Y}, 5, p) }
}

// legend sets notes in rows from a baseline on, and makes the drawing as tall as
// they need.
func (d *Drawing) legend(notes []note, y float64) {
	if len(notes) == 0 {
		return
	}
	const left, line = 12, 17
	x := float64(left)
	for _, n := range notes {
		words := fit(n.words, smallSize, d.Width-2*left-keyWide-6)
		wide := keyWide + 6 + widthOf(words, smallSize)
		if x > left && x+wide > d.Width-left {
			x, y = left, y+line
		}
		n.key(d, Point{X: x, Y: y - 4})
		d.write(text{at: Point{X: x + keyWide + 6, Y: y}, words: words, size: smallSize}, ink)
		x += wide + 14
	}
	d.grow(y + 12)
}

// grow makes the drawing at least so tall, its ground with it.
func (d *Drawing) grow(height float64) {
	if height > d.Height {
		d.Height = height
		d.marks[0].paths[0] = rectangle(0, 0, d.Width, height)
	}
}
