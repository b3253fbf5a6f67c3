package pixels

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Sums of several pixels in the lanes of a word are those of each by itself.
func TestAddRowAgainstPlainSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 41).Draw(t, "pixels")
		sums, want := make([]uint64, (n+7)/8*2), make([]int, n)
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			row := rapid.SliceOfN(rapid.Uint8(), n, n).Draw(t, "row")
			weight := rapid.Uint64Range(0, 60).Draw(t, "weight")
			AddRow(sums, row, weight)
			for i, v := range row {
				want[i] += int(v) * int(weight)
			}
		}
		for i := range want {
			assert.Equal(t, want[i], int(Lane(sums, i)), "pixel %d", i)
		}
	})
}

func TestSumOfFour(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		eight := func(name string) []uint8 { return rapid.SliceOfN(rapid.Uint8(), 8, 8).Draw(t, name) }
		u, l := eight("upper"), eight("lower")
		four := func(k int) uint64 { return uint64(u[k]) + uint64(u[k+4]) + uint64(l[k]) + uint64(l[k+4]) }
		redBlue, green := SumOfFour(u, l)
		assert.Equal(t, four(0), redBlue&0xffff)
		assert.Equal(t, four(2), redBlue>>16&0xffff)
		assert.Equal(t, four(1), green&0xffff)
	})
}

func TestMeanOfABox(t *testing.T) {
	pic := noise(13, 11)
	for _, box := range []image.Rectangle{image.Rect(0, 0, 13, 11), image.Rect(3, 2, 9, 10), image.Rect(12, 10, 13, 11)} {
		var sum [3]float64
		for y := box.Min.Y; y < box.Max.Y; y++ {
			for x := box.Min.X; x < box.Max.X; x++ {
				c := pic.RGBAAt(x, y)
				sum[0], sum[1], sum[2] = sum[0]+float64(c.R), sum[1]+float64(c.G), sum[2]+float64(c.B)
			}
		}
		r, g, b := Mean(pic, box.Min.X, box.Min.Y, box.Max.X, box.Max.Y)
		for k, got := range []float32{r, g, b} {
			assert.InDelta(t, sum[k]/float64(box.Dx()*box.Dy()), got, 1e-3)
		}
	}
	r, g, b := Mean(pic, 4, 4, 4, 9)
	assert.Zero(t, r+g+b, "an empty box")
}

// Bilinear interpolation by its definition (Gonzalez & Woods, Digital Image Processing,
// section 2.4): each of four neighbours by the area opposite to it, the edge repeated.
func TestBilinearByDefinition(t *testing.T) {
	pic := noise(9, 7)
	at := func(x, y, k int) float64 {
		return float64(pic.Pix[pic.PixOffset(min(max(x, 0), 8), min(max(y, 0), 6))+k])
	}
	rng := rand.New(rand.NewPCG(3, 4))
	for range 400 {
		x, y := rng.Float64()*13-2, rng.Float64()*11-2
		x0, y0 := math.Floor(x-0.5), math.Floor(y-0.5)
		fx, fy := x-0.5-x0, y-0.5-y0
		r, g, b := Bilinear(pic, x, y)
		for k, got := range []float32{r, g, b} {
			i, j := int(x0), int(y0)
			want := (1-fx)*(1-fy)*at(i, j, k) + fx*(1-fy)*at(i+1, j, k) + (1-fx)*fy*at(i, j+1, k) + fx*fy*at(i+1, j+1, k)
			assert.InDelta(t, want, got, 1e-3, "%g, %g", x, y)
		}
	}
	r, _, _ := Bilinear(pic, 3.5, 2.5)
	assert.Equal(t, at(3, 2, 0), float64(r), "the middle of a pixel")
	r, _, _ = Bilinear(pic, math.NaN(), 0.5)
	assert.Equal(t, at(0, 0, 0), float64(r), "no number")
}
