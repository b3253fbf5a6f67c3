package texture

import (
	"math"
	"slices"
)

// arrivals fills when sand, silt and clay are down over the plausible soils.
func (d *design) arrivals(out *JarPlan) {
	var sand, silt, clay []float64
	for i := range d.soils {
		var j jar
		d.prior.apply(&d.soils[i], &d.cond, &j)
		j.Settle(MaxElapsedS)
		sand = append(sand, j.arrival(sandClasses-1))
		silt = append(silt, j.arrival(sandClasses+siltClasses-1))
		clay = append(clay, j.clearBy())
	}
	out.SandDownS, out.SiltDownS, out.ClayDownS = middle(sand), middle(silt), middle(clay)
}

// arrival is when the finest grain of a class, its lower edge, reaches the
// deposit: the front of the class, slowed to the edge's velocity.
func (j *jar) arrival(class int) float64 {
	f := NewFluid(j.TempC, j.GrainDensity)
	mid, edge := f.SettlingMMS(grainDiamUM[class]), f.SettlingMMS(grainEdgesUM[class+1])
	for k := range j.layerCount {
		if j.classFree[k] == mid {
			return j.layers[k].end * mid / edge
		}
	}
	return MaxElapsedS
}

// clearBy is when less than a hundredth of the soil is left in the water.
func (j *jar) clearBy() float64 {
	for t := 60.0; t < MaxElapsedS; t *= 1.1 {
		if j.At(t).SuspendedShare < 0.01 {
			return t
		}
	}
	return MaxElapsedS
}

// middle is the median and the 5 and 95 % quantiles of plain values.
func middle(v []float64) Estimate {
	slices.Sort(v)
	n := float64(len(v) - 1)
	return Estimate{Value: v[int(n/2)], Low: v[int(0.05*n)], High: v[int(math.Ceil(0.95*n))]}
}

// recipes judges the marks of the usual recipe in this jar.
func (d *design) recipes(p *JarPlan) []Recipe {
	out := []Recipe{
		{Name: "1 minute", ElapsedS: 60, Means: "the sand is down", DueS: p.SandDownS.Value},
		{Name: "2 hours", ElapsedS: 7200, Means: "the silt is down", DueS: p.SiltDownS.Value},
		{Name: "2 days", ElapsedS: 172800, Means: "the clay is down", DueS: p.ClayDownS.Value},
	}
	times := []float64{60, 7200, 172800}
	for i := range d.soils {
		h, soil := d.run(&d.soils[i], times)
		total := h[2][depositTop]
		marks := [3]float64{h[0][depositTop], h[1][depositTop] - h[0][depositTop], total - h[1][depositTop]}
		for k, truth := range [3]float64{soil.Sand, soil.Silt, soil.Clay} {
			off := (100*marks[k]/total - truth) / float64(len(d.soils))
			out[k].OffPoints += off
			out[k].AbsPoints += math.Abs(off)
		}
	}
	for k := range out {
		out[k].SmallestUM = d.smallest(out[k].ElapsedS)
	}
	return out
}

// smallest is the finest grain that has come down in full at timeS in the
// middle soil, um, found from the arrivals of the classes.
func (d *design) smallest(timeS float64) float64 {
	var j jar
	var z unknowns
	d.prior.apply(&z, &d.cond, &j)
	j.Settle(timeS)
	f := NewFluid(j.TempC, j.GrainDensity)
	h := j.At(timeS)
	c := 0.0
	for k := j.layerCount - 1; k < jarClasses; k++ {
		c += j.classPhi[k]
	}
	speed := (j.DepthMM - h.DepositTopMM) / timeS / Hindrance(c, j.Exponent)
	return f.DiameterUM(speed)
}

// UsualSoilShare is how much soil is advised for any jar: loose and dry, over the
// filled jar. In jars 100 to 200 mm deep no amount brings an error smaller by more
// than a sixth (TestUsualSoilShare), and less soil needs less of the least certain
// part of the physics, how grains of mixed sizes hinder each other.
const UsualSoilShare = 0.2

// advise says what the advised amount of soil brings with photos at the given times.
func (d *design) advise(s PlanSetup, times []float64) SoilAdvice {
	out := d.with(UsualSoilShare, times)
	if s.solids() > 0 {
		out.Given = d.spread(times)
	}
	return out
}

// with is what another amount of soil would bring.
func (d *design) with(share float64, times []float64) SoilAdvice {
	try := *d
	try.prior.solidsGL = logSpread{LooseSoilGL * share, 0.1}
	try.info = try.learn(times)
	return try.amount(share, try.spread(times))
}

func (d *design) amount(share, spread float64) SoilAdvice {
	var deposit float64
	for i := range d.soils {
		h, _ := d.run(&d.soils[i], []float64{172800})
		deposit += h[0][depositTop] / float64(len(d.soils))
	}
	g := share * LooseSoilGL
	return SoilAdvice{SolidsGL: g, Share: share, DepositMM: deposit, Spread: spread,
		Slowing: Hindrance(g/QuartzDensity, d.prior.exponent.mid)}
}
