package imaging

import (
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The front laid straight as a picture is that laid straight as a strip, rounded to whole
// levels and no darker or lighter for it; its places are those of the frame.
func TestStraightenedIsTheStrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	pic := image.NewRGBA(image.Rect(0, 0, 300, 400))
	for i := range pic.Pix {
		pic.Pix[i] = uint8(60 + rng.IntN(140))
	}
	f := Frame{Floor: Point{150, 340}, Water: Point{156, 80}, HalfWidthFloor: 90, HalfWidthWater: 100, BowFloor: 14, BowWater: -3}
	const top, bottom = 1.1, -0.1
	cut := CutStrip(pic, f, top, bottom)
	straight := Straightened(pic, f, top, bottom)
	again := StripOf(straight, top, bottom)
	require.Equal(t, [2]int{cut.W, cut.H}, [2]int{again.W, again.H})
	assert.Equal(t, cut.USpan, again.USpan)
	var off [3]float64
	for i := range cut.Lab {
		off[i%3] += float64(again.Lab[i]-cut.Lab[i]) / float64(cut.W*cut.H)
	}
	assert.InDeltaSlice(t, []float64{0, 0, 0}, off[:], 0.02)
	for i := 3; i < len(straight.Pix); i += 4 {
		require.Equal(t, uint8(255), straight.Pix[i])
	}
	cut.EachRow(f, func(row int, at []Point) {
		for c := 0; c < cut.W; c += 7 {
			want := f.At(cut.U(c), cut.Height(float64(row)+0.5))
			assert.InDelta(t, want.X, at[c].X, 1e-6)
			assert.InDelta(t, want.Y, at[c].Y, 1e-6)
		}
	})
	assert.InDelta(t, top, cut.Height(0), 1e-9)
	assert.InDelta(t, bottom, cut.Height(float64(cut.H)), 1e-9)
}
