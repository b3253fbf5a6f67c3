package layers

import "strings"

// Line is the name of a line of a jar as a person writes it, in jar.yaml and on the
// command line: "sand-top". The whole program names lines by it, but for package texture,
// which knows nothing of this one, and the page's lines.js, which is no Go.
type Line string

// The level lines from the floor up, and the edges of the glass.
const (
	Floor      Line = "floor"
	SandTop    Line = "sand-top"
	SiltTop    Line = "silt-top"
	DepositTop Line = "deposit-top"
	HazeTop    Line = "haze-top"
	Water      Line = "water" // as it is seen: the upper edge of its rim on the glass
	Left       Line = "left"
	Right      Line = "right"
	Glass      Line = "glass" // both edges, where they are drawn alike
)

// Tops are the lines within the water, and Levels all level ones, from the floor up.
var (
	Tops   = []Line{SandTop, SiltTop, DepositTop, HazeTop}
	Levels = []Line{Floor, SandTop, SiltTop, DepositTop, HazeTop, Water}
)

// Key is the name of the line in reading.json and in tables for other programs: "sand_top".
func (l Line) Key() string { return strings.ReplaceAll(string(l), "-", "_") }

// Pick is that of four things which belongs to the line, one of Tops; the zero value for
// any other line.
func Pick[T any](l Line, sand, silt, deposit, haze T) (none T) {
	switch l {
	case SandTop:
		return sand
	case SiltTop:
		return silt
	case DepositTop:
		return deposit
	case HazeTop:
		return haze
	}
	return none
}

// Place gives the field of one of Tops, nil for any other line.
func (l *Lines) Place(top Line) **float64 {
	return Pick(top, &l.SandTop, &l.SiltTop, &l.DepositTop, &l.HazeTop)
}

// Place gives the field of one of Tops, nil for any other line.
func (r *Reading) Place(top Line) **Boundary {
	return Pick(top, &r.SandTop, &r.SiltTop, &r.DepositTop, &r.HazeTop)
}
