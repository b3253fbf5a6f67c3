package moisture

import "math"

// Rate is how fast ground takes water in once it is wet, mm/h. HighMMH is
// infinite where a table says "over".
type Rate struct{ LowMMH, HighMMH float64 }

// Two published tables. They differ up to threefold, and structure and cover
// outweigh texture in both.
var (
	// afterHillel are steady rates as a figure after Hillel (1982) gives them;
	// only its caption was read.
	afterHillel = map[string]Rate{"sand": {20, math.Inf(1)}, "sandy loam": {10, 20}, "silt": {5, 10}, "clay": {1, 5}}
	// brouwer are the basic rates of Brouwer et al., FAO irrigation water
	// management training manual 5 (from memory).
	brouwer = map[string]Rate{"sand": {30, math.Inf(1)}, "sandy loam": {20, 30}, "loam": {10, 20}, "clay loam": {5, 10}, "clay": {1, 5}}
)

// SodicClay is what clay takes in whose sodium makes it slake: less than any class
// does by texture (figure after Hillel 1982, as above).
var SodicClay = Rate{0, 1}

// likeClass names the class of the tables that stands for one they leave out.
var likeClass = map[string]string{"loamy sand": "sand", "silt loam": "silt", "sandy clay loam": "clay loam", "silty clay loam": "clay loam",
	"sandy clay": "clay", "silty clay": "clay", "heavy clay": "clay"}

// Infiltration is the span of both tables for a texture class of package
// texture, or for the class most like it that they list; false for another name.
func Infiltration(class string) (Rate, bool) {
	if like, ok := likeClass[class]; ok {
		class = like
	}
	a, inHillel := afterHillel[class]
	b, inBrouwer := brouwer[class]
	switch {
	case inHillel && inBrouwer:
		return Rate{math.Min(a.LowMMH, b.LowMMH), math.Max(a.HighMMH, b.HighMMH)}, true
	case inHillel:
		return a, true
	}
	return b, inBrouwer
}
