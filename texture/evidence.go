package texture

import "math"

// loading is a part of a number's error that other photos of the jar share: its
// spread, in the number's unit, on an unknown.
type loading struct {
	unknown int
	sd      float64
}

// alike is the part of a line's reading error, as variance, that the photos of
// one jar share: the same edge is taken for the line in all of them (a guess).
var alike = [...]float64{depositTop: 0.2, sandTop: 0.35, siltTop: 0.35}

// newMeasured splits a height's error into its own and what all photos of the
// line share, the model's error among it: a line seen in many photos is one line,
// and the sand's and silt's lines hardly change once they have formed. The error
// of the deposit's tops drifts: it is set early, in the middle and late.
func newMeasured(photo int, line lineKind, mm, sd, timeS float64) measured {
	e := modelError[line]
	common := math.Sqrt(alike[line]*sd*sd + e.mm*e.mm + e.share*e.share*mm*mm)
	m := measured{photo: photo, line: line, value: mm, scale: sd * math.Sqrt(1-alike[line]), time: timeS}
	switch line {
	case sandTop:
		m.shared[0] = loading{uSandShift, common}
	case siltTop:
		m.shared[0] = loading{uSiltShift, common}
	case depositTop:
		x := clamp(2*math.Log(timeS/earlyS)/math.Log(lateS/earlyS), 0, 2)
		k := int(math.Min(x, 1))
		f := x - float64(k)
		norm := common / math.Hypot(1-f, f)
		m.shared = [2]loading{{uTopShift + k, norm * (1 - f)}, {uTopShift + k + 1, norm * f}}
	}
	return m
}

// wholeError is the standard deviation of a number's error, what it shares with
// other photos included.
func (m *measured) wholeError() float64 {
	return math.Hypot(m.scale, math.Hypot(m.shared[0].sd, m.shared[1].sd))
}

// enoughPhotos is how many photos of a line count in full. Of more, all together
// count for as much: neighbours in a series err alike in light, scale and floor.
const enoughPhotos = 6

// thin widens the errors of lines that very many photos show.
func thin(data []measured) {
	var n [siltTop + 1]int
	for _, m := range data {
		if m.line <= siltTop {
			n[m.line]++
		}
	}
	for i := range data {
		m := &data[i]
		if m.line <= siltTop && n[m.line] > enoughPhotos {
			wider := math.Sqrt(float64(n[m.line]) / enoughPhotos)
			m.scale *= wider
			for c := range m.choices {
				m.choices[c].sd *= wider
			}
		}
	}
}

// earlyS and lateS are the ends of the span over which the error of deposit tops drifts.
const earlyS, lateS = 60.0, 2 * 86400.0
