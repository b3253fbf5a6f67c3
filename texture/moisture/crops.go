package moisture

import (
	"slices"
	"strings"

	"mudline/internal/words"
)

// Crop is how deep a crop roots and how dry it bears the ground.
type Crop struct {
	// Name is the crop's name, Plants what a sentence calls them: both are words of
	// the catalogues' family "crop".
	Name   string
	Plants string
	// RootsFromMM and RootsToMM are the range of its rooting depth when grown;
	// FAO-56 takes the lower for watering.
	RootsFromMM, RootsToMM float64
	// Depletion is the part of the available water it takes before it suffers,
	// 0..1, on days that use 5 mm.
	Depletion float64
	others    []string // names in other places
}

// crops are from FAO-56 table 22 (Allen et al. 1998, from memory). Where it
// gives a range for the depletion, the lower stands here.
var crops = []Crop{
	{"apple", "apple trees", 1000, 2000, 0.50, []string{"apple tree"}},
	// Blueberries root higher than other berries, mostly within 300 mm (common practice).
	{"blueberry", "blueberries", 200, 300, 0.50, nil},
	{"broccoli", "broccoli", 400, 600, 0.45, []string{"calabrese"}},
	{"bush berries", "berry bushes", 600, 1200, 0.50, []string{"berry", "berry bush", "raspberry", "blackberry", "currant", "gooseberry"}},
	{"cabbage", "cabbage", 500, 800, 0.45, nil},
	{"carrot", "carrots", 500, 1000, 0.35, nil},
	{"celery", "celery", 300, 500, 0.20, nil},
	{"cool-season lawn", "a lawn of cool-season grass", 500, 1000, 0.40, []string{"cool-season turf", "lawn", "turf", "grass"}},
	{"courgette", "courgettes", 600, 1000, 0.50, []string{"zucchini", "squash", "summer squash", "marrow"}},
	{"cucumber", "cucumbers", 700, 1200, 0.50, nil},
	{"garlic", "garlic", 300, 500, 0.30, nil},
	{"grain maize", "maize", 1000, 1700, 0.55, []string{"maize", "field corn", "grain corn"}},
	{"green bean", "beans", 500, 700, 0.45, []string{"bean", "french bean", "string bean", "snap bean"}},
	{"lettuce", "lettuce", 300, 500, 0.30, []string{"salad"}},
	{"onion", "onions", 300, 600, 0.30, nil},
	{"pea", "peas", 600, 1000, 0.35, []string{"garden pea"}},
	{"pepper", "peppers", 500, 1000, 0.30, []string{"sweet pepper", "bell pepper"}},
	{"potato", "potatoes", 400, 600, 0.35, nil},
	{"pumpkin", "pumpkins", 1000, 1500, 0.35, []string{"winter squash"}},
	{"radish", "radishes", 300, 500, 0.30, nil},
	{"spinach", "spinach", 300, 500, 0.20, nil},
	{"stone fruit", "stone fruit trees", 1000, 2000, 0.50, []string{"peach", "plum", "cherry", "apricot", "nectarine"}},
	{"strawberry", "strawberries", 200, 300, 0.20, nil},
	{"sweetcorn", "sweetcorn", 800, 1200, 0.50, []string{"sweet corn", "sweet maize", "corn"}},
	{"tomato", "tomatoes", 700, 1500, 0.40, nil},
	{"warm-season lawn", "a lawn of warm-season grass", 500, 1000, 0.50, []string{"warm-season turf"}},
}

// Crops lists the crops known, by name.
func Crops() []Crop { return slices.Clone(crops) }

// FindCrop looks a crop up by its name, in any case, one or many. The error
// lists the names known, as they are to be written.
func FindCrop(name string) (Crop, error) {
	wanted := singular(name)
	for _, c := range crops {
		for _, n := range append([]string{c.Name}, c.others...) {
			if singular(n) == wanted {
				return c, nil
			}
		}
	}
	names := make([]string, len(crops))
	for i, c := range crops {
		names[i] = c.Name
	}
	return Crop{}, words.Say("soil.no-crop", words.Quoted("given", strings.TrimSpace(name)), words.Names("known", "", names))
}

// singular is a name in small letters with its last word taken as one.
func singular(name string) string {
	s := strings.ToLower(strings.Join(strings.FieldsFunc(name, func(r rune) bool { return r == ' ' || r == '-' || r == '\t' }), " "))
	for _, e := range []struct{ many, one string }{{"ies", "y"}, {"oes", "o"}, {"shes", "sh"}, {"ches", "ch"}, {"ss", "ss"}, {"s", ""}} {
		if stem, ok := strings.CutSuffix(s, e.many); ok && stem != "" {
			return stem + e.one
		}
	}
	return s
}
