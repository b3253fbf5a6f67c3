package imaging

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func anyFrame(t *rapid.T) Frame {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	floor := Point{f("x", 200, 900), f("y", 900, 1500)}
	return Frame{
		Floor: floor, Water: Point{floor.X + f("dx", -60, 60), floor.Y - f("height", 300, 850)},
		HalfWidthFloor: f("half floor", 100, 350), HalfWidthWater: f("half water", 100, 350),
		BowFloor: f("bow floor", -20, 120), BowWater: f("bow water", -60, 60),
	}
}

func TestFrameHeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		h := rapid.Float64Range(-0.1, 1.2).Draw(t, "h")
		assert.InDelta(t, h, f.HeightAt(f.Along(h)), 1e-9)
		assert.InDelta(t, h, f.HeightOfRow(f.At(0, h).Y), 1e-9)
		assert.InDelta(t, 0, f.Along(0), 1e-12)
		assert.InDelta(t, 1, f.Along(1), 1e-12)
	})
}

// A frame given another height as its 1 must show the same places as before.
func TestFrameRebased(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		k := rapid.Float64Range(0.7, 1.1).Draw(t, "k")
		u, h := rapid.Float64Range(-0.99, 0.99).Draw(t, "u"), rapid.Float64Range(0, 1).Draw(t, "h")
		g := f.Rebased(k)
		want, got := f.At(u, h*k), g.At(u, h)
		assert.InDelta(t, want.X, got.X, 1e-6)
		assert.InDelta(t, want.Y, got.Y, 1e-6)
	})
}

func TestFrameScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFrame(t)
		a, b := f.At(0.5, 0.3), f.Scaled(2.5).At(0.5, 0.3)
		assert.InDelta(t, 2.5*a.X, b.X, 1e-6)
		assert.InDelta(t, 2.5*a.Y, b.Y, 1e-6)
	})
}
