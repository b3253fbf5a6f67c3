package jarnet

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func randomNet(seed uint64) *Net {
	n := New()
	r := rand.New(rand.NewPCG(seed, seed))
	for _, p := range n.Parts() {
		for i := range p {
			p[i] = float32(0.1 * r.NormFloat64())
		}
	}
	return n
}

func randomPlanes(n int) []float32 {
	r := rand.New(rand.NewPCG(3, 3))
	out := make([]float32, n)
	for i := range out {
		out[i] = float32(r.NormFloat64())
	}
	return out
}

// The definition of a discrete convolution as image libraries use it (correlation,
// the rim padded with zeros; Gonzalez & Woods, Digital Image Processing, section
// 3.4), written out.
func plainConvolution(c *Conv, x []float32, w, h int) []float32 {
	side := 1
	if c.Taps == 9 {
		side = 3
	}
	ow, oh := w/c.Stride, h/c.Stride
	out := make([]float32, c.Out*ow*oh)
	for o := range c.Out {
		for y := range oh {
			for xx := range ow {
				sum := c.B[o]
				for i := range c.In {
					for t := range c.Taps {
						sx, sy := c.Stride*xx+t%side-side/2, c.Stride*y+t/side-side/2
						if sx >= 0 && sy >= 0 && sx < w && sy < h {
							sum += c.W[(o*c.In+i)*c.Taps+t] * x[(i*h+sy)*w+sx]
						}
					}
				}
				if sum < 0 && !c.Linear {
					sum *= Leak
				}
				out[(o*oh+y)*ow+xx] = sum
			}
		}
	}
	return out
}

func TestConvolutions(t *testing.T) {
	n := randomNet(1)
	for i, c := range n.Convs() {
		w, h := 12, 8
		x := randomPlanes(c.In * w * h)
		assert.InDeltaSlice(t, plainConvolution(c, x, w, h), c.Run(x, w, h), 1e-4, "convolution %d", i)
	}
}

// A box filter by hand: nine ones over a ramp give nine times its middle.
func TestConvolutionByHand(t *testing.T) {
	c := newConv(1, 2, 1, 9, false)
	for i := range 9 {
		c.W[i] = 1
	}
	c.W[9+4] = 2 // the second output is twice the middle
	x := []float32{1, 2, 3, 2, 3, 4, 3, 4, 5}
	assert.Equal(t, []float32{8, 15, 12, 15, 27, 21, 12, 21, 16, 2, 4, 6, 4, 6, 8, 6, 8, 10}, c.Run(x, 3, 3))
}

func TestAddLifted(t *testing.T) {
	to := make([]float32, 16)
	addLifted(to, []float32{1, 2, 3, 4}, 2, 2)
	assert.Equal(t, []float32{1, 1, 2, 2, 1, 1, 2, 2, 3, 3, 4, 4, 3, 3, 4, 4}, to)
}

// Weights that are packed come back to half a step of their bytes, and what is
// packed again is the same.
func TestPackedWeights(t *testing.T) {
	n, m := randomNet(2), New()
	require.NoError(t, m.Unpack(n.Pack()))
	for i, p := range n.Parts() {
		q := m.Parts()[i]
		top := 0.0
		for _, v := range p {
			top = math.Max(top, math.Abs(float64(v)))
		}
		for j := range p {
			assert.InDelta(t, p[j], q[j], top/254+1e-6)
		}
	}
	again := New()
	require.NoError(t, again.Unpack(m.Pack()))
	assert.Equal(t, m.Parts(), again.Parts())
	assert.ErrorContains(t, m.Unpack(n.Pack()[1:]), "belong to another network")
}

func TestVerdictIsAProbability(t *testing.T) {
	var p Patch
	copy(p[:], randomPlanes(len(p)))
	v := Fitted().Judge(&p)
	for _, logp := range [][]float64{v.Left[:], v.Right[:], v.Floor[:], v.Water[:]} {
		sum := 0.0
		for _, l := range logp {
			sum += math.Exp(l)
		}
		assert.InDelta(t, 1, sum, 1e-9)
	}
}

// Places and bins: the middle of the first column is half a column from the left
// end, that of the last row half a row above the lower end.
func TestBins(t *testing.T) {
	assert.InDelta(t, 0, SideBin(-USpan+CellU/2), 1e-12)
	assert.InDelta(t, SideBins-1, SideBin(USpan-CellU/2), 1e-12)
	assert.InDelta(t, RowBins-1, RowBin(-Below+CellV/2), 1e-12)
	assert.InDelta(t, 0, RowBin(PatchH*CellV-Below-CellV/2), 1e-12)
	var v Verdict
	for i := range v.Left {
		v.Left[i], v.Right[i] = -20, -20
	}
	for i := range v.Floor {
		v.Floor[i], v.Water[i] = -20, -20
	}
	v.Left[10], v.Right[30], v.Floor[48], v.Water[20] = 0, 0, 0, 0
	l, r, f := v.Offsets()
	assert.InDelta(t, 10, SideBin(l-1), 1e-6)
	assert.InDelta(t, 30, SideBin(r+1), 1e-6)
	assert.InDelta(t, 48, RowBin(-f), 1e-6)
	assert.InDelta(t, 20, RowBin(v.WaterAt()), 1e-6)
	assert.InDelta(t, math.Log(0.5), LogP(v.Left[:], 10.5, -9), 1e-6)
	assert.Equal(t, -9.0, LogP(v.Left[:], 3, -9))
	assert.Equal(t, -9.0, LogP(v.Left[:], -2, -9))
}

func BenchmarkJudge(b *testing.B) {
	n := Fitted()
	var p Patch
	copy(p[:], randomPlanes(len(p)))
	for b.Loop() {
		n.Judge(&p)
	}
}
