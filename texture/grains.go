package texture

import "math"

// The grain grid of the fast model. Classes run coarse to fine; edges in um.
const (
	sandClasses = 6
	siltClasses = 9
	clayClasses = 4
	flocClasses = 3
	grainKinds  = sandClasses + siltClasses + clayClasses
	jarClasses  = grainKinds + flocClasses
)

var grainEdgesUM = [grainKinds + 1]float64{
	2000, 500, 220, 130, 88, 65, 50, // sand
	39, 29, 20, 14, 10, 7, 5, 3.3, 2, // silt
	1.2, 0.6, 0.25, 0.05, // clay
}

// kind is what a grain counts as in a deposit.
type kind uint8

const (
	sandKind kind = iota
	siltKind
	clayKind
)

var (
	grainDiamUM   [grainKinds]float64 // settles as fast as the class on average
	grainPosition [grainKinds]float64 // place in its kind's log range, -1 fine to 1 coarse
	grainWidth    [grainKinds]float64 // share of its kind's log range, times 2
)

func init() {
	for _, k := range [][2]int{{0, sandClasses}, {sandClasses, sandClasses + siltClasses}, {sandClasses + siltClasses, grainKinds}} {
		hi, lo := math.Log(grainEdgesUM[k[0]]), math.Log(grainEdgesUM[k[1]])
		for i := k[0]; i < k[1]; i++ {
			a, b := grainEdgesUM[i], grainEdgesUM[i+1]
			// mean of d^2 over a log-uniform class: Stokes' velocity goes with it
			grainDiamUM[i] = math.Sqrt((a*a - b*b) / (2 * math.Log(a/b)))
			mid := (math.Log(a) + math.Log(b)) / 2
			grainPosition[i] = (2*mid - hi - lo) / (hi - lo)
			grainWidth[i] = 2 * math.Log(a/b) / (hi - lo)
		}
	}
}

func kindOf(i int) kind {
	switch {
	case i < sandClasses:
		return sandKind
	case i < sandClasses+siltClasses:
		return siltKind
	}
	return clayKind
}

// shape is the form of the grain curve inside one kind: density in log
// diameter proportional to exp(Tilt x - Hump x^2) over -1..1.
type shape struct{ Tilt, Hump float64 }

// spread fills the shares of a kind's classes, summing to total.
func (s shape) spread(out []float64, from int, total float64) {
	sum := 0.0
	for i := range out {
		x := grainPosition[from+i]
		out[i] = grainWidth[from+i] * math.Exp(x*(s.Tilt-s.Hump*x))
		sum += out[i]
	}
	for i := range out {
		out[i] *= total / sum
	}
}
