package layers

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// shown is a photo of 96 mm of water with lines of some weights and nothing else, for the
// choice of its deposit's top.
func shown(elapsedS float64, lines ...[2]float64) *photo {
	p := &photo{s: &Strip{Water: Depth{MM: 96}, TopMM: 107, BottomMM: -8, H: 400, ElapsedS: elapsedS, FrameSDMM: 0.3}}
	for _, v := range lines {
		p.lines = append(p.lines, line{step: step{d: [3]float64{-6}, size: 6, share: 1}, z: v[0], weight: v[1]})
	}
	sortLines(p.lines)
	for i := range p.lines {
		p.tops = append(p.tops, i)
	}
	p.tops = append(p.tops, unseen)
	return p
}

// chosen are the heights of the tops that are chosen in some photos, 0 where none is.
func chosen(ps ...*photo) (mm []float64) {
	for i, t := range choose(ps).top {
		z := 0.0
		if t != unseen {
			z = ps[i].lines[t].z
		}
		mm = append(mm, z)
	}
	return mm
}

// What a deposit may sink does not add up: of lines that each lie a little below the last
// one only those are its top that it can have sunk to in all: by a tenth, by what the frames
// err, and a little for the limit is soft.
func TestSinkingDoesNotAddUp(t *testing.T) {
	ps := []*photo{shown(8500, [2]float64{17.5, 2}), shown(18000, [2]float64{18.5, 2})}
	lower := 18.5
	for _, s := range []float64{26000, 38000, 56000, 81000, 118000, 172000} {
		lower *= 0.93
		ps = append(ps, shown(s, [2]float64{18.4, 0.9}, [2]float64{lower, 1.2}))
	}
	for _, mm := range chosen(ps...)[1:] {
		assert.Greater(t, mm, 18.5*(1-mostDenser-0.05)-2*(0.6+0.192))
	}
	assert.Less(t, lower, 12.0)
}

// A photo that shows no top does not make those after it free to show any.
func TestAPhotoWithoutATopInterruptsNothing(t *testing.T) {
	got := chosen(shown(8500, [2]float64{17.5, 2}), shown(18000, [2]float64{18.5, 2}), shown(26000),
		shown(38000, [2]float64{18.4, 0.7}, [2]float64{12.8, 1.8}), shown(56000, [2]float64{18.4, 0.7}, [2]float64{12.8, 1.8}))
	assert.Equal(t, []float64{17.5, 18.5, 0, 18.4, 18.4}, got)
	// And growth goes on behind it.
	assert.Equal(t, []float64{5, 0, 12.5}, chosen(shown(60, [2]float64{5, 1.5}), shown(600), shown(4000, [2]float64{12.5, 1.5})))
}

// The far edge of the deposit, high and clear in all late photos, is not its top: it would
// have had to rise in an hour by as much as in all the time before.
func TestADepositDoesNotLeap(t *testing.T) {
	ps := []*photo{shown(4000, [2]float64{14.4, 2}), shown(5800, [2]float64{16, 2}), shown(8500, [2]float64{17.5, 2}), shown(12400, [2]float64{18.3, 2}), shown(18000, [2]float64{18.6, 0.8})}
	for _, s := range []float64{26000, 38000, 56000, 81000, 118000, 172000} {
		ps = append(ps, shown(s, [2]float64{18.4, 0.8}, [2]float64{44, 1.5}))
	}
	assert.Equal(t, []float64{14.4, 16, 17.5, 18.3, 18.6, 18.4, 18.4, 18.4, 18.4, 18.4, 18.4}, chosen(ps...))
}
