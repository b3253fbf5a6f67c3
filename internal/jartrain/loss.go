package main

import (
	"math"

	"mudline/imaging/jarnet"
)

// placeShare is what the log loss of each place counts for beside that of jar or
// not.
const placeShare = 0.4

// loss is how badly a verdict fits a sample, and its gradients by the log odds
// and by the heads.
func loss(v *jarnet.Verdict, s *sample) (value float64, dOdds float32, dHeads []float32) {
	p := 1 / (1 + math.Exp(-v.LogOdds))
	y := 0.0
	if s.jar {
		y = 1
	}
	value = s.weight * -(y*math.Log(p+1e-9) + (1-y)*math.Log(1-p+1e-9))
	w, h := jarnet.Grid(1)
	dHeads = make([]float32, jarnet.HeadPlanes*w*h)
	if s.jar {
		l, dl := binLoss(v.Left[:], jarnet.SideBin(s.off[0]-1))
		r, dr := binLoss(v.Right[:], jarnet.SideBin(s.off[1]+1))
		f, df := binLoss(v.Floor[:], jarnet.RowBin(-s.off[2]))
		w, dw := binLoss(v.Water[:], jarnet.RowBin(s.water))
		value += l + r + f + w
		jarnet.SpreadBack(dl, dr, df, dw, dHeads)
	}
	return value, float32(s.weight * (p - y)), dHeads
}

// binLoss is the log loss of a place that lies at a bin with its fraction.
func binLoss(logp []float64, at float64) (value float64, grad []float64) {
	grad = make([]float64, len(logp))
	i := int(math.Floor(at))
	if i < 0 || i+1 >= len(logp) {
		return 0, grad
	}
	f := at - float64(i)
	for k, l := range logp {
		grad[k] = placeShare * math.Exp(l)
	}
	grad[i] -= placeShare * (1 - f)
	grad[i+1] -= placeShare * f
	return -placeShare * ((1-f)*logp[i] + f*logp[i+1]), grad
}
