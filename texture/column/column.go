// Package column settles a jar of soil numerically: finite volumes in height,
// about forty grain classes, hindered settling by the local crowding, a deposit
// that rises cell by cell at the packing of its own mixture, and consolidation.
//
// It shares no code with package texture and is finer than the model used
// there. It exists to test that model: slow, explicit, first order. Units: mm, s,
// um, kg/m3, C.
package column

import (
	"errors"
	"math"
)

// Packing says how a mixture packs.
type Packing int

// Three rules that bracket what is published of mixed deposits.
const (
	Layered   Packing = iota // every class keeps its own volume
	Weighted                 // mass-weighted unit weights, as the USBR rule
	PoreFills                // fines first fill the pores of coarser grains
)

// Component is grains of one settling size and one kind of material.
type Component struct {
	DiameterUM float64 // of the grain that falls as fast
	Kind       int     // 0 sand, 1 silt, 2 clay
	Share      float64 // of the soil's mass
}

// Soil is a jar to settle.
type Soil struct {
	DepthMM, TempC, SolidsGL, GrainDensity float64
	Exponent                               float64 // of (1-c)^n
	Borne                                  bool    // grains are borne up by the water the others displace
	Parts                                  []Component
	Weights                                [3]float64 // fresh dry unit weights, kg/m3
	Packing                                Packing
	Squeeze                                float64 // final gain of clay weight, a share
	SqueezeS                               float64 // its time scale, s
}

// State is the jar at one moment.
type State struct {
	TimeS        float64
	DepositTopMM float64
	SandTopMM    float64 // NaN where the deposit has no such boundary
	SiltTopMM    float64
	MidGL        float64 // solids in the water half way up
	SuspendedGL  float64 // mean solids left, over the whole depth
	DepositMass  float64 // kg/m2
}

// layer is a slice of the deposit: mass by kind, kg/m2, and when it formed.
type layer struct {
	mass [3]float64
	born float64
}

type bed struct {
	soil   *Soil
	layers []layer
	top    float64 // fresh height, for the falling grains
	open   float64 // fresh thickness of the last layer
}

const (
	cells     = 160
	layerMM   = 0.15
	courant   = 0.8
	emptyPart = 2e-5
)

// velocity is Ferguson & Church's law with Kestin's viscosity.
func (s *Soil) velocity(diamUM float64) float64 {
	t := s.TempC
	mu := 1.002e-3 * math.Pow(10, (20-t)/(t+96)*(1.2364-1.37e-3*(20-t)+5.7e-6*(20-t)*(20-t)))
	rho := 999.97495 * (1 - (t-3.983035)*(t-3.983035)*(t+301.797)/(522528.9*(t+69.34881)))
	d := diamUM * 1e-6
	r := (s.GrainDensity - rho) / rho * 9.80665
	return 1e3 * r * d * d / (18*mu/rho + math.Sqrt(0.75*r*d*d*d))
}

// weight is the unit weight of a mixture of masses m.
func (s *Soil) weight(m [3]float64, denser float64) float64 {
	w := s.Weights
	w[2] *= denser
	sum := m[0] + m[1] + m[2]
	if sum <= 0 {
		return w[2]
	}
	bulk := m[0]/w[0] + m[1]/w[1] + m[2]/w[2]
	switch s.Packing {
	case Weighted:
		return (m[0]*w[0] + m[1]*w[1] + m[2]*w[2]) / sum
	case PoreFills:
		sandPores := m[0] * (1/w[0] - 1/s.GrainDensity)
		siltPores := m[1] * (1/w[1] - 1/s.GrainDensity)
		bulk -= 0.65*math.Min(sandPores, m[1]/w[1]+m[2]/w[2]) + 0.65*math.Min(siltPores, m[2]/w[2])
	}
	return sum / bulk
}

// Settle runs the jar and returns its state at each of the rising times.
func (s *Soil) Settle(times []float64) ([]State, error) {
	if s.DepthMM <= 0 || s.SolidsGL <= 0 || len(s.Parts) == 0 || len(times) == 0 {
		return nil, errors.New("column: depth, solids, parts and times must all be given")
	}
	n := len(s.Parts)
	free := make([]float64, n)
	mass := make([][]float64, n) // volume of solids per area in each cell, mm
	dz := s.DepthMM / cells
	start := make([]float64, n)
	for i, p := range s.Parts {
		free[i] = s.velocity(p.DiameterUM)
		mass[i] = make([]float64, cells)
		c := p.Share * s.SolidsGL / s.GrainDensity
		for k := range mass[i] {
			mass[i][k] = c * dz
		}
		start[i] = c * s.DepthMM
	}
	j := &run{soil: s, bed: &bed{soil: s}, free: free, mass: mass, start: start, left: append([]float64(nil), start...), dz: dz,
		slip: make([]float64, cells), bear: make([]float64, cells), lifted: make([]float64, n)}
	var out []State
	for _, until := range times {
		for j.t < until {
			j.step(until)
		}
		out = append(out, j.bed.state(j.t, mass, j.floor, dz))
	}
	return out, nil
}

// run is a column on its way.
type run struct {
	soil        *Soil
	bed         *bed
	free        []float64   // settling velocity of each part in clear water, mm/s
	mass        [][]float64 // volume of solids per area by part and cell, mm
	start, left []float64   // of mass, over all cells
	slip, bear  []float64   // by cell: speed factor, velocity of displaced water before it
	lifted      []float64   // by part: how far the floor cell's grains rose in the last step, mm
	floor       int         // lowest open cell
	dz, t       float64
}

// size is the open height of cell k.
func (r *run) size(k int) float64 { return math.Min(r.dz, float64(k+1)*r.dz-r.bed.top) }

// step moves every part by one time step, not past until.
func (r *run) step(until float64) {
	dt := math.Min(until-r.t, r.crowding())
	var landed [3]float64
	for i := range r.free {
		r.lifted[i] = 0
		if r.left[i] <= 0 {
			continue
		}
		landed[r.soil.Parts[i].Kind] += r.move(i, dt)
	}
	r.floor = r.bed.rise(landed, r.lifted, r.mass, r.floor, r.dz, r.t)
	r.t += dt
}

// crowding works out the slip in every cell and returns the longest step the
// fastest grains allow.
func (r *run) crowding() float64 {
	n := r.soil.Exponent
	if r.soil.Borne {
		n--
	}
	fastest := 0.0
	for k := r.floor; k < cells; k++ {
		c, flux := 0.0, 0.0
		for i := range r.free {
			c += r.mass[i][k]
			flux += r.mass[i][k] * r.free[i]
		}
		size := r.size(k)
		r.slip[k] = math.Exp(n * math.Log1p(-math.Min(c/size, 0.6)))
		r.bear[k] = 0
		if r.soil.Borne {
			r.bear[k] = flux / size
		}
		fastest = math.Max(fastest, r.slip[k])
	}
	quick := 0.0
	for i := range r.free {
		if r.left[i] > emptyPart*r.start[i] {
			quick = math.Max(quick, r.free[i])
		}
	}
	return courant * math.Min(r.dz, r.size(r.floor)) / (quick*fastest + 1e-12)
}

// move carries part i between the cells, down or, where displaced water is
// quicker, up. It returns what landed on the deposit.
func (r *run) move(i int, dt float64) (landed float64) {
	m, sum, up := r.mass[i], 0.0, 0.0
	for k := r.floor; k < cells; k++ {
		u := r.slip[k] * (r.free[i] - r.bear[k])
		f := math.Min(m[k]*math.Abs(u)*dt/r.size(k), m[k])
		switch {
		case u < 0 && k == cells-1:
			f = 0
			m[k] += up
			up = 0
		case u < 0:
			m[k] += up - f
			up = f
			if k == r.floor {
				r.lifted[i] = -u * dt
			}
		default:
			m[k] += up - f
			up = 0
			if k == r.floor {
				landed = f
			} else {
				m[k-1] += f
				sum += f
			}
		}
		sum += m[k]
	}
	r.left[i] = sum
	return landed
}

// rise adds what landed, swallows the water the new deposit covers with what
// floats in it (less what rose out of its way), and closes cells that are nearly full. It returns the lowest
// open cell.
func (b *bed) rise(landed [3]float64, lifted []float64, mass [][]float64, floor int, dz, t float64) int {
	s := b.soil
	rho := s.GrainDensity
	m := [3]float64{landed[0] * rho * 1e-3, landed[1] * rho * 1e-3, landed[2] * rho * 1e-3}
	height := 0.0
	if m[0]+m[1]+m[2] > 0 {
		height = 1e3 * (m[0] + m[1] + m[2]) / s.weight(m, 1)
	}
	room := float64(floor+1)*dz - b.top
	for range 3 { // the swallowed water's solids add to the height in turn
		all := m
		for i := range mass {
			all[s.Parts[i].Kind] += mass[i][floor] * swept(height-lifted[i], room) * rho * 1e-3
		}
		height = 1e3 * (all[0] + all[1] + all[2]) / s.weight(all, 1)
	}
	for i := range mass {
		take := mass[i][floor] * swept(height-lifted[i], room)
		mass[i][floor] -= take
		m[s.Parts[i].Kind] += take * rho * 1e-3
	}
	b.add(m, t)
	if float64(floor+1)*dz-b.top < 0.35*dz && floor < cells-1 {
		for i := range mass {
			mass[i][floor+1] += mass[i][floor]
			mass[i][floor] = 0
		}
		floor++
	}
	return floor
}

// swept is the share of an open height room that a rise covers.
func swept(rise, room float64) float64 { return math.Min(math.Max(rise, 0)/room, 1) }

func (b *bed) add(m [3]float64, t float64) {
	if len(b.layers) == 0 || b.open > layerMM {
		b.layers = append(b.layers, layer{born: t})
		b.open = 0
	}
	l := &b.layers[len(b.layers)-1]
	for k := range m {
		l.mass[k] += m[k]
	}
	sum := l.mass[0] + l.mass[1] + l.mass[2]
	now := 0.0
	if sum > 0 {
		now = 1e3 * sum / b.soil.weight(l.mass, 1)
	}
	b.top += now - b.open
	b.open = now
}

// state measures the jar: heights after consolidation, and the boundaries as
// the lowest lasting crossing of one half.
func (b *bed) state(t float64, mass [][]float64, floor int, dz float64) State {
	s := b.soil
	out := State{TimeS: t, SandTopMM: math.NaN(), SiltTopMM: math.NaN()}
	z := make([]float64, len(b.layers)+1)
	for k, l := range b.layers {
		denser := 1 + s.Squeeze*(1-math.Exp(-(t-l.born)/s.SqueezeS))
		sum := l.mass[0] + l.mass[1] + l.mass[2]
		if sum > 0 {
			z[k+1] = 1e3 * sum / s.weight(l.mass, denser)
		}
		z[k+1] += z[k]
		out.DepositMass += sum
	}
	out.DepositTopMM = z[len(b.layers)]
	out.SandTopMM = crossing(b.layers, z, 0, 1)
	out.SiltTopMM = crossing(b.layers, z, 1, 2)
	mid := floor + (cells-floor)/2
	for i := range mass {
		out.MidGL += mass[i][mid] / dz * s.GrainDensity
		for _, m := range mass[i] {
			out.SuspendedGL += m / s.DepthMM * s.GrainDensity
		}
	}
	return out
}

// crossing finds where the share of kind b in a+b, averaged over a millimetre
// or so, passes one half upwards for good.
func crossing(layers []layer, z []float64, a, b int) float64 {
	last := math.NaN()
	below, above := 0.0, 0.0
	best := 0.0
	for k, l := range layers {
		below += l.mass[a]
		above += l.mass[b]
		if below-above > best {
			best, last = below-above, z[k+1]
		}
	}
	if last == z[len(layers)] {
		return math.NaN() // no layer of the finer kind above
	}
	return last
}
