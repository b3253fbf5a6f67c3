package jarfind

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// marked is a spot with lines at heights in radii, all as strong as counts, the first of
// which looks like the top of what fills a jar.
func marked(score float64, ratios ...float64) spot {
	s := spot{stand: stand{
		left: sideLine{X: 300, Y: 1000}, right: sideLine{X: 500, Y: 1000}, floor: floorLine{Y: 1000, Bow: 20, sd: 2},
		focal: 1500, horizon: 700, middle: 800, score: score, odds: 5,
	}}
	for i, r := range ratios {
		m := waterMark{Ratio: r, Y: s.rowOf(r), strength: strongEnough, filled: 0.4, like: 1}
		if i == 0 {
			m.filled = 0.9
		}
		s.marks = append(s.marks, m)
	}
	return s
}

// Two ratios of one jar agree wholly where they are the same, and by a bell with a tail
// where not.
func TestAgreement(t *testing.T) {
	assert.InDelta(t, 1, agreement(3, 3), 1e-12)
	z := func(d, sd float64) float64 { return math.Exp(-d * d / sd / sd / 2) }
	for _, d := range []float64{0.004, 0.01, 0.03} {
		want := (1-tailShare)*z(d, ratioSpread) + tailShare*z(d, ratioTail)
		assert.InDelta(t, want, agreement(3*(1+d), 3), 1e-12)
		assert.InDelta(t, want, agreement(3*(1-d), 3), 1e-12)
	}
}

// The lines of two spots agree wholly where each has its like, half where every other
// has, not at all where none has; which is asked of which makes no difference.
func TestLinesAgree(t *testing.T) {
	a := marked(0, 2.8, 3.4)
	for _, c := range []struct {
		b    spot
		want float64
	}{{marked(0, 2.8, 3.4), 1}, {marked(0, 3.4, 2.8), 1}, {marked(0, 2.8, 4.2), 0.5}, {marked(0, 1.5, 5), 0}, {marked(0), 0}} {
		assert.InDelta(t, c.want, linesAgree(&a, &c.b), 1e-6)
		assert.InDelta(t, linesAgree(&a, &c.b), linesAgree(&c.b, &a), 1e-12)
	}
	faint := marked(0, 2.8, 4.2)
	faint.marks[1].strength = strongEnough / 100
	assert.Greater(t, linesAgree(&a, &faint), 0.6, "a faint line that has no like counts little")
}

// In each photo the spot is taken whose lines agree with those of the others, also where
// another looks better by itself, but not where it looks far better.
func TestSpotsAreChosenTogether(t *testing.T) {
	right, wrong := marked(0, 2.8, 3.4), marked(2, 2.5, 3.04)
	other := &Sighting{spots: []spot{marked(1, 2.8, 3.4)}}
	both := &Sighting{spots: []spot{wrong, right}}
	empty := &Sighting{}
	got := chooseSpots([]*Sighting{both, other, empty})
	assert.Same(t, &both.spots[1], got[0])
	assert.Same(t, &other.spots[0], got[1])
	assert.Nil(t, got[2])
	both.spots[0].score = 60
	assert.Same(t, &both.spots[0], chooseSpots([]*Sighting{both, other})[0])
	assert.Same(t, &both.spots[0], chooseSpots([]*Sighting{both})[0], "alone: the best by itself")
}

// The water is the common line that looks like water; a lid above it is common too, and
// a line as good below it is preferred.
func TestCommonRatio(t *testing.T) {
	a, b, c := marked(0, 2.8, 3.4), marked(0, 2.8, 3.4), marked(0, 2.81, 3.4, 1.7)
	assert.InDelta(t, 2.8, commonRatio([]*spot{&a, &b, &c, nil}), 0.02)
	for _, s := range []*spot{&a, &b, &c} { // in clear water neither looks like a filled jar
		s.marks[0].filled = 0.4
	}
	assert.InDelta(t, 2.8, commonRatio([]*spot{&a, &b, &c}), 0.02, "the lower of two alike")
	assert.Equal(t, usualRatio, commonRatio([]*spot{nil}))
	assert.InDelta(t, 2.8, usualRatio, 0.5)
}

// The water's row is that of the line nearest to the common height, the upper edge of its
// meniscus; where none is near it is placed by the others.
func TestWaterLineOfOnePhoto(t *testing.T) {
	v := marked(0, 2.8, 2.825, 3.4)
	m := v.topMark(2.8, true)
	require.NotNil(t, m)
	assert.Equal(t, 2.825, m.Ratio, "the meniscus has an upper edge")
	v.marks[1].strength = 0.3 * strongEnough
	assert.Equal(t, 2.8, v.topMark(2.8, true).Ratio, "too faint beside the line")
	v.marks[1].strength, v.marks[1].Ratio = strongEnough, 2.84
	assert.Equal(t, 2.8, v.topMark(2.8, true).Ratio, "too far above it")
	assert.Nil(t, v.topMark(3.1, true))

	p := v.place(2.8, true, false)
	assert.True(t, p.WaterSeen)
	assert.InDelta(t, v.rowOf(2.8), p.Frame.Water.Y, 1e-9)
	assert.InDelta(t, 400, p.Frame.Water.X, 1e-9)
	assert.InDelta(t, 100, p.Frame.HalfWidthFloor, 1e-9)
	assert.InDelta(t, v.bow(1000)/flatter, p.Frame.BowFloor, 1e-9)
	assert.InDelta(t, v.bow(p.Frame.Water.Y)/flatter, p.Frame.BowWater, 1e-9)
	assert.InDelta(t, math.Hypot(0.003, 2/(1000-p.Frame.Water.Y)), p.FloorSD, 1e-9)
	guessed := v.place(3.1, true, false)
	assert.False(t, guessed.WaterSeen)
	assert.InDelta(t, v.rowOf(3.1), guessed.Frame.Water.Y, 1e-9)
	assert.Greater(t, guessed.WaterSD, p.WaterSD)
	v.marks[0].filled = 0.4
	assert.Equal(t, waterGuessSD, v.place(2.8, true, true).WaterSD, "alone in clear water")
	v.floor.sd = math.Inf(1)
	assert.Greater(t, v.place(2.8, true, false).FloorSD, p.FloorSD, "a floor nobody saw")
}

// A photo whose jar is hidden in part is read where most of the others are sure; one that
// shows none is not.
func TestHiddenJarsAreBorneOut(t *testing.T) {
	seen := func(odds ...float64) (out []*Placement) {
		var s []*Sighting
		for _, o := range odds {
			v := marked(0, 2.8, 3.4)
			v.odds = o
			s = append(s, &Sighting{spots: []spot{v}})
		}
		return Settle(s)
	}
	assert.Nil(t, seen(-1)[0])
	assert.NotNil(t, seen(1)[0])
	assert.NotNil(t, seen(-1, 5, 5)[0], "the others are sure")
	assert.NotNil(t, seen(-1, 5, 5, 1)[0], "most of them")
	assert.Nil(t, seen(-1, 5, 1)[0], "half of them")
	assert.Nil(t, seen(-4, 5, 5)[0], "it shows none")
	boxed := marked(0, 2.8)
	boxed.odds = -9
	p := Settle([]*Sighting{{spots: []spot{boxed}, boxed: true}})[0]
	require.NotNil(t, p, "a person says that there is one")
	assert.True(t, p.Boxed)
}

// A box that a person drew holds the outline, give or take a tenth of it.
func TestOutlinesInABox(t *testing.T) {
	o := outline{left: sideLine{X: 100}, right: sideLine{X: 200}, foot: arc{Y: 300}}
	for box, want := range map[image.Rectangle]bool{
		{}: true, image.Rect(195, 200, 405, 620): true, image.Rect(215, 200, 405, 620): true, // twice the size
		image.Rect(225, 200, 405, 620): false, image.Rect(195, 200, 375, 620): false, // cut on either side
		image.Rect(20, 200, 600, 620):  false,                                        // much wider than it
		image.Rect(195, 200, 405, 570): false, image.Rect(195, 601, 405, 900): false, // its foot is outside
	} {
		assert.Equal(t, want, inBox(o, 2, box), "%v", box)
	}
	moved := func(l, r, y float64) outline {
		m := o
		m.left.X, m.right.X, m.foot.Y = m.left.X+l, m.right.X+r, m.foot.Y+y
		return m
	}
	assert.True(t, alike(moved(0.5, -0.5, 10), []outline{o}))
	for _, other := range []outline{moved(0.7, 0, 0), moved(0, 0.7, 0), moved(0, 0, 16)} {
		assert.False(t, alike(other, []outline{o}))
	}
	assert.False(t, alike(o, nil))
}

// A line looks like the top of what fills a jar where it is that far down of one colour below
// it, and of another above; the horizon in clear water is neither.
func TestFilledBelowALine(t *testing.T) {
	const floor, water = 1000.0, 400.0
	of := func(colour func(y float64) float32) frontProfile {
		p := frontProfile{floor: floor}
		for y := floor; y > 100; y -= profileStep {
			p.lab = append(p.lab, [3]float32{colour(y), 0, 0})
		}
		return p
	}
	mud := of(func(y float64) float32 {
		if y > water {
			return 30
		}
		return 80
	})
	ramp := of(func(y float64) float32 { return float32(floor-y) / 10 })
	assert.InDelta(t, 45, ramp.mean(500, 600)[0], 0.3)
	assert.InDelta(t, 89, ramp.mean(50, 120)[0], 1.2, "as far as it goes")
	assert.Greater(t, mud.filled(water), 0.9)
	assert.Less(t, mud.filled(600), 0.1, "nothing changes there")
	lid := of(func(y float64) float32 {
		switch {
		case y > 500:
			return 30
		case y > water:
			return 55
		}
		return 80
	})
	assert.Less(t, lid.filled(water), mud.filled(water)-0.2, "another colour further down")
}
