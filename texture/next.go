package texture

import (
	"math"

	"mudline/internal/equations"
)

// Next is one more photo, and how far it can be expected to narrow the reading.
type Next struct {
	ElapsedS float64
	// Again says that its moment is past: the jar must be shaken anew for it.
	Again bool
	// WidthNow is the width of the widest 90 % interval of the three fractions,
	// WidthThen that of the widest to expect with the photo; points.
	WidthNow, WidthThen float64
}

const (
	nextJars  = 150 // likely jars from which a photo's worth is reckoned
	nextWorth = 0.9 // a photo that leaves more of the width than this is not worth the walk
	nextApart = 1.6 // moments nearer to a photo than this ratio count as taken
)

// next finds the moment at which one more photo narrows the reading most; nil
// where none is worth it. Of each moment the likely jars show different lines,
// and the more these go with the fractions, the more of their doubt the photo
// takes away: the variance left is that of a linear estimate from the lines.
func (pr *problem) next(s []sample, r *Result) *Next {
	width := [3]float64{r.Sand.High - r.Sand.Low, r.Silt.High - r.Silt.Low, r.Clay.High - r.Clay.Low}
	now := math.Max(width[0], math.Max(width[1], width[2]))
	var best, again *Next
	for i, left := range pr.worth(s) {
		t := moments[i]
		if pr.taken(t) {
			continue
		}
		n := &Next{ElapsedS: t, Again: t < pr.last, WidthNow: now}
		for q, w := range width {
			n.WidthThen = math.Max(n.WidthThen, w*left[q])
		}
		of := &best
		if n.Again {
			of = &again
		}
		if n.WidthThen <= nextWorth*now && (*of == nil || n.WidthThen < (*of).WidthThen) {
			*of = n
		}
	}
	if best == nil {
		return again
	}
	return best
}

// taken tells whether a photo shows the jar at about that time.
func (pr *problem) taken(timeS float64) bool {
	for _, t := range pr.times {
		if math.Max(t/timeS, timeS/t) < nextApart {
			return true
		}
	}
	return false
}

// worth is, for each of the moments, the share of each fraction's width that a
// photo would leave.
func (pr *problem) worth(s []sample) (out [len(moments)][3]float64) {
	chosen := pick(s, nextJars)
	soils := make([][3]float64, len(chosen))
	seen := make([][len(moments)][3]float64, len(chosen))
	for n, i := range chosen {
		soils[n] = [3]float64{s[i].soil.Sand, s[i].soil.Silt, s[i].soil.Clay}
		pr.prior.apply(&s[i].z, &pr.cond, &pr.jar)
		pr.jar.Settle(moments[2] + 1)
		pr.prior.look(&s[i].z, &pr.jar)
		factor := pr.drawn()
		for k, t := range moments {
			h := pr.jar.At(t)
			seen[n][k] = [3]float64{depositTop: factor * h.DepositTopMM, sandTop: factor * h.SandTopMM, siltTop: factor * h.SiltTopMM}
		}
	}
	for k := range moments {
		lines := make([][3]float64, len(chosen))
		for n := range seen {
			lines[n] = seen[n][k]
		}
		out[k] = shrink(soils, lines)
	}
	return out
}

// shrink is the share of each fraction's standard deviation that is left once
// the lines are measured, each with its error and the chance that it is seen.
func shrink(soils, lines [][3]float64) (left [3]float64) {
	mean := middleOf(lines)
	noisy := covariance(lines, lines)
	for q := range 3 {
		e, m := expectedLine[lineKind(q)], modelError[q]
		noisy[q][q] += (e.sd*e.sd + m.mm*m.mm + m.share*m.share*mean[q]*mean[q]) / e.seen
	}
	with, own := covariance(soils, lines), covariance(soils, soils)
	for q := range 3 {
		if own[q][q] <= 0 {
			left[q] = 1
			continue
		}
		var given [3][4]float64
		for p := range 3 {
			copy(given[p][:], noisy[p][:])
			given[p][3] = with[q][p]
		}
		x := equations.Solve3(given)
		told := x[0]*with[q][0] + x[1]*with[q][1] + x[2]*with[q][2]
		left[q] = math.Sqrt(clamp(1-told/own[q][q], 0, 1))
	}
	return left
}

func middleOf(v [][3]float64) (m [3]float64) {
	for _, x := range v {
		for q := range 3 {
			m[q] += x[q] / float64(len(v))
		}
	}
	return m
}

func covariance(a, b [][3]float64) (c [3][3]float64) {
	ma, mb := middleOf(a), middleOf(b)
	for n := range a {
		for p := range 3 {
			for q := range 3 {
				c[p][q] += (a[n][p] - ma[p]) * (b[n][q] - mb[q]) / float64(len(a)-1)
			}
		}
	}
	return c
}
