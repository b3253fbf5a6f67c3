package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/imaging/jarnet"
)

func randomPatch(r *rand.Rand) *jarnet.Patch {
	p := new(jarnet.Patch)
	for i := range p {
		p[i] = float32(r.NormFloat64())
	}
	return p
}

// The gradients beside differences of the loss (central differences, Press and
// others, Numerical Recipes, section 5.7).
func TestGradientsAreSlopesOfTheLoss(t *testing.T) {
	n := jarnet.New()
	initialise(n)
	r := rand.New(rand.NewPCG(5, 5))
	s := &sample{patch: randomPatch(r), jar: true, weight: 1, off: [3]float64{0.1, -0.2, 0.3}, water: 2.71}
	l := newLearner(n)
	l.begin()
	l.learn(s)
	grads, parts := l.gradients().Parts(), n.Parts()
	lossWith := func(w *float32, v float32) float64 {
		old := *w
		defer func() { *w = old }()
		*w = v
		k := newLearner(n)
		k.begin()
		return k.learn(s)
	}
	bad, all := 0, 0
	for i, p := range parts {
		for range 6 {
			j := r.IntN(len(p))
			const e = 2e-3
			slope := (lossWith(&p[j], p[j]+e) - lossWith(&p[j], p[j]-e)) / (2 * e)
			all++
			// Where a rectifier bends within the step the difference is off: seldom.
			if math.Abs(slope-float64(grads[i][j])) > 0.01+0.05*math.Abs(slope) {
				bad++
			}
		}
	}
	assert.LessOrEqual(t, bad, all/20, "of %d gradients", all)
}

// The learner's forward pass and the network's own are two implementations.
func TestLearnerSeesWhatTheNetworkSays(t *testing.T) {
	n := jarnet.New()
	initialise(n)
	r := rand.New(rand.NewPCG(6, 6))
	for range 3 {
		s := &sample{patch: randomPatch(r), jar: true, weight: 1, off: [3]float64{-0.1, 0.2, 0.05}, water: 3.1}
		l := newLearner(n)
		l.begin()
		want, _, _ := loss(n.Judge(s.patch), s)
		assert.InDelta(t, want, l.learn(s), 1e-3)
	}
}

func TestKernelsAgree(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	fill := func(n int) []float32 {
		v := make([]float32, n)
		for i := range v {
			v[i] = float32(r.NormFloat64())
		}
		return v
	}
	for _, p := range []plan{{pw: 13, in: 3, w: 5, h: 4, out: 6, stride: 2, taps: 9}, {pw: 8, in: 4, w: 5, h: 6, out: 3, stride: 1, taps: 9}, {pw: 5, in: 4, w: 5, h: 6, out: 3, stride: 1, taps: 1}} {
		in, w, b := fill(p.pw*14*p.in), fill(p.taps*p.in*p.out), fill(p.out)
		a, c := make([]float32, p.w*p.h*p.out), make([]float32, p.w*p.h*p.out)
		forward(p, in, w, b, a, 0.1)
		forwardGo(p, in, w, b, c, 0.1)
		assert.InDeltaSlice(t, a, c, 1e-4)
		d := fill(len(a))
		dw, db, din := make([]float32, len(w)), make([]float32, p.out), make([]float32, len(in))
		ew, eb, ein := make([]float32, len(w)), make([]float32, p.out), make([]float32, len(in))
		backward(p, in, w, d, dw, db, din)
		backwardGo(p, in, w, d, ew, eb, ein)
		assert.InDeltaSlice(t, dw, ew, 1e-3)
		assert.InDeltaSlice(t, db, eb, 1e-3)
		assert.InDeltaSlice(t, din, ein, 1e-3)
	}
}

// A scene's place is where the jar was drawn: a place moved off it is off by as
// much, and the mask covers the jar between its sides.
func TestScenesKnowWhereTheJarIs(t *testing.T) {
	bases, err := loadJars([]string{"../../testdata/jars"}, func(string) bool { return true })
	assert.NoError(t, err)
	m := &maker{bases: bases}
	r := rand.New(rand.NewPCG(8, 8))
	for range 10 {
		s := m.scene(r)
		w, h := s.pic.Rect.Dx(), s.pic.Rect.Dy()
		inside := func(u, v float64) (float32, bool) {
			p := s.place.At(u, v)
			x, y := int(p.X), int(p.Y)
			if x < 0 || y < 0 || x >= w || y >= h {
				return 0, false
			}
			return s.alpha[y*w+x], true
		}
		for _, v := range []float64{0.3, 0.8, 1.4} {
			for _, u := range []float64{-0.85, 0, 0.85} {
				if a, ok := inside(u, v); ok {
					assert.Greater(t, a, float32(0.9), "u %g v %g", u, v)
				}
			}
			for _, u := range []float64{-1.15, 1.15} {
				if a, ok := inside(u, v); ok {
					assert.Less(t, a, float32(0.1), "u %g v %g", u, v)
				}
			}
		}
		moved := s.place.Moved(0.1, -0.05, 0.2)
		left, right, floor := moved.Off(s.place)
		k := s.place.Half / moved.Half
		assert.InDelta(t, -0.1*k, left, 0.01)
		assert.InDelta(t, 0.05*k, right, 0.01)
		assert.InDelta(t, -0.2*k, floor, 0.01)
	}
}

func TestFittingLowersTheLoss(t *testing.T) {
	bases, err := loadJars([]string{"../../testdata/jars"}, func(string) bool { return true })
	assert.NoError(t, err)
	m := &maker{bases: bases}
	n := jarnet.New()
	initialise(n)
	r := rand.New(rand.NewPCG(9, 9))
	s := m.fromScene(r)
	opt, l := newAdam(n), newLearner(n)
	var first, last float64
	for step := range 20 {
		l.begin()
		sum := 0.0
		for _, one := range s {
			sum += l.learn(one)
		}
		if step == 0 {
			first = sum
		}
		last = sum
		opt.update(n, l.gradients(), 2e-3)
	}
	assert.Less(t, last, first/2)
}
