package texture

// Layers are the heights of the boundaries of one moment, mm above the floor.
type Layers struct{ SandTopMM, SiltTopMM, DepositTopMM float64 }

// ByThickness returns the shares of layer thickness, percent: what a ruler
// says. False when the deposit has no height or the lines are out of order.
func ByThickness(l Layers) (Fractions, bool) {
	if !(l.SandTopMM >= 0 && l.SiltTopMM >= l.SandTopMM && l.DepositTopMM >= l.SiltTopMM && l.DepositTopMM > 0) {
		return Fractions{}, false
	}
	return Fractions{l.SandTopMM, l.SiltTopMM - l.SandTopMM, l.DepositTopMM - l.SiltTopMM}.Normalised(), true
}

// ByPacking returns percent by mass of the same layers when each is packed at
// its unit weight w: the ruler corrected for how loosely each layer lies.
func ByPacking(l Layers, w UnitWeights) (Fractions, bool) {
	v, ok := ByThickness(l)
	return Fractions{v.Sand * w.Sand, v.Silt * w.Silt, v.Clay * w.Clay}.Normalised(), ok
}

// Measure sets what a ruler says, and with it why the reading differs. thick are the
// lines' heights, volume the same where layers count by volume.
func (r *Result) Measure(thick, volume Layers) {
	f, ok := ByThickness(thick)
	p, inOrder := ByPacking(volume, SubmergedUSBR)
	if !ok || !inOrder {
		return
	}
	r.ByThickness, r.ByPacking = &f, &p
	r.Reason = reason(r)
}

// latestLayers takes the layers of the last photo that shows its deposit top,
// with boundaries not seen there borrowed from the latest photo that has them.
func latestLayers(obs []Observation, s Setup) (Layers, bool) {
	straight := s.straighten()
	var l Layers
	var got [3]bool
	for i := len(obs) - 1; i >= 0; i-- {
		o := obs[i]
		for k, h := range []*Height{o.DepositTop, o.SandTop, o.SiltTop} {
			if h == nil || got[k] {
				continue
			}
			got[k] = true
			mm, _ := straight(h.Share, 0)
			*[]*float64{&l.DepositTopMM, &l.SandTopMM, &l.SiltTopMM}[k] = mm
		}
	}
	if l.SiltTopMM > l.DepositTopMM {
		l.SiltTopMM = l.DepositTopMM
	}
	return l, got[0] && got[1] && got[2]
}
