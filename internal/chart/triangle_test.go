package chart

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/texture"
)

// By geometry: a triangle of equal sides, clay at the top, sand at the left, silt
// at the right; a third of each is its centroid.
func TestSoilsStandWhereTheyBelong(t *testing.T) {
	f := frame{left: 10, base: 200, side: 100}
	h := 100 * math.Sqrt(3) / 2
	for _, c := range []struct {
		s    soil
		x, y float64
	}{
		{soil{100, 0, 0}, 10, 200}, {soil{0, 100, 0}, 110, 200}, {soil{0, 0, 100}, 60, 200 - h},
		{soil{100.0 / 3, 100.0 / 3, 100.0 / 3}, 60, 200 - h/3},
		{soil{50, 50, 0}, 60, 200}, {soil{50, 0, 50}, 35, 200 - h/2}, {soil{0, 50, 50}, 85, 200 - h/2},
		{soil{20, 40, 40}, 10 + 60, 200 - 0.4*h},
	} {
		p := f.at(c.s)
		assert.InDelta(t, c.x, p.X, 1e-9, c.s)
		assert.InDelta(t, c.y, p.Y, 1e-9, c.s)
		back := f.soil(p)
		for i := range back {
			assert.InDelta(t, c.s[i], back[i], 1e-9)
		}
	}
}

// Read off the drawing itself: figures stand at the ends of the lines they name.
func TestTriangleFigures(t *testing.T) {
	d := Triangle(nil, texture.USDA, Options{Width: 400})
	list := checkSVG(t, d)
	side := 400.0 - 2*marginX
	h, base := side*math.Sqrt(3)/2, triangleTop+side*math.Sqrt(3)/2
	found := map[string]bool{}
	near := func(e element, x, y float64) bool {
		return math.Hypot(e.number(t, "x")-x, e.number(t, "y")-y) < 16
	}
	for _, e := range texts(list, "20") {
		switch {
		case near(e, marginX+0.1*side, base-0.2*h):
			found["clay 20 on the left side"] = true
		case near(e, marginX+0.8*side, base):
			found["sand 20 towards the right of the base"] = true
		case near(e, marginX+0.6*side, base-0.8*h):
			found["silt 20 towards the top of the right side"] = true
		}
	}
	assert.Len(t, found, 3, "%v", found)
	// 100 stands at the corner of each part.
	for name, at := range map[string]Point{"clay": {X: marginX + side/2, Y: triangleTop}, "sand": {X: marginX, Y: base}, "silt": {X: marginX + side, Y: base}} {
		n := 0
		for _, e := range texts(list, "100") {
			if near(e, at.X, at.Y) {
				n++
			}
		}
		assert.Equal(t, 1, n, name)
	}
}

// cross says whether two lines cross in their insides.
func cross(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// The drawn limits against the definitions, over the whole triangle: between two
// neighbours of a 0.5 % grid there is a limit just where their classes differ.
// The grid is shifted off the round figures, so that no point lies on a limit.
func TestLimitsAreThoseOfTheClasses(t *testing.T) {
	f := frame{0, 0, 1000}
	for _, system := range texture.Systems() {
		class := func(s soil) string {
			name, err := texture.ClassOf(texture.Fractions{Sand: s[0], Silt: s[1], Clay: s[2]}, system)
			require.NoError(t, err)
			return name
		}
		type line struct{ a, b Point }
		var limits []line
		for _, b := range borders(system) {
			limits = append(limits, line{f.at(b[0]), f.at(b[1])})
		}
		at := func(i, j int) soil { // silt and clay
			silt, clay := 0.21+0.5*float64(i), 0.17+0.5*float64(j)
			return soil{100 - silt - clay, silt, clay}
		}
		differ := 0
		for j := range 199 {
			for i := range 198 - j {
				here := at(i, j)
				for _, next := range []soil{at(i+1, j), at(i, j+1)} {
					a, b := f.at(here), f.at(next)
					drawn := false
					for _, l := range limits {
						drawn = drawn || cross(a, b, l.a, l.b)
					}
					if class(here) != class(next) {
						differ++
					}
					require.Equal(t, class(here) != class(next), drawn, "%v: from %v %s to %v %s", system, here, class(here), next, class(next))
				}
			}
		}
		assert.Greater(t, differ, 400)
		// And along every limit the two sides differ.
		for _, b := range borders(system) {
			for k := 1; k < 100; k++ {
				u := (float64(k) + 0.3) / 101
				p, q := f.at(b[0]), f.at(b[1])
				long := math.Hypot(q.X-p.X, q.Y-p.Y)
				m := Point{X: p.X + u*(q.X-p.X), Y: p.Y + u*(q.Y-p.Y)}
				dx, dy := -(q.Y-p.Y)/long*0.1, (q.X-p.X)/long*0.1
				left, right := f.soil(Point{X: m.X + dx, Y: m.Y + dy}), f.soil(Point{X: m.X - dx, Y: m.Y - dy})
				assert.NotEqual(t, class(left), class(right), "%v at %g of %v", system, u, b)
			}
		}
	}
}

func TestNamesStandInTheirClass(t *testing.T) {
	for _, system := range texture.Systems() {
		var got []string
		for _, n := range names(system) {
			got = append(got, n.class)
			class, err := texture.ClassOf(texture.Fractions{Sand: n.at[0], Silt: n.at[1], Clay: n.at[2]}, system)
			require.NoError(t, err)
			assert.Equal(t, n.class, class)
		}
		assert.ElementsMatch(t, texture.ClassNames(system), got)
	}
}

// A name moves off the symbol of the soil, and stays in its class.
func TestNamesKeepOutOfTheSymbol(t *testing.T) {
	f := frame{39, 270, 282}
	at := soil{33, 33.5, 33.5}
	p := f.clear("clay loam", f.at(at), 50, 11, texture.USDA, []box{{f.at(at).X - 8, f.at(at).Y - 8, f.at(at).X + 8, f.at(at).Y + 8}})
	assert.Greater(t, math.Abs(p.Y-f.at(at).Y), 10.0)
	s := f.soil(p)
	assert.InDelta(t, 33.5, s[2], 6.5, "clay loam has 27 to 40 % clay")
}

// area of a ring in the plane of sand and clay, in square percent.
func area(rings [][]soil) float64 {
	sum := 0.0
	for _, r := range rings {
		for i, p := range r {
			q := r[(i+1)%len(r)]
			sum += (p[0]*q[2] - q[0]*p[2]) / 2
		}
	}
	return math.Abs(sum)
}

func holds(rings [][]soil, p soil) bool {
	in := false
	for _, r := range rings {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			if (a[2] > p[2]) != (b[2] > p[2]) && p[0] < a[0]+(p[2]-a[2])/(b[2]-a[2])*(b[0]-a[0]) {
				in = !in
			}
		}
	}
	return in
}

// The regions hold the share of the cloud they are named for. For a normal cloud
// the smallest region that holds a share q has the area -2 pi ln(1-q) sqrt(det S)
// (chi-square with two degrees of freedom, any textbook). 2000 soils fix that area
// to some 3 %.
func TestRegions(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	var points []soil
	const sdSand, sdClay, n = 6.0, 3.0, 2000
	for range n {
		sand, clay := 40+sdSand*rnd.NormFloat64(), 30+sdClay*rnd.NormFloat64()
		points = append(points, soil{sand, 100 - sand - clay, clay})
	}
	for i, rings := range regions(points, 0.9, 0.5) {
		share := []float64{0.9, 0.5}[i]
		in := 0
		for _, p := range points {
			if holds(rings, p) {
				in++
			}
		}
		assert.InDelta(t, share, float64(in)/n, 0.01)
		want := -2 * math.Pi * math.Log(1-share) * sdSand * sdClay
		assert.InEpsilon(t, want, area(rings), 0.06)
	}
}

// Clouds at the edge, on a line or in one point: rings that close, all within the
// triangle.
func TestRegionsOfOddClouds(t *testing.T) {
	clouds := map[string]func(i int) soil{
		"corner": func(i int) soil { v := float64(i%20) / 4; return soil{100 - v, v / 2, v / 2} },
		"edge":   func(i int) soil { v := float64(i) / 2; return soil{0, 100 - v, v} },
		"point":  func(int) soil { return soil{33.3, 33.3, 33.4} },
		"two":    func(i int) soil { return []soil{{80, 10, 10}, {10, 20, 70}}[i%2] },
	}
	for name, of := range clouds {
		var points []soil
		for i := range 200 {
			points = append(points, of(i))
		}
		for _, rings := range regions(points, 0.9, 0.5) {
			require.NotEmpty(t, rings, name)
			for _, ring := range rings {
				for _, p := range ring {
					require.True(t, isSoil(p), "%s: %v", name, p)
				}
			}
		}
	}
}

func BenchmarkTriangle(b *testing.B) {
	s, _ := SoilOf(loam())
	for b.Loop() {
		Triangle([]Soil{s}, texture.USDA, Options{}).SVG()
	}
}
