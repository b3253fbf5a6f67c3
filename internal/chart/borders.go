package chart

import (
	"math"
	"sync"

	"mudline/texture"
)

// soil is [sand, silt, clay] in percent.
type soil = [3]float64

func soilOf(f texture.Fractions) soil { return soil{f.Sand, f.Silt, f.Clay} }

// borders are the limits of a system's classes as lines between two soils each.
func borders(s texture.System) [][2]soil {
	var out [][2]soil
	for _, l := range texture.Limits(s) {
		out = append(out, [2]soil{soilOf(l[0]), soilOf(l[1])})
	}
	return out
}

// className is where the name of a class stands: a line of letters for each
// entry, or none where the room decides.
type className struct {
	class string
	lines []string
	at    soil
	// beside is the clay, in percent, at which the name stands left of the
	// triangle, with a line to its field; 0 for one within.
	beside float64
}

// usdaNames are set where the fields are widest.
var usdaNames = []className{
	{"clay", []string{"clay"}, soil{19, 19, 62}, 0},
	{"silty clay", []string{"silty", "clay"}, soil{6, 46.5, 47.5}, 0},
	{"sandy clay", []string{"sandy", "clay"}, soil{52.5, 6, 41.5}, 0},
	{"clay loam", []string{"clay loam"}, soil{33, 33.5, 33.5}, 0},
	{"silty clay loam", []string{"silty", "clay loam"}, soil{10, 56.5, 33.5}, 0},
	{"sandy clay loam", []string{"sandy", "clay loam"}, soil{59, 14, 27}, 0},
	{"loam", []string{"loam"}, soil{42, 40, 18}, 0},
	{"silt loam", []string{"silt loam"}, soil{20, 65, 15}, 0},
	{"sandy loam", []string{"sandy loam"}, soil{65, 24.5, 10.5}, 0},
	{"silt", []string{"silt"}, soil{7, 87.5, 5.5}, 0},
	{"loamy sand", []string{"loamy", "sand"}, soil{84.5, 8, 7.5}, 10.5},
	{"sand", []string{"sand"}, soil{92, 4.6, 3.4}, 0},
}

// beside are the classes of other systems whose fields have no room for a name,
// with the clay at which it stands left of the triangle.
var beside = map[texture.System]map[string]float64{
	texture.EnglandWales:  {"loamy sand": 10.5},
	texture.International: {"sand": 2.5, "loamy sand": 11},
	texture.Australian:    {"sand": 4, "sandy loam": 13, "sandy clay loam": 28},
}

// names are the names to write for a system.
func names(s texture.System) []className {
	switch s {
	case texture.USDA:
		return usdaNames
	case texture.Canadian: // clay ends at 60
		return append([]className{{"clay", []string{"clay"}, soil{25, 25, 50}, 0},
			{"heavy clay", []string{"heavy", "clay"}, soil{13, 13, 74}, 0}}, usdaNames[1:]...)
	}
	return found()[s]
}

// found are the places of the names of the other systems: where there is most room.
var found = sync.OnceValue(func() map[texture.System][]className {
	out := map[texture.System][]className{}
	for _, s := range texture.Systems() {
		limits := append(borders(s), [2]soil{{100, 0, 0}, {0, 100, 0}}, [2]soil{{100, 0, 0}, {0, 0, 100}}, [2]soil{{0, 100, 0}, {0, 0, 100}})
		for _, class := range texture.ClassNames(s) {
			n := className{class: class, at: widest(class, s, limits), beside: beside[s][class]}
			if symbol := texture.Symbol(class); symbol != "" {
				n.lines = []string{symbol}
			}
			out[s] = append(out[s], n)
		}
	}
	return out
})

// widest is the soil of a class that is farthest from all limits, a name being
// wider than high.
func widest(class string, s texture.System, limits [][2]soil) soil {
	f := frame{0, 0, 100}
	const step, flat = 1.0, 0.5
	place := func(s soil) Point { p := f.at(s); return Point{X: flat * p.X, Y: p.Y} }
	var best soil
	most := -1.0
	for clay := step / 2; clay < 100; clay += step {
		for silt := step / 4; silt+clay < 100; silt += step {
			here := soil{100 - silt - clay, silt, clay}
			if name, err := texture.ClassOf(texture.Fractions{Sand: here[0], Silt: silt, Clay: clay}, s); err != nil || name != class {
				continue
			}
			room := math.Inf(1)
			for _, l := range limits {
				room = math.Min(room, fromLine(place(here), place(l[0]), place(l[1])))
			}
			if room > most {
				best, most = here, room
			}
		}
	}
	return best
}

// fromLine is the distance of p from the stretch between a and b.
func fromLine(p, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := math.Min(math.Max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/(dx*dx+dy*dy), 0), 1)
	return math.Hypot(p.X-a.X-t*dx, p.Y-a.Y-t*dy)
}
