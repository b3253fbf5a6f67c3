package layers

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// How much a line counts as the deposit's top: fully where settled grains are the darker
// side, and in the first minutes, when sand may lie bare; less later; and hardly where it
// only brightens downwards, as a mirrored horizon does, unless grain shows that it is sand.
func TestEvidenceOfATop(t *testing.T) {
	const w = 2.0
	lessThanHalf := func(v float64, why string) { assert.True(t, 0 < v && v < w/2, "%s: %g", why, v) }
	nearlyAll := func(v float64, why string) { assert.True(t, w/2 < v && v < 0.9*w, "%s: %g", why, v) }
	of := func(elapsedS, grain float64, d [3]float64) float64 {
		p := &photo{s: &Strip{Water: Depth{MM: 100}, ElapsedS: elapsedS}, grain: grain}
		l := line{step: step{d: d, size: math.Sqrt(sq(d[0]) + sq(d[1]) + sq(d[2]))}, z: 30, weight: w}
		return p.evidence(&l)
	}
	darker, lessRed, brighter := [3]float64{-8, 2, 0}, [3]float64{6, -4, 3}, [3]float64{8, 0.5, 1}
	yellow := [3]float64{6, 0, 5}
	for _, s := range []float64{60, 172800} {
		assert.Equal(t, w, of(s, 0, darker))
		lessThanHalf(of(s, 0, brighter), "a reflection")
	}
	assert.Equal(t, w, of(60, 0, lessRed), "bare sand")
	nearlyAll(of(7200, 0, lessRed), "no sand is bare so late")
	nearlyAll(of(7200, 0, yellow), "of another colour")
	assert.Equal(t, w, of(60, 12, brighter), "grainy up to there")
	lessThanHalf(of(60, 8, brighter), "grainy far below only")

	// Where the far edge of the surface is seen as well, the water is clear, and either
	// side of the near edge may be the darker.
	far := line{step: step{size: 8}, z: 30 + 10*arcPerBow, curve: 12}
	near := line{step: step{d: brighter, size: 8}, z: 30, weight: w}
	p := clearAndArc(near, far)
	assert.Equal(t, w, p.evidenceUnder(&near, 0))
	assert.Equal(t, p.evidence(&near), p.evidenceUnder(&near, -1))
	p.lines[0].z += 6
	assert.Equal(t, p.evidence(&near), p.evidenceUnder(&near, 0), "another line's")
}

// How much a line counts at all: by the logarithm of its size over the noise, less where
// few columns take part, where they disagree, and where it wanders.
func TestWeightOfALine(t *testing.T) {
	of := func(noise float64, change func(*line)) float64 {
		l := line{step: step{size: 8, noise: 0.1, share: 1}}
		if change != nil {
			change(&l)
		}
		p := &photo{s: &Strip{Water: Depth{MM: 100}}, noise: noise, lines: []line{l}}
		p.weigh()
		return p.lines[0].weight
	}
	clear := of(0.5, nil)
	assert.InDelta(t, math.Log(1+8/1.0), clear, 1e-9, "twice the noise counts as one")
	assert.InDelta(t, of(0.1, nil), of(0.2, nil), 1e-9, "a quiet strip is no better than a usual one")
	assert.InDelta(t, math.Log(1+16/1.0), of(0.5, func(l *line) { l.size = 16 }), 1e-9)
	for why, worse := range map[string]float64{
		"in noise":     of(1, nil),
		"in few":       of(0.5, func(l *line) { l.share = 0.7 }),
		"wanders":      of(0.5, func(l *line) { l.rough = 1.1 }),
		"disagreement": of(0.5, func(l *line) { l.noise = 3 }),
	} {
		assert.Less(t, worse, clear-0.1, why)
		assert.Greater(t, worse, clear-1.2, why)
	}
}

// One explanation of a photo against another, in what counts for and against a top; how
// much is a judgement and not held here.
func TestScoreOfATop(t *testing.T) {
	darker := func(z, weight float64) line {
		return line{step: step{d: [3]float64{-8}, size: 8, share: 1}, z: z, weight: weight}
	}
	lighter := func(z, weight float64) line {
		l := darker(z, weight)
		l.d[0] = 8
		return l
	}
	at := func(elapsedS, sand float64, top int, lines ...line) float64 {
		p := &photo{s: &Strip{Water: Depth{MM: 100}, ElapsedS: elapsedS}, lines: lines}
		return p.topScore(top, sand)
	}
	const late, clearly = 172800, 0.1
	top := darker(30, 1.5)
	alone := at(late, 0, 0, top)
	against := func(score float64, why string) {
		assert.Less(t, score, alone-clearly, why)
		assert.Greater(t, score, alone-4, why)
	}
	assert.Greater(t, alone, at(late, 0, unseen)+1, "a clear line is the top rather than none")
	assert.Greater(t, at(late, 0, 0, darker(30, 2)), alone+clearly, "the clearer the better")
	against(at(late, 0, 0, darker(65, 1.5)), "nobody fills a jar that full")
	against(at(late, 0, 0, darker(6, 1.5)), "or that empty")
	assert.InDelta(t, alone, at(600, 0, 0, darker(6, 1.5)), 1e-9, "but it may not be all down")
	assert.Zero(t, at(late, 20, unseen))
	assert.Zero(t, at(120, 4, unseen))
	assert.Less(t, at(120, 6, unseen), -1.0, "that much sand would have shown")

	bent := top
	bent.curve = 2.5
	against(at(late, 0, 0, bent), "bent")
	bent.curve = 5
	assert.Less(t, at(late, 0, 0, bent), alone-2, "a far edge, not a near one")

	// Above the top, lines are common, lighter ones below most of all; inside it one is
	// expected, and each more is not.
	above, reflection := at(late, 0, 1, darker(60, 1.7), top), at(late, 0, 1, lighter(60, 1.7), top)
	against(above, "above")
	against(reflection, "above")
	assert.Greater(t, reflection, above+clearly)
	assert.InDelta(t, alone, at(late, 0, 1, darker(60, 0.7), top), 1e-9, "faint")
	inside := at(late, 0, 0, top, darker(20, 1.8))
	more := at(late, 0, 0, top, darker(20, 1.8), darker(12, 1.8))
	against(inside, "inside")
	assert.Less(t, more, inside-(alone-inside)-clearly, "the second counts more than the first")
	assert.InDelta(t, alone, at(late, 0, 0, top, darker(20, 0.7)), 1e-9, "faint")
	assert.InDelta(t, alone, at(late, 0, 0, top, darker(1.5, 1.8)), 1e-9, "the dark foot")
	arc := darker(20, 1)
	arc.curve = 6
	against(at(late, 0, 0, top, arc), "no surface is seen inside the deposit")

	// A line where the sand ends speaks for both, washed sand being lighter.
	washed, dark := at(late, 20, 0, top, lighter(20, 1.8)), at(late, 20, 0, top, darker(20, 1.8))
	assert.Greater(t, washed, dark+clearly)
	assert.Greater(t, dark, alone+clearly)
	strong := at(late, 20, 0, top, lighter(20, 9))
	assert.Greater(t, strong, washed)
	assert.Less(t, strong, alone+4, "bounded")
	over, under := at(late, 20, 0, top, darker(22, 1.8)), at(late, 20, 0, top, darker(18, 1.8))
	against(over, "silt under clay")
	assert.Less(t, under, over-clearly, "below the sand's top no boundary is expected")
}

// Faint tops bear each other out where they rise by a hundredth of the depth and are as
// much together as two that are clear enough; the last photo must show one.
func TestFaintTopsThatGrow(t *testing.T) {
	says := func(weight float64, heights ...float64) bool {
		var ps []*photo
		var c choice
		for _, z := range heights {
			l := line{step: step{d: [3]float64{-3}, size: 3}, z: z, weight: weight}
			ps = append(ps, &photo{s: &Strip{W: 96, H: 480, USpan: 0.9, TopMM: 112, BottomMM: -8, Water: Depth{MM: 100}, ElapsedS: 7200}, lines: []line{l}})
			if z == 0 {
				c.top = append(c.top, unseen)
			} else {
				c.top = append(c.top, 0)
			}
		}
		return grows(ps, c)
	}
	enough := 1.01 * faintest
	assert.True(t, says(enough, 20, 25))
	assert.True(t, says(enough, 20, 0, 21.1))
	assert.False(t, says(enough, 20, 20.9), "no more than errors")
	assert.False(t, says(enough, 25, 20))
	assert.False(t, says(enough, 20), "one alone")
	assert.False(t, says(enough, 20, 25, 0), "gone in the last")
	assert.False(t, says(0.98*faintest, 20, 25), "too faint together")
	assert.True(t, says(0.7*faintest, 20, 23, 25), "three of them")
	assert.False(t, says(0.4*faintest, 20, 21, 22, 23, 24, 25), "each too faint to count")
}
