package main

import (
	"fmt"
	"math"
	"slices"

	"mudline/internal/jartest"
	"mudline/internal/reading"
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
	for _, l := range []struct {
		key      string
		old, now *float64
	}{
		{"floor", before.RowsPx.Floor, after.RowsPx.Floor}, {"water", before.RowsPx.Water, after.RowsPx.Water},
		{"deposit_top", before.RowsPx.DepositTop, after.RowsPx.DepositTop}, {"sand_top", before.RowsPx.SandTop, after.RowsPx.SandTop},
		{"silt_top", before.RowsPx.SiltTop, after.RowsPx.SiltTop}, {"haze_top", before.RowsPx.HazeTop, after.RowsPx.HazeTop},
	} {
		if slices.Contains(after.Stated, l.key) {
			continue
		}
		switch {
		case l.old == nil && l.now == nil:
		case l.old == nil:
			m.came++
		case l.now == nil:
			m.went++
		default:
			m.kept++
			if by := math.Abs(*l.now-*l.old) / depth * 100; by > m.farthest {
				m.farthest, m.where = by, fmt.Sprintf(" (%s, %s)", p.File, l.key)
			}
		}
	}
}
