package chart

import "mudline/texture"

// soil is [sand, silt, clay] in percent.
type soil = [3]float64

// usdaBorders are the limits of the classes as lines between two soils each, in
// the order of the rules in package texture; that both agree is tested point by
// point.
var usdaBorders = [][2]soil{
	{{85, 15, 0}, {90, 0, 10}},   // si + 1.5 cl = 15: sand, loamy sand
	{{70, 30, 0}, {85, 0, 15}},   // si + 2 cl = 30: loamy sand, sandy loam
	{{80, 0, 20}, {52, 28, 20}},  // cl = 20: sandy loam, sandy clay loam
	{{52, 28, 20}, {52, 41, 7}},  // sa = 52: sandy loam, loam
	{{52, 41, 7}, {43, 50, 7}},   // cl = 7: sandy loam, loam
	{{52, 28, 20}, {45, 28, 27}}, // si = 28: sandy clay loam, loam
	{{50, 50, 0}, {23, 50, 27}},  // si = 50: silt loam
	{{20, 80, 0}, {8, 80, 12}},   // si = 80: silt
	{{8, 80, 12}, {0, 88, 12}},   // cl = 12: silt
	{{45, 28, 27}, {0, 73, 27}},  // cl = 27: the clay loams
	{{65, 0, 35}, {45, 20, 35}},  // cl = 35: sandy clay
	{{45, 28, 27}, {45, 0, 55}},  // sa = 45: sandy clay (loam)
	{{45, 15, 40}, {0, 60, 40}},  // cl = 40: the clays
	{{20, 53, 27}, {20, 40, 40}}, // sa = 20: silty clay loam
	{{20, 40, 40}, {0, 40, 60}},  // si = 40: silty clay
}

// heavyClay is the limit that the Canadian classes add.
var heavyClay = [2]soil{{40, 0, 60}, {0, 40, 60}}

// borders are the limits of a system's classes; none where it has no classes.
func borders(s texture.System) [][2]soil {
	switch s {
	case texture.USDA:
		return usdaBorders
	case texture.Canadian:
		return append(usdaBorders[:len(usdaBorders):len(usdaBorders)], heavyClay)
	}
	return nil
}

// className is where the name of a class stands, a line of letters for each
// entry.
type className struct {
	class string
	lines []string
	at    soil
}

// outside is the class whose name stands beside the triangle.
const outside = "loamy sand"

// classNames are set where the fields are widest.
var classNames = []className{
	{"clay", []string{"clay"}, soil{19, 19, 62}},
	{"silty clay", []string{"silty", "clay"}, soil{6, 46.5, 47.5}},
	{"sandy clay", []string{"sandy", "clay"}, soil{52.5, 6, 41.5}},
	{"clay loam", []string{"clay loam"}, soil{33, 33.5, 33.5}},
	{"silty clay loam", []string{"silty", "clay loam"}, soil{10, 56.5, 33.5}},
	{"sandy clay loam", []string{"sandy", "clay loam"}, soil{59, 14, 27}},
	{"loam", []string{"loam"}, soil{42, 40, 18}},
	{"silt loam", []string{"silt loam"}, soil{20, 65, 15}},
	{"sandy loam", []string{"sandy loam"}, soil{65, 24.5, 10.5}},
	{"silt", []string{"silt"}, soil{7, 87.5, 5.5}},
	{outside, []string{"loamy", "sand"}, soil{84.5, 8, 7.5}},
	{"sand", []string{"sand"}, soil{92, 4.6, 3.4}},
	{"heavy clay", []string{"heavy", "clay"}, soil{13, 13, 74}},
}

// names are the names to write for a system. In the Canadian one clay ends at 60.
func names(s texture.System) []className {
	if !s.HasClasses() {
		return nil
	}
	out := append([]className(nil), classNames...)
	if s == texture.Canadian {
		out[0].at = soil{25, 25, 50}
		return out
	}
	return out[:len(out)-1]
}
