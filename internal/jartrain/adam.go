package main

import (
	"math"

	"mudline/imaging/jarnet"
)

// adam holds the moving moments of the gradients (Kingma & Ba 2015).
type adam struct {
	m, v [][]float32
	step int
}

func newAdam(n *jarnet.Net) *adam {
	a := &adam{}
	for _, p := range n.Parts() {
		a.m, a.v = append(a.m, make([]float32, len(p))), append(a.v, make([]float32, len(p)))
	}
	return a
}

// update moves the weights by a step of the given rate, with decay of the weights.
func (a *adam) update(n, g *jarnet.Net, rate float64) {
	const b1, b2, eps, decay = 0.9, 0.999, 1e-8, 1e-3
	a.step++
	c1, c2 := 1-math.Pow(b1, float64(a.step)), 1-math.Pow(b2, float64(a.step))
	grads := g.Parts()
	norm := 0.0
	for _, p := range grads {
		for _, v := range p {
			norm += float64(v) * float64(v)
		}
	}
	clip := float32(math.Min(1, 5/(math.Sqrt(norm)+1e-9)))
	for i, p := range n.Parts() {
		for j, v := range grads[i] {
			v *= clip
			a.m[i][j] += (1 - b1) * (v - a.m[i][j])
			a.v[i][j] += (1 - b2) * (v*v - a.v[i][j])
			p[j] -= float32(rate * (float64(a.m[i][j])/c1/(math.Sqrt(float64(a.v[i][j])/c2)+eps) + decay*float64(p[j])))
		}
	}
}
