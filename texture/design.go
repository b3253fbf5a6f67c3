package texture

import (
	"math"
	"math/rand/v2"
	"slices"
)

// design weighs sets of photo times by the spread they would leave, over a
// number of plausible soils.
type design struct {
	prior prior
	cond  conditions
	soils []unknowns
	info  []soilInfo
}

// soilInfo is what each candidate time would tell of one soil: the outer
// products of its lines' gradients, and the gradient of the fractions.
type soilInfo struct {
	at   map[float64]*matrix
	soil [3]unknowns
}

const designSoils = 36

// expected reading errors of the lines, mm, and the chance that each is seen.
var expectedLine = map[lineKind]struct{ sd, seen float64 }{
	depositTop: {0.8, 0.95}, sandTop: {1.3, 0.8}, siltTop: {2, 0.7},
}

func newDesign(s PlanSetup) *design {
	d := &design{prior: defaultPrior(), cond: stated(nil, Setup{WaterDepthMM: s.depth(), TempC: s.TempC})}
	if g := s.solids(); g > 0 {
		d.prior.solidsGL = logSpread{g, 0.1}
	}
	r := rand.New(rand.NewPCG(4, 65))
	for range designSoils {
		var z unknowns
		for k := range z {
			z[k] = clamp(r.NormFloat64(), -1.8, 1.8)
		}
		d.soils = append(d.soils, z)
	}
	d.info = d.learn(moments[:])
	return d
}

func (s PlanSetup) depth() float64 {
	if s.WaterDepthMM == 0 {
		return UsualDepthMM
	}
	return s.WaterDepthMM
}

// learn runs every soil and its neighbours once.
func (d *design) learn(times []float64) []soilInfo {
	var out []soilInfo
	for i := range d.soils {
		z := d.soils[i]
		base, soil := d.run(&z, times)
		info := soilInfo{at: map[float64]*matrix{}}
		grad := make([][3]unknowns, len(times))
		const step = 0.1
		for k := range dim {
			moved := z
			moved[k] += step
			h, f := d.run(&moved, times)
			for q, v := range [3]float64{f.Sand - soil.Sand, f.Silt - soil.Silt, f.Clay - soil.Clay} {
				info.soil[q][k] = v / step
			}
			for t := range times {
				for q := range 3 {
					grad[t][q][k] = (h[t][q] - base[t][q]) / step
				}
			}
		}
		for t, when := range times {
			info.at[when] = d.fisher(&grad[t], base[t])
		}
		out = append(out, info)
	}
	return out
}

// run returns the three lines at each time, and the fractions.
func (d *design) run(z *unknowns, times []float64) ([][3]float64, Fractions) {
	var j jar
	d.prior.apply(z, &d.cond, &j)
	shift := d.cond.timeSDS * z[uTime]
	j.Settle(slices.Max(times) + math.Abs(shift) + 1)
	out := make([][3]float64, len(times))
	for i, t := range times {
		h := j.At(math.Max(t+shift, 1))
		out[i] = [3]float64{depositTop: h.DepositTopMM, sandTop: h.SandTopMM, siltTop: h.SiltTopMM}
	}
	return out, Fractions{100 * j.Sand, 100 * j.Silt, 100 * j.Clay}
}

// fisher is the information of one photo.
func (d *design) fisher(grad *[3]unknowns, value [3]float64) *matrix {
	var h matrix
	for q := range 3 {
		e, m := expectedLine[lineKind(q)], modelError[q]
		w := e.seen / (e.sd*e.sd + m.mm*m.mm + m.share*m.share*value[q]*value[q])
		for a := range dim {
			for b := range dim {
				h[a][b] += w * grad[q][a] * grad[q][b]
			}
		}
	}
	return &h
}

// spread is the standard deviation of the fractions, root mean square over the
// three and mean over the soils, that photos at the given times would leave.
func (d *design) spread(times []float64) float64 {
	sum := 0.0
	for i := range d.info {
		var h matrix
		for k := range dim {
			h[k][k] = 1
		}
		for _, t := range times {
			f := d.info[i].at[t]
			for a := range dim {
				for b := range dim {
					h[a][b] += f[a][b]
				}
			}
		}
		h.cholesky()
		v := 0.0
		for q := range 3 {
			x := d.info[i].soil[q]
			h.solveLower(&x)
			for k := range dim {
				v += x[k] * x[k]
			}
		}
		sum += math.Sqrt(v / 3)
	}
	return sum / float64(len(d.info))
}
