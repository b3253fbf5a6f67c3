package layers

import (
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"mudline/internal/words"
)

func TestMedianAgainstSorting(t *testing.T) {
	assert.Zero(t, median(nil))
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-100, 100), 1, 40).Draw(t, "v")
		s := append([]float64(nil), v...)
		sort.Float64s(s)
		if got := median(v); got != s[len(s)/2] {
			t.Fatalf("median %v, sorted %v", got, s)
		}
	})
}

// A line that leans and bows comes back as it was drawn.
func TestFitCurve(t *testing.T) {
	var us, os []float64
	for u := -0.6; u <= 0.61; u += 0.15 {
		us, os = append(us, u), append(os, 0.4+1.2*u-5*lift(u))
	}
	x := fitCurve(us, os, 0)
	assert.InDelta(t, 0.4, x[0], 1e-9)
	assert.InDelta(t, 1.2, x[1], 1e-9)
	assert.InDelta(t, 5, x[2], 1e-9)
	assert.InDelta(t, 0, roughness(us, os, x), 1e-9)
}

// The height a circle rises at its edge is its whole bow.
func TestLift(t *testing.T) {
	assert.Zero(t, lift(0))
	assert.Equal(t, 1.0, lift(1))
	assert.InDelta(t, 1-math.Sqrt(3)/2, lift(0.5), 1e-12)
}

// The times the priors rest on, against Stokes' law (quartz, water at 20 C;
// 3.594e-6 m/s for 2 um, growing with the square of the diameter): sand above
// 0.05 mm is down from 15 cm within sandDownS even if crowding cuts its speed
// to a third, while grains of 0.02 mm are not; at siltDownS all but the finest
// silt, below 8 um, is down.
func TestSettlingTimes(t *testing.T) {
	speed := func(um float64) float64 { return 3.594e-6 * sq(um/2) }
	const fall = 0.15
	assert.Less(t, fall/(speed(50)/3), float64(sandDownS))
	assert.Greater(t, fall/speed(20), float64(sandDownS))
	assert.Less(t, fall/speed(8), float64(siltDownS))
	assert.Greater(t, fall/speed(4), float64(siltDownS))
}

func TestRefusalNamesThePhoto(t *testing.T) {
	r := &Refusal{Code: RefusedOrder, Text: words.Say("as-it-is", words.Name("text", "what")), Remedy: words.Say("as-it-is", words.Name("text", "do")), Photo: 2}
	assert.EqualError(t, r, "photo 3: what; do")
}

// The columns that are looked at are all those whose middle lies within frontHalf of the
// half width, and no other.
func TestFrontColumns(t *testing.T) {
	for _, s := range []Strip{{W: 96, USpan: 0.9}, {W: 50, USpan: 1}, {W: 9, USpan: 0.6}, {W: 31, USpan: 0.71}} {
		first, end := frontColumns(&s)
		for c := range s.W {
			assert.Equal(t, math.Abs(s.uOf(c)) <= frontHalf, first <= c && c < end, "column %d of %d", c, s.W)
		}
	}
}

// A length is so many rows, one at least; a height and its row edge are one another's.
func TestRowsAndHeights(t *testing.T) {
	k := &columns{topMM: 112, mmPerRow: 0.25}
	assert.Equal(t, 8, k.rows(2))
	assert.Equal(t, 1, k.rows(0.01))
	assert.Equal(t, 48, k.row(100))
	assert.Equal(t, 48, k.row(100.1))
	assert.InDelta(t, 100, k.height(48), 1e-12)
	assert.InDelta(t, 0.25, (&Strip{H: 480, TopMM: 112, BottomMM: -8}).mmPerRow(), 1e-12)
}

// What columns agree on is their median, as surely as a normal law's median absolute deviation
// says (1.4826 of it is the standard deviation: Hampel 1974), over the root of their number;
// those that do not take part are counted.
func TestConsensusOfColumns(t *testing.T) {
	const n, sd = 201, 1.5
	buf := newScratch(n)
	for c := range n {
		off := sd * math.Sqrt2 * math.Erfinv(2*(float64((c*7)%n)+0.5)/n-1)
		buf.per[3*c], buf.per[3*c+1], buf.per[3*c+2] = 8+off, 0, 0
	}
	s := consensus(buf, n)
	assert.InDelta(t, 8, s.size, 1e-9)
	assert.InEpsilon(t, sd/math.Sqrt(n), s.noise, 0.02)
	assert.Equal(t, 1.0, s.share)
	for c := range n / 4 { // a quarter shows another thing
		buf.per[3*c], buf.per[3*c+2] = 0, 9
	}
	assert.InDelta(t, 0.75, consensus(buf, n).share, 0.01)
	buf = newScratch(n)
	assert.Equal(t, step{}, consensus(buf, n), "nothing changes")
}
