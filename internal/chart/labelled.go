package chart

import "math"

// box is a rectangle that is taken.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) overlap(c box) float64 {
	w := math.Min(b.x1, c.x1) - math.Max(b.x0, c.x0)
	h := math.Min(b.y1, c.y1) - math.Max(b.y0, c.y0)
	return math.Max(w, 0) * math.Max(h, 0)
}

// labelled draws many soils: a dot with whiskers each, and its label where there
// is room about it.
func (d *Drawing) labelled(f frame, soils []Soil, o Options) {
	const dot = 3.6
	var taken []box
	for _, s := range soils {
		at := f.at(s.middle())
		taken = append(taken, box{at.X - dot, at.Y - dot, at.X + dot, at.Y + dot})
		if o.Intervals {
			d.whiskers(f, s)
		}
	}
	for _, s := range soils {
		d.put(circle, f.at(s.middle()), dot+0.6, cloud)
	}
	for _, s := range soils {
		if s.Label == "" {
			continue
		}
		words := fit(s.Label, smallSize, 46)
		at := f.at(s.middle())
		best := d.placeLabel(at, widthOf(words, smallSize*heavy)+labelGap, taken)
		taken = append(taken, best)
		mid := Point{X: (best.x0 + best.x1) / 2, Y: (best.y0 + best.y1) / 2}
		near := Point{X: math.Min(math.Max(at.X, best.x0), best.x1), Y: math.Min(math.Max(at.Y, best.y0), best.y1)}
		if math.Hypot(near.X-at.X, near.Y-at.Y) > 10 {
			d.stroke(soft, 0.8, nil, []Point{at, near})
		}
		d.write(text{at: Point{X: mid.X, Y: mid.Y + 4}, words: words, size: smallSize, bold: true, anchor: middle, halo: true}, ink)
	}
}

// mostClouds is how many soils have room for their clouds in one triangle.
const mostClouds = 8

// clouds draws, for a few soils, the region that holds 9 in 10 of the equally likely
// soils of each.
func (d *Drawing) clouds(f frame, soils []Soil, o Options) (notes []note) {
	if len(soils) > mostClouds {
		return nil
	}
	dash := []float64{5, 3}
	for _, s := range soils {
		points := compositions(s.Cloud)
		if len(points) < 10 {
			continue
		}
		notes = []note{{o.say("chart.most-of-each"), lineKey(cloud, dash)}}
		var paths [][]Point
		for _, ring := range regions(points, 0.9)[0] {
			paths = append(paths, f.path(ring...))
		}
		if len(paths) > 0 {
			d.add(mark{paths: paths, closed: true, fill: cloud, alpha: 0.12, line: cloud, width: 1.2, dash: dash})
		}
	}
	return notes
}

// labelGap keeps two numbers from reading as one.
const labelGap = 5

// placeLabel looks round a dot, near first, for the place that covers least.
func (d *Drawing) placeLabel(at Point, wide float64, taken []box) box {
	const tall = smallSize
	best, least := box{}, math.Inf(1)
	for _, far := range []float64{0, 9, 20} {
		for i := range 12 {
			// From the upper right on, clockwise.
			sin, cos := math.Sincos(math.Pi * (float64(i) - 1.5) / 6)
			x, y := at.X+cos*(7+far+wide/2), at.Y+sin*(10+far)
			b := box{x - wide/2, y - tall/2, x + wide/2, y + tall/2}
			if b.x0 < 1 || b.x1 > d.Width-1 || b.y0 < 1 {
				continue
			}
			cost := far / 10
			for _, t := range taken {
				cost += b.overlap(t)
			}
			if cost < least-1e-9 {
				best, least = b, cost
			}
		}
	}
	return best
}

// whiskers are the intervals of a soil, one line for each part: along it that
// part runs from low to high, and the other two share the rest as they do.
func (d *Drawing) whiskers(f frame, s Soil) {
	m := s.middle()
	e := s.Fractions
	for i, r := range [][2]float64{{e.Sand.Low, e.Sand.High}, {e.Silt.Low, e.Silt.High}, {e.Clay.Low, e.Clay.High}} {
		if !(r[0] >= 0 && r[1] <= 100 && r[0] < r[1]) {
			continue
		}
		d.stroke(cloud, 0.8, nil, f.path(with(m, i, r[0]), with(m, i, r[1])))
	}
}

// with is a soil with one part set, and the others sharing the rest as before.
func with(s soil, part int, v float64) soil {
	rest := 100 - s[part]
	for i := range s {
		if i == part {
			continue
		}
		if rest > 0 {
			s[i] *= (100 - v) / rest
		} else {
			s[i] = (100 - v) / 2
		}
	}
	s[part] = v
	return s
}
