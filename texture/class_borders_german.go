package texture

// germanFields are the classes of the German mapping guide (Bodenkundliche
// Kartieranleitung, 4th edition, 1994), under their own names: sands, silts,
// loams, clays.
var germanFields = []field{
	{"reiner Sand", []corner{{0, 10}, {0, 0}, {5, 0}, {5, 10}}},
	{"schwach schluffiger Sand", []corner{{0, 25}, {0, 10}, {5, 10}, {5, 25}}},
	{"schwach lehmiger Sand", []corner{{5, 25}, {5, 10}, {8, 10}, {8, 25}}},
	{"mittel schluffiger Sand", []corner{{0, 40}, {0, 25}, {5, 25}, {8, 25}, {8, 40}}},
	{"stark schluffiger Sand", []corner{{0, 50}, {0, 40}, {8, 40}, {8, 50}}},
	{"schwach toniger Sand", []corner{{5, 10}, {5, 0}, {17, 0}, {17, 10}, {12, 10}, {8, 10}}},
	{"mittel lehmiger Sand", []corner{{8, 40}, {8, 25}, {8, 10}, {12, 10}, {12, 40}}},
	{"schluffig-lehmiger Sand", []corner{{8, 50}, {8, 40}, {12, 40}, {17, 40}, {17, 50}}},
	{"stark lehmiger Sand", []corner{{12, 40}, {12, 10}, {17, 10}, {17, 15}, {17, 30}, {17, 40}}},
	{"mittel toniger Sand", []corner{{17, 15}, {17, 10}, {17, 0}, {25, 0}, {25, 15}}},
	{"sandiger Schluff", []corner{{0, 80}, {0, 50}, {8, 50}, {8, 65}, {8, 80}}},
	{"reiner Schluff", []corner{{0, 100}, {0, 80}, {8, 80}, {8, 92}}},
	{"sandig-lehmiger Schluff", []corner{{8, 65}, {8, 50}, {17, 50}, {17, 65}, {12, 65}}},
	{"schwach toniger Schluff", []corner{{8, 92}, {8, 80}, {8, 65}, {12, 65}, {12, 88}}},
	{"mittel toniger Schluff", []corner{{12, 88}, {12, 65}, {17, 65}, {17, 83}}},
	{"stark toniger Schluff", []corner{{17, 83}, {17, 65}, {25, 65}, {25, 75}}},
	{"stark sandiger Lehm", []corner{{17, 30}, {17, 15}, {25, 15}, {25, 30}}},
	{"mittel sandiger Lehm", []corner{{17, 40}, {17, 30}, {25, 30}, {25, 40}}},
	{"schwach sandiger Lehm", []corner{{17, 50}, {17, 40}, {25, 40}, {25, 50}}},
	{"schluffiger Lehm", []corner{{17, 65}, {17, 50}, {25, 50}, {30, 50}, {30, 65}, {25, 65}}},
	{"sandig-toniger Lehm", []corner{{25, 30}, {25, 15}, {35, 15}, {45, 15}, {45, 30}, {35, 30}}},
	{"schwach toniger Lehm", []corner{{25, 50}, {25, 40}, {25, 30}, {35, 30}, {35, 50}, {30, 50}}},
	{"mittel toniger Lehm", []corner{{35, 50}, {35, 30}, {45, 30}, {45, 50}}},
	{"stark sandiger Ton", []corner{{25, 15}, {25, 0}, {35, 0}, {35, 15}}},
	{"mittel sandiger Ton", []corner{{35, 15}, {35, 0}, {45, 0}, {45, 15}}},
	{"schwach sandiger Ton", []corner{{45, 15}, {45, 0}, {65, 0}, {65, 15}}},
	{"mittel schluffiger Ton", []corner{{30, 65}, {30, 50}, {35, 50}, {45, 50}, {45, 55}, {35, 65}}},
	{"stark schluffiger Ton", []corner{{25, 75}, {25, 65}, {30, 65}, {35, 65}}},
	{"lehmiger Ton", []corner{{45, 30}, {45, 15}, {65, 15}, {65, 30}}},
	{"schwach schluffiger Ton", []corner{{45, 55}, {45, 50}, {45, 30}, {65, 30}, {65, 35}}},
	{"reiner Ton", []corner{{65, 35}, {65, 30}, {65, 15}, {65, 0}, {100, 0}}},
}

// germanWords are the symbol of each German class, as the mapping guide writes it
// (from memory), and the class in English.
var germanWords = map[string]struct{ symbol, english string }{
	"reiner Sand":              {"Ss", "pure sand"},
	"schwach schluffiger Sand": {"Su2", "slightly silty sand"},
	"schwach lehmiger Sand":    {"Sl2", "slightly loamy sand"},
	"mittel schluffiger Sand":  {"Su3", "moderately silty sand"},
	"stark schluffiger Sand":   {"Su4", "very silty sand"},
	"schwach toniger Sand":     {"St2", "slightly clayey sand"},
	"mittel lehmiger Sand":     {"Sl3", "moderately loamy sand"},
	"schluffig-lehmiger Sand":  {"Slu", "silty and loamy sand"},
	"stark lehmiger Sand":      {"Sl4", "very loamy sand"},
	"mittel toniger Sand":      {"St3", "moderately clayey sand"},
	"sandiger Schluff":         {"Us", "sandy silt"},
	"reiner Schluff":           {"Uu", "pure silt"},
	"sandig-lehmiger Schluff":  {"Uls", "sandy and loamy silt"},
	"schwach toniger Schluff":  {"Ut2", "slightly clayey silt"},
	"mittel toniger Schluff":   {"Ut3", "moderately clayey silt"},
	"stark toniger Schluff":    {"Ut4", "very clayey silt"},
	"stark sandiger Lehm":      {"Ls4", "very sandy loam"},
	"mittel sandiger Lehm":     {"Ls3", "moderately sandy loam"},
	"schwach sandiger Lehm":    {"Ls2", "slightly sandy loam"},
	"schluffiger Lehm":         {"Lu", "silty loam"},
	"sandig-toniger Lehm":      {"Lts", "sandy and clayey loam"},
	"schwach toniger Lehm":     {"Lt2", "slightly clayey loam"},
	"mittel toniger Lehm":      {"Lt3", "moderately clayey loam"},
	"stark sandiger Ton":       {"Ts4", "very sandy clay"},
	"mittel sandiger Ton":      {"Ts3", "moderately sandy clay"},
	"schwach sandiger Ton":     {"Ts2", "slightly sandy clay"},
	"mittel schluffiger Ton":   {"Tu3", "moderately silty clay"},
	"stark schluffiger Ton":    {"Tu4", "very silty clay"},
	"lehmiger Ton":             {"Tl", "loamy clay"},
	"schwach schluffiger Ton":  {"Tu2", "slightly silty clay"},
	"reiner Ton":               {"Tt", "pure clay"},
}

// Symbol is the short sign of a class whose system has such, else empty.
func Symbol(class string) string { return germanWords[class].symbol }

// InFull is a class as a reader is told it: a name that is not English stays as
// it is, with its symbol and what it means beside it.
func InFull(class string) string {
	if w, ok := germanWords[class]; ok {
		return class + " (" + w.symbol + ", " + w.english + ")"
	}
	return class
}
