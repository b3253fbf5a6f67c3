package texture

import (
	"fmt"
	"slices"
	"strings"

	"mudline/internal/words"
)

// System is a set of size limits and texture classes, as a country or a map
// uses it. Each has its own row in systems.
type System int

// The systems known.
const (
	USDA System = iota
	Canadian
	EnglandWales
	International
	Australian
	German
	European
)

// scheme is what makes a system: where its silt ends and the fields of its
// classes, coarse to fine.
type scheme struct {
	name   string // on the command line and in documents
	title  string // to a reader
	source string
	siltUM float64
	fields []field
}

// systems holds the systems by their number. Where silt ends: USDA,
// international, Australian and German limits as in Lal & Shukla, Principles of
// Soil Physics, table 3.1, and a laboratory's comparison of systems; England and
// Wales as that comparison has ADAS. Clay ends at 2 um in all of them.
var systems = [...]scheme{
	USDA: {"usda", "USDA classes", "Soil Survey Manual, USDA Agriculture Handbook 18, chapter 3",
		50, usdaFields},
	Canadian: {"canadian", "Canadian classes", "Canadian Soil Information Service, parent material texture",
		50, canadianFields},
	EnglandWales: {"england-wales", "classes of England and Wales", "Soil Survey of England and Wales, texture classes",
		60, englandWalesFields},
	International: {"international", "international classes", "Verheye and Ameryckx (1984), Pedologie 34, 215-225",
		20, internationalFields},
	Australian: {"australian", "Australian classes", "Australian texture triangle, corners by B. Minasny",
		20, australianFields},
	German: {"german", "German classes", "Bodenkundliche Kartieranleitung, 4th edition (1994)",
		63, germanFields},
	European: {"european", "classes of the European soil map", "HYPRES, texture classes of the European soil map",
		50, europeanFields},
}

// otherNames are names by which people know a system.
var otherNames = map[string]System{"canada": Canadian, "uk": EnglandWales, "australia": Australian, "germany": German, "isss": International, "hypres": European}

// Systems lists all systems, the usual one first.
func Systems() []System {
	out := make([]System, len(systems))
	for i := range out {
		out[i] = System(i)
	}
	return out
}

// SystemNames lists the names of all systems, the usual one first.
func SystemNames() []string {
	var out []string
	for _, s := range systems {
		out = append(out, s.name)
	}
	return out
}

// String returns the name used on the command line.
func (s System) String() string {
	if s.Validate() != nil {
		return fmt.Sprintf("system(%d)", int(s))
	}
	return systems[s].name
}

// Title names the classes of the system to a reader: "USDA classes".
func (s System) Title() string { return s.known().title }

// Source says where the limits of the classes were published.
func (s System) Source() string { return s.known().source }

// known is the row of s; the usual one for a system that is none.
func (s System) known() *scheme {
	if s.Validate() != nil {
		s = USDA
	}
	return &systems[s]
}

// ParseSystem reads a system's name, in any case.
func ParseSystem(name string) (System, error) {
	plain := strings.ToLower(strings.TrimSpace(name))
	if i := slices.Index(SystemNames(), plain); i >= 0 {
		return System(i), nil
	}
	if s, ok := otherNames[plain]; ok {
		return s, nil
	}
	return USDA, words.Say("soil.no-system", words.Quoted("given", name), words.Names("known", "", SystemNames()))
}

// Validate says why a system cannot be used, nil when it can.
func (s System) Validate() error {
	if s < 0 || int(s) >= len(systems) {
		return fmt.Errorf("system number %d is not known; use one of %s", int(s), strings.Join(SystemNames(), ", "))
	}
	return nil
}

// SiltLimitUM returns the upper size limit of silt in micrometres.
func (s System) SiltLimitUM() float64 { return s.known().siltUM }
