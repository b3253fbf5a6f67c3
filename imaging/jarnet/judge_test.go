package jarnet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// lifted doubles planes of w x h in both directions, each value for four.
func lifted(x []float32, planes, w, h int) []float32 {
	out := make([]float32, planes*4*w*h)
	for k := range planes {
		for y := range 2 * h {
			for c := range 2 * w {
				out[(k*2*h+y)*2*w+c] = x[(k*h+y/2)*w+c/2]
			}
		}
	}
	return out
}

func plus(a, b []float32) []float32 {
	out := make([]float32, len(a))
	for i := range a {
		out[i] = a[i] + b[i]
	}
	return out
}

// The whole network written out from the definition of a convolution: down in six steps,
// the odds by two layers of weighted sums, and up again by adding the coarser views to the
// finer ones.
func TestJudgeByDefinition(t *testing.T) {
	n := randomNet(5)
	var p Patch
	copy(p[:], randomPlanes(len(p)))
	sizes := [7][2]int{{40, 56}, {20, 28}, {20, 28}, {10, 14}, {10, 14}, {5, 7}, {5, 7}}
	x := p[:]
	var views [6][]float32
	for i := range n.Down {
		x = plainConvolution(&n.Down[i], x, sizes[i][0], sizes[i][1])
		views[i] = x
	}
	dense := func(d *Dense, x []float32) []float32 {
		out := append([]float32(nil), d.B...)
		for o := range out {
			for i, v := range x {
				out[o] += d.W[o*d.In+i] * v
			}
		}
		return out
	}
	hidden := dense(&n.Hidden, x)
	for i, v := range hidden {
		if v < 0 {
			hidden[i] = Leak * v
		}
	}
	odds := dense(&n.Out, hidden)[0]
	up := plainConvolution(&n.Mix1, plus(views[3], lifted(plainConvolution(&n.Lift1, views[5], 5, 7), 24, 5, 7)), 10, 14)
	up = plainConvolution(&n.Mix2, plus(views[1], lifted(plainConvolution(&n.Lift2, up, 10, 14), 16, 10, 14)), 20, 28)
	heads := plainConvolution(&n.Heads, up, 20, 28)

	v := n.Judge(&p)
	assert.InDelta(t, odds, v.LogOdds, 1e-4)
	mean := func(plane, from, to int, at func(i int) int) (m float64) {
		for i := from; i < to; i++ {
			m += float64(heads[plane*20*28+at(i)]) / float64(to-from)
		}
		return headGain * m
	}
	// What is told by places: means over the body's rows or the front's columns, of which
	// only differences count.
	for k := 1; k < SideBins; k++ {
		side := func(plane, bin int) float64 {
			return mean(plane+bin%2, bodyTop, bodyEnd, func(r int) int { return r*20 + bin/2 })
		}
		assert.InDelta(t, side(0, k)-side(0, 0), v.Left[k]-v.Left[0], 1e-3)
		assert.InDelta(t, side(2, k)-side(2, 0), v.Right[k]-v.Right[0], 1e-3)
	}
	for k := 1; k < RowBins; k++ {
		row := func(plane, bin int) float64 {
			return mean(plane+bin%2, frontFrom, frontTo, func(c int) int { return bin/2*20 + c })
		}
		assert.InDelta(t, row(4, k)-row(4, 0), v.Floor[k]-v.Floor[0], 1e-3)
		assert.InDelta(t, row(6, k)-row(6, 0), v.Water[k]-v.Water[0], 1e-3)
	}
}

// Gradients go back the way the heads were summed: for weights that add up to nothing,
// so that what makes probabilities of the logarithms drops out, both sums are one (the
// adjoint of a linear map).
func TestSpreadBackIsTheAdjoint(t *testing.T) {
	heads := randomPlanes(HeadPlanes * 20 * 28)
	v := Read(0, heads)
	weights := func(n int, seed float64) []float64 {
		w, mean := make([]float64, n), 0.0
		for i := range w {
			w[i] = math.Sin(seed + 1.7*float64(i))
			mean += w[i] / float64(n)
		}
		for i := range w {
			w[i] -= mean
		}
		return w
	}
	l, r, f, s := weights(SideBins, 1), weights(SideBins, 2), weights(RowBins, 3), weights(RowBins, 4)
	back := make([]float32, len(heads))
	SpreadBack(l, r, f, s, back)
	want, got := 0.0, 0.0
	for i := range heads {
		got += float64(heads[i]) * float64(back[i])
	}
	for i := range l {
		want += l[i]*v.Left[i] + r[i]*v.Right[i]
	}
	for i := range f {
		want += f[i]*v.Floor[i] + s[i]*v.Water[i]
	}
	assert.InDelta(t, want, got, 1e-4)
}

// Places outside the first and the last bin are no places, on either side of the ends.
func TestPlacesAtTheEnds(t *testing.T) {
	logp := make([]float64, 4)
	for i := range logp {
		logp[i] = math.Log(0.25)
	}
	for bin, want := range map[float64]float64{-0.01: -9, 0: math.Log(0.25), 2.99: math.Log(0.25), 3: -9, 3.5: -9, 40: -9} {
		assert.InDelta(t, want, LogP(logp, bin, -9), 1e-6, "%g", bin)
	}
}
