package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"mudline/imaging/jarfind"
	"mudline/imaging/jarnet"
)

// judge prints how well the network does on what it was not fitted to: the sides
// and the floor after two looks from a place that is off, and how jars and what
// is none are told apart.
func (m *maker) judge(n *jarnet.Net) {
	r := rand.New(rand.NewPCG(99, 1))
	var sides, floors, waters, jarOdds, noneOdds []float64
	for range 150 {
		s := m.scene(r)
		p := s.place.Moved(0.15*clampNorm(r), 0.15*clampNorm(r), 0.15*clampNorm(r))
		var v *jarnet.Verdict
		for k := range 2 {
			v = n.Judge(jarfind.Patches(s.pic, []jarfind.Stance{p})[0])
			at := s.place.At(0, s.water)
			_, water := placeOf(p, at.X, at.Y)
			if k == 1 {
				waters = append(waters, 50*math.Abs(v.WaterAt()-water))
			}
			p = p.Moved(v.Offsets())
		}
		jarOdds = append(jarOdds, v.LogOdds)
		l, rr, f := s.place.Off(p)
		sides = append(sides, 50*math.Max(math.Abs(l), math.Abs(rr)))
		floors = append(floors, 50*math.Abs(f))
	}
	for range 150 {
		ss := m.turned(r)
		if len(m.empties) > 0 && r.IntN(3) > 0 {
			ss = m.fromEmpty(r)
		}
		for _, s := range ss {
			noneOdds = append(noneOdds, n.Judge(s.patch).LogOdds)
		}
	}
	for _, v := range [][]float64{sides, floors, waters, jarOdds, noneOdds} {
		slices.Sort(v)
	}
	q := func(v []float64, p float64) float64 { return v[min(int(p*float64(len(v))), len(v)-1)] }
	over := 0
	for _, v := range noneOdds {
		if v > q(jarOdds, 0.05) {
			over++
		}
	}
	fmt.Printf("      held out: sides %.2f / %.2f / %.2f %% of the width (50, 90, 95), floor %.2f / %.2f, water %.2f / %.2f; odds of jars %.1f (5 %%) %.1f (50 %%), of none %.1f (50 %%) %.1f (95 %%) %.1f (99 %%); none above the 5 %% of jars: %d of %d\n",
		q(sides, 0.5), q(sides, 0.9), q(sides, 0.95), q(floors, 0.5), q(floors, 0.9), q(waters, 0.5), q(waters, 0.9), q(jarOdds, 0.05), q(jarOdds, 0.5),
		q(noneOdds, 0.5), q(noneOdds, 0.95), q(noneOdds, 0.99), over, len(noneOdds))
}
