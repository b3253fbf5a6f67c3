package main

import (
	"fmt"
	"math"

	"mudline/internal/jartest"
	"mudline/internal/reading"
	"mudline/layers"
)

// moves is what placing lines did to the lines that were not placed: how far
// their rows moved, in percent of the water depth, and how many came or went.
type moves struct {
	farthest   float64
	where      string
	kept       int
	came, went int
}

func (m *moves) add(t *jartest.Truth, p jartest.TruthPhoto, before, after reading.Photo) {
	depth := p.Rows.Points["inner_base"].Row - p.Rows.Points["water_surface"].Row
	for _, l := range layers.Levels {
		old, now := before.RowsPx.Of(l), after.RowsPx.Of(l)
		if after.States(l) {
			continue
		}
		switch {
		case old == nil && now == nil:
		case old == nil:
			m.came++
		case now == nil:
			m.went++
		default:
			m.kept++
			if by := math.Abs(*now-*old) / depth * 100; by > m.farthest {
				m.farthest, m.where = by, fmt.Sprintf(" (%s, %s)", p.File, l.Key())
			}
		}
	}
}
