package reading

import (
	"cmp"
	"slices"

	"mudline/layers"
)

// Of is the row of a line, of the water the one that is seen; nil where it was not seen.
func (r Rows) Of(l layers.Line) *float64 {
	switch l {
	case layers.Floor:
		return r.Floor
	case layers.Water:
		return cmp.Or(r.Meniscus, r.Water)
	}
	return layers.Pick(l, r.SandTop, r.SiltTop, r.DepositTop, r.HazeTop)
}

// Of is the height of a line; nil where it was not seen, has none, or there are no heights.
func (h *Heights) Of(l layers.Line) *Height {
	if h == nil {
		return nil
	}
	return layers.Pick(l, h.SandTop, h.SiltTop, h.DepositTop, h.HazeTop)
}

// Of is where a line is expected; the zero value for one of which nothing is.
func (e Expected) Of(l layers.Line) Range {
	return layers.Pick(l, e.SandTop, e.SiltTop, e.DepositTop, Range{})
}

// States says whether a person placed a line in the photo, or said that it is not there.
func (p Photo) States(l layers.Line) bool {
	return slices.ContainsFunc(p.Stated, func(s string) bool { return layers.Line(s).Key() == l.Key() })
}
