package feel

import (
	"cmp"
	"slices"

	"mudline/texture"
)

func sand(f texture.Fractions) float64 { return f.Sand }
func silt(f texture.Fractions) float64 { return f.Silt }
func clay(f texture.Fractions) float64 { return f.Clay }

func dot(a, b []float64) float64 {
	out := 0.0
	for i := range a {
		out += a[i] * b[i]
	}
	return out
}

func sum(a []float64) float64 {
	out := 0.0
	for _, v := range a {
		out += v
	}
	return out
}

func times(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] * b[i]
	}
	return out
}

func scale(a []float64, by float64) {
	for i := range a {
		a[i] *= by
	}
}

func evenly(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = 1 / float64(n)
	}
	return out
}

// estimate is the median and the 5 and 95 % quantiles of weighted soils. Between
// two values the share of weight below runs straight, each counting half for
// itself, so that a small change of the weights changes little.
func estimate(soils []texture.Fractions, weights []float64, of func(texture.Fractions) float64) texture.Estimate {
	order := make([]int, len(soils))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(of(soils[a]), of(soils[b])) })
	var values, shares []float64
	total, below := sum(weights), 0.0
	for k := 0; k < len(order); {
		v, here := of(soils[order[k]]), 0.0
		for ; k < len(order) && of(soils[order[k]]) < v+1e-9; k++ {
			here += weights[order[k]]
		}
		values, shares = append(values, v), append(shares, (below+here/2)/total)
		below += here
	}
	at := func(q float64) float64 {
		i, _ := slices.BinarySearch(shares, q)
		switch {
		case i == 0:
			return values[0]
		case i == len(values):
			return values[i-1]
		}
		return values[i-1] + (values[i]-values[i-1])*(q-shares[i-1])/(shares[i]-shares[i-1])
	}
	return texture.Estimate{Low: at(0.05), Value: at(0.5), High: at(0.95)}
}
