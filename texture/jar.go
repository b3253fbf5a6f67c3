package texture

import "math"

// jar describes one jar of soil and water for the fast settling model: what
// the inversion varies. Masses are shares of the mineral soil, summing to 1.
type jar struct {
	DepthMM      float64
	TempC        float64
	SolidsGL     float64 // soil per litre of the full column
	GrainDensity float64 // kg/m3
	Exponent     float64 // of hindered settling

	Sand, Silt, Clay    float64
	sandShape           shape
	siltShape           shape
	clayShape           shape
	FlocShare           float64 // of the clay, 0..1
	FlocUM              float64 // diameter of the quartz grain that falls as fast as the middle floc
	Weights             UnitWeights
	Fill                float64 // how far fines fill the pores of coarser grains, 0..1
	Weighted            float64 // from that rule, 0, to the mass-weighted one, 1
	Consolidation       float64 // gain of clay weight per decade of hours
	sandLine, clayLine  float64 // share at which a boundary is seen, about 1/2
	grainShares         [grainKinds]float64
	classPhi, classFree [jarClasses]float64
	classKind           [jarClasses]kind
	layers              [jarClasses]layer
	fronts              [jarClasses]float64 // speed of each class's top front, mm/s
	startPhi            [jarClasses]float64
	layerCount          int
}

// layer is what came down while the composition above the floor was constant.
type layer struct {
	start, end       float64 // s
	rise             float64 // mm/s
	sand, silt, clay float64 // mass shares of the layer
	weight           float64 // kg/m3 when fresh
	squeeze          float64 // share of its thickness that goes as its clay's volume goes
}

// heights is what the model says of one moment. A boundary that the deposit
// does not hold is at the nearest end of its layer.
type heights struct {
	DepositTopMM, SandTopMM, SiltTopMM float64
	SandSDMM, SiltSDMM                 float64 // how far it is unsure which height an eye takes for the boundary
	SuspendedGL                        float64 // fines at mid water, g/L
	SuspendedShare                     float64 // of the whole soil, still in the water
}

// prepare fills the classes, fastest first.
func (j *jar) prepare() {
	f := NewFluid(j.TempC, j.GrainDensity)
	j.sandShape.spread(j.grainShares[:sandClasses], 0, j.Sand)
	j.siltShape.spread(j.grainShares[sandClasses:sandClasses+siltClasses], sandClasses, j.Silt)
	j.clayShape.spread(j.grainShares[sandClasses+siltClasses:], sandClasses+siltClasses, j.Clay*(1-j.FlocShare))
	scale := j.SolidsGL / j.GrainDensity
	flocs := [flocClasses]float64{}
	for i, ratio := range [flocClasses]float64{1.6, 1, 0.625} {
		flocs[i] = f.SettlingMMS(j.FlocUM * ratio)
	}
	next := 0
	for i, k := 0, 0; k < jarClasses; k++ {
		v := 0.0
		if i < grainKinds {
			v = f.SettlingMMS(grainDiamUM[i])
		}
		if next < flocClasses && (i == grainKinds || flocs[next] > v) {
			j.classFree[k], j.classKind[k] = flocs[next], clayKind
			j.classPhi[k] = scale * j.Clay * j.FlocShare / flocClasses
			next++
			continue
		}
		j.classFree[k], j.classKind[k], j.classPhi[k] = v, kindOf(i), scale*j.grainShares[i]
		i++
	}
	j.startPhi = j.classPhi
}

// Settle runs the jar until timeS. Grains of many sizes slip through the water
// at v (1-c)^(n-1) and are borne up by the water the others displace
// (Masliyah 1979; Lockett & Bassoon 1979), which for one size is v (1-c)^n. The
// top front of every class is followed down (kinematic waves, as Kynch 1952 for
// one size) until it meets the rising deposit; the layers between arrivals are
// recorded. Oden's straight lines are the dilute limit.
func (j *jar) Settle(timeS float64) {
	j.prepare()
	w := water{}
	w.sum(j, 0)
	slip, room := w.slip(j), 0.5
	t, h, last := 0.0, 0.0, math.Inf(1)
	j.layerCount = 0
	for k := 0; k < jarClasses && t < timeS; k++ {
		front := slip * (j.classFree[k] - w.total())
		if front > 0.999*last { // fronts do not overtake each other
			front = 0.999 * last
		}
		j.fronts[k], last = front, front
		l := &j.layers[k]
		room = j.growth(l, room, slip, &w)
		l.start, l.end = t, (j.DepthMM-h+l.rise*t)/(front+l.rise)
		if l.end < t {
			l.end = t
		}
		h += l.rise * (l.end - t)
		t = l.end
		j.layerCount++
		slip = j.cross(k, slip, front, &w)
	}
}

// water is what the water just above the deposit holds: volume fractions by
// kind, and their free downward fluxes, mm/s.
type water struct{ mass, flux [3]float64 }

func (w *water) solids() float64 { return w.mass[0] + w.mass[1] + w.mass[2] }
func (w *water) total() float64  { return w.flux[0] + w.flux[1] + w.flux[2] }

// slip is the factor on the speed of grains past the water about them.
func (w *water) slip(j *jar) float64 { return Hindrance(w.solids(), j.Exponent-1) }

// sum adds up the classes from number k on.
func (w *water) sum(j *jar, k int) {
	*w = water{}
	for i := k; i < jarClasses; i++ {
		p, kind := j.classPhi[i], j.classKind[i]
		w.mass[kind] += p
		w.flux[kind] += p * j.classFree[i]
	}
}

// drop takes class k out.
func (w *water) drop(j *jar, k int) {
	p, kind := j.classPhi[k], j.classKind[k]
	w.mass[kind] = max(w.mass[kind]-p, 0)
	w.flux[kind] = max(w.flux[kind]-p*j.classFree[k], 0)
}

// growth sets the layer that forms under water w. The rising deposit keeps the
// water in its pores with what floats in it; guess is the room for grains found
// for the layer before, from which that is reckoned. It returns the layer's own.
func (j *jar) growth(l *layer, guess, slip float64, w *water) float64 {
	lift := slip * w.total() // the water the falling grains displace
	total := lift * (1 - w.solids())
	swept := total/guess - lift
	if swept < 0 {
		swept = 0
	}
	sand := slip*w.flux[sandKind] + swept*w.mass[sandKind]
	silt := slip*w.flux[siltKind] + swept*w.mass[siltKind]
	clay := slip*w.flux[clayKind] + swept*w.mass[clayKind]
	sum := sand + silt + clay
	if sum <= 1e-300 {
		*l = layer{weight: j.Weights.Clay, clay: 1}
		return guess
	}
	l.sand, l.silt, l.clay = sand/sum, silt/sum, clay/sum
	l.weight = j.unitWeight(l.sand, l.silt, l.clay, 1)
	room := l.weight/j.GrainDensity - w.solids()
	if room < 0.02 {
		room = 0.02
	}
	l.rise = total / room
	l.squeeze = 0
	if l.clay > 0.02 {
		l.squeeze = (1 - l.weight/j.unitWeight(l.sand, l.silt, l.clay, squeezeStep)) / (1 - 1/squeezeStep)
	}
	return room
}

// cross carries the classes that stay behind over the front of class k: the
// mass that passes a front is the same on both sides. It returns the slip above
// the front.
func (j *jar) cross(k int, slip, front float64, w *water) float64 {
	below := w.total()
	w.drop(j, k)
	slipAbove, above := w.slip(j), w.total()
	if slipAbove-slip < 1e-3 && below-above < 1e-3*j.classFree[k] {
		return slipAbove
	}
	for i := k + 1; i < jarClasses; i++ {
		v := j.classFree[i]
		gap := front - slipAbove*(v-above)
		if gap < 0.05*front {
			gap = 0.05 * front
		}
		r := (front - slip*(v-below)) / gap
		if r > 1.6 { // classes this close to the front would pile up without end
			r = 1.6
		}
		if r > 0 {
			j.classPhi[i] *= r
		}
	}
	w.sum(j, k+1)
	return slipAbove
}

// squeezeStep is the gain of clay weight at which a layer's squeeze is taken.
const squeezeStep = 1.15

// unitWeight is the dry weight of a deposit of the given mass shares, kg/m3,
// its clay made denser by a factor.
func (j *jar) unitWeight(sand, silt, clay, denser float64) float64 {
	w := j.Weights
	w.Clay *= denser
	f := Fractions{sand, silt, clay}
	filled := w.Filled(f, j.GrainDensity, j.Fill)
	if j.Weighted == 0 {
		return filled
	}
	return filled + j.Weighted*(w.Mixed(f)-filled)
}

// At returns the heights at timeS, which must not be later than the time
// given to Settle.
func (j *jar) At(timeS float64) heights { return j.lines(timeS, true, true) }

// lines is At, without the sand's and silt's tops where they are not asked for.
func (j *jar) lines(timeS float64, sandToo, siltToo bool) heights {
	var out heights
	sand, silt := divide{line: j.sandLine}, divide{line: j.clayLine}
	top, deposit := 0.0, 0.0
	for k := 0; k < j.layerCount && j.layers[k].start < timeS; k++ {
		l := &j.layers[k]
		end := math.Min(l.end, timeS)
		if end <= l.start {
			continue
		}
		deposit += l.rise * (end - l.start) * l.weight
		thick := l.thickness(timeS, j.Consolidation)
		if sandToo {
			sand.add(thick, part(l.silt, l.sand), 1-l.clay)
		}
		if siltToo {
			silt.add(thick, part(l.clay, l.silt), 1-l.sand)
		}
		top += thick
	}
	out.DepositTopMM = top
	out.SandTopMM, out.SandSDMM = sand.height()
	out.SiltTopMM, out.SiltSDMM = silt.height()
	out.SiltTopMM = math.Max(out.SiltTopMM, out.SandTopMM)
	out.SuspendedShare = clamp(1-deposit/(j.SolidsGL*j.DepthMM), 0, 1)
	out.SuspendedGL = j.midWater(timeS, top)
	return out
}

// thickness is how thick the layer is at timeS, mm; its clay gains the given share
// of its weight per decade of hours.
func (l *layer) thickness(timeS, consolidation float64) float64 {
	end := math.Min(l.end, timeS)
	if end <= l.start {
		return 0
	}
	thick := l.rise * (end - l.start)
	if l.squeeze > 0 {
		denser := Consolidated(consolidation, timeS-(end+l.start)/2)
		thick *= 1 - l.squeeze*(1-1/denser)
	}
	return thick
}

// midWater is what floats half way up at timeS, g/L: the classes whose front is
// still above.
func (j *jar) midWater(timeS, top float64) float64 {
	sum := 0.0
	for i := range jarClasses {
		speed := j.classFree[i]
		if i < j.layerCount {
			speed = j.fronts[i]
		}
		if j.DepthMM-speed*timeS > (j.DepthMM+top)/2 {
			sum += j.startPhi[i]
		}
	}
	return sum * j.GrainDensity
}
