package texture

// corner is a corner of a class's field, percent; sand is the rest to 100.
type corner struct{ clay, silt float64 }

// field is the part of the triangle that a class takes, a polygon.
type field struct {
	class   string
	corners []corner
}

// usdaFields are the definitions of the Soil Survey Manual (Agriculture Handbook
// 18, 2017, ch. 3; from memory, an older wording read) drawn as fields; the tests
// hold them against the wording.
var usdaFields = []field{
	{"sand", []corner{{0, 0}, {10, 0}, {0, 15}}},
	{"loamy sand", []corner{{10, 0}, {15, 0}, {0, 30}, {0, 15}}},
	{"sandy loam", []corner{{15, 0}, {20, 0}, {20, 28}, {7, 41}, {7, 50}, {0, 50}, {0, 30}}},
	{"loam", []corner{{7, 41}, {20, 28}, {27, 28}, {27, 50}, {7, 50}}},
	{"silt loam", []corner{{0, 50}, {27, 50}, {27, 73}, {12, 88}, {12, 80}, {0, 80}}},
	{"silt", []corner{{0, 80}, {12, 80}, {12, 88}, {0, 100}}},
	{"sandy clay loam", []corner{{20, 0}, {35, 0}, {35, 20}, {27, 28}, {20, 28}}},
	{"clay loam", []corner{{27, 28}, {40, 15}, {40, 40}, {27, 53}}},
	{"silty clay loam", []corner{{27, 53}, {40, 40}, {40, 60}, {27, 73}}},
	{"sandy clay", []corner{{35, 0}, {55, 0}, {35, 20}}},
	{"silty clay", []corner{{40, 40}, {60, 40}, {40, 60}}},
	{"clay", []corner{{55, 0}, {100, 0}, {60, 40}, {40, 40}, {40, 15}}},
}

// heavy is where heavy clay begins: above 60 % clay, 60 itself being clay.
const heavy = 60 + 2*edge

// canadianFields are USDA's with heavy clay, "more than 60 % clay" (CanSIS,
// parent material texture).
var canadianFields = append(usdaFields[:len(usdaFields)-1:len(usdaFields)-1],
	field{"clay", []corner{{55, 0}, {heavy, 0}, {heavy, 100 - heavy}, {60, 40}, {40, 40}, {40, 15}}},
	field{"heavy clay", []corner{{heavy, 0}, {100, 0}, {heavy, 100 - heavy}}})

// The corners from here on are those of the class definitions in the R package
// soiltexture, read there.

// englandWalesFields are the classes of the Soil Survey of England and Wales.
var englandWalesFields = []field{
	{"sand", []corner{{10, 0}, {0, 0}, {0, 15}}},
	{"loamy sand", []corner{{15, 0}, {10, 0}, {0, 15}, {0, 30}}},
	{"sandy loam", []corner{{18, 0}, {15, 0}, {0, 30}, {0, 50}, {18, 32}}},
	{"sandy silt loam", []corner{{18, 32}, {0, 50}, {0, 80}, {18, 62}}},
	{"silt loam", []corner{{18, 62}, {0, 80}, {0, 100}, {18, 82}}},
	{"sandy clay loam", []corner{{30, 0}, {18, 0}, {18, 32}, {30, 20}}},
	{"clay loam", []corner{{35, 20}, {30, 20}, {18, 32}, {18, 62}, {35, 45}}},
	{"silty clay loam", []corner{{35, 45}, {18, 62}, {18, 82}, {35, 65}}},
	{"sandy clay", []corner{{55, 0}, {30, 0}, {30, 20}, {35, 20}}},
	{"silty clay", []corner{{55, 45}, {35, 45}, {35, 65}}},
	{"clay", []corner{{100, 0}, {55, 0}, {35, 20}, {35, 45}, {55, 45}}},
}

// internationalFields are the international (ISSS) classes after Verheye &
// Ameryckx 1984.
var internationalFields = []field{
	{"sand", []corner{{5, 0}, {0, 0}, {0, 15}}},
	{"loamy sand", []corner{{15, 0}, {5, 0}, {0, 15}}},
	{"sandy loam", []corner{{15, 0}, {0, 15}, {0, 35}, {15, 20}}},
	{"loam", []corner{{15, 20}, {0, 35}, {0, 45}, {15, 45}}},
	{"silt loam", []corner{{15, 45}, {0, 45}, {0, 100}, {15, 85}}},
	{"sandy clay loam", []corner{{25, 0}, {15, 0}, {15, 20}, {25, 20}}},
	{"clay loam", []corner{{25, 20}, {15, 20}, {15, 45}, {25, 45}}},
	{"silty clay loam", []corner{{25, 45}, {15, 45}, {15, 85}, {25, 75}}},
	{"sandy clay", []corner{{45, 0}, {25, 0}, {25, 20}}},
	{"light clay", []corner{{45, 0}, {25, 20}, {25, 45}, {45, 45}}},
	{"silty clay", []corner{{45, 45}, {25, 45}, {25, 75}, {45, 55}}},
	{"heavy clay", []corner{{100, 0}, {45, 0}, {45, 45}, {45, 55}}},
}

// australianFields are the Australian classes, corners by B. Minasny. Sandy loam
// takes in the corner 8.5/4 of its neighbours, which the list lacks: without it
// a sliver of 0.015 % of the triangle would have no class.
var australianFields = []field{
	{"sand", []corner{{0, 0}, {0, 7.5}, {8.5, 4}, {8, 0}}},
	{"loamy sand", []corner{{0, 7.5}, {0, 25}, {12, 25}, {8.5, 4}}},
	{"sandy loam", []corner{{8, 0}, {8.5, 4}, {10, 13}, {21, 10}, {17, 0}}},
	{"loam", []corner{{10, 13}, {12, 25}, {26, 25}, {21, 10}}},
	{"silty loam", []corner{{0, 25}, {0, 100}, {26, 74}, {26, 25}, {12, 25}}},
	{"sandy clay loam", []corner{{17, 0}, {21, 10}, {30, 7}, {26, 0}}},
	{"clay loam", []corner{{21, 10}, {26, 25}, {40, 25}, {30, 7}}},
	{"silty clay loam", []corner{{26, 25}, {26, 74}, {40, 60}, {40, 25}}},
	{"sandy clay", []corner{{26, 0}, {30, 7}, {51, 0}}},
	{"silty clay", []corner{{40, 25}, {40, 60}, {75, 25}}},
	{"clay", []corner{{51, 0}, {30, 7}, {40, 25}, {75, 25}, {100, 0}}},
}

// europeanFields are the five classes of the European soil map (HYPRES).
var europeanFields = []field{
	{"coarse", []corner{{0, 0}, {18, 0}, {18, 17}, {0, 35}}},
	{"medium", []corner{{18, 0}, {35, 0}, {35, 50}, {0, 85}, {0, 35}, {18, 17}}},
	{"medium fine", []corner{{0, 85}, {35, 50}, {35, 65}, {0, 100}}},
	{"fine", []corner{{35, 0}, {60, 0}, {60, 40}, {35, 65}}},
	{"very fine", []corner{{60, 0}, {100, 0}, {60, 40}}},
}
