package chart

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"

	"mudline/internal/reading"
)

// role is what a colour is for; each has one for light ground, for dark and for
// paper. The zero role is a colour of its own, the same on any ground.
type role int

const (
	_           role = iota
	roleCard         // the ground
	roleInk          // text
	roleSoft         // text of second rank, outlines
	roleRule         // faint lines that only guide the eye
	roleEdge         // borders of classes and axes
	roleCloud        // what the jar says: rust
	roleHand         // what the hands say: teal
	roleSandTop      // the lines of the settling: ochre, teal and rust
	roleSiltTop      //
	roleTop          //
	roleQuiet        // class names
	roles            // how many there are
)

// palette holds the colours of each role on light ground, dark ground and paper.
// Earths on warm white; against them teal, which stays apart from rust and ochre
// in every kind of colour blindness since it is darker than ochre and its blue
// differs from that of rust.
var palette = [roles]struct{ name, light, dark, print string }{
	roleCard:    {"card", "#fffdf8", "#241d18", "#ffffff"},
	roleInk:     {"ink", "#2b2119", "#f1e8db", "#1d1712"},
	roleSoft:    {"soft", "#66574a", "#c1b09d", "#54473b"},
	roleRule:    {"rule", "#e6dccd", "#43372d", "#dcd4c8"},
	roleEdge:    {"edge", "#8f7d6a", "#8f7d6a", "#80705f"},
	roleCloud:   {"cloud", "#a2411a", "#f0996a", "#a2411a"},
	roleHand:    {"hand", "#14607c", "#77c6e0", "#14607c"},
	roleSandTop: {"sand-top", "#b07a0c", "#f2d06b", "#a87208"},
	roleSiltTop: {"silt-top", "#14607c", "#5fb0cf", "#14607c"},
	roleTop:     {"top", "#7c2a14", "#ec7f66", "#7c2a14"},
	roleQuiet:   {"quiet", "#5d4f43", "#c9b9a6", "#4c4036"},
}

func (r role) String() string { return palette[r].name }

// paint is a role, or a colour of its own as "#rrggbb".
type paint struct {
	role role
	own  string
}

var (
	card    = paint{role: roleCard}
	ink     = paint{role: roleInk}
	soft    = paint{role: roleSoft}
	rule    = paint{role: roleRule}
	edge    = paint{role: roleEdge}
	cloud   = paint{role: roleCloud}
	hand    = paint{role: roleHand}
	sandTop = paint{role: roleSandTop}
	siltTop = paint{role: roleSiltTop}
	soilTop = paint{role: roleTop}
	quiet   = paint{role: roleQuiet}
)

func (p paint) light() string {
	if p.role > 0 {
		return palette[p.role].light
	}
	return p.own
}

// CSS are the rules a page includes once for all its charts: the colours for
// light and dark screens and for paper, and the size.
func CSS() string {
	var b strings.Builder
	set := func(pick func(r role) string) {
		b.WriteString(".chart{")
		for r := roleCard; r < roles; r++ {
			fmt.Fprintf(&b, "--chart-%v:%s;", r, pick(r))
		}
		b.WriteString("}")
	}
	b.WriteString(".chart{display:block;width:100%;max-width:34rem;height:auto;border-radius:6px}\n")
	set(func(r role) string { return palette[r].light })
	b.WriteString("\n@media screen and (prefers-color-scheme:dark){")
	set(func(r role) string { return palette[r].dark })
	b.WriteString("}\n@media print{")
	set(func(r role) string { return palette[r].print })
	b.WriteString(".chart{print-color-adjust:exact;-webkit-print-color-adjust:exact}}\n")
	for r := roleCard; r < roles; r++ {
		fmt.Fprintf(&b, ".cf-%[1]v{fill:var(--chart-%[1]v)}.cs-%[1]v{stroke:var(--chart-%[1]v)}", r)
	}
	b.WriteString("\n")
	return b.String()
}

// Contrast is the contrast ratio of two colours "#rrggbb", 1 to 21, by WCAG 2.2
// (definitions of contrast ratio and relative luminance). It is 0 where one is no
// colour.
func Contrast(a, b string) float64 {
	x, okA := parseHex(a)
	y, okB := parseHex(b)
	if !okA || !okB {
		return 0
	}
	lo, hi := luminance(x), luminance(y)
	if lo > hi {
		lo, hi = hi, lo
	}
	return (hi + 0.05) / (lo + 0.05)
}

// InkOn is black or white, whichever stands out more on a colour: at least 4.5
// to 1 on any.
func InkOn(hex string) string {
	if Contrast(hex, "#000000") >= Contrast(hex, "#ffffff") {
		return "#000000"
	}
	return "#ffffff"
}

func luminance(c color.RGBA) float64 {
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

// linear undoes the sRGB transfer curve (IEC 61966-2-1).
func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

func parseHex(s string) (color.RGBA, bool) {
	if len(s) != 7 || s[0] != '#' {
		return color.RGBA{}, false
	}
	v, err := strconv.ParseUint(s[1:], 16, 24)
	if err != nil {
		return color.RGBA{}, false
	}
	return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255}, true
}

// Soils are the colours to paint sand, silt and clay in: those of the soil as it
// was photographed, and for a layer that has none one of its kind: dry quartz
// sand, grey-brown silt, iron-red clay, falling in lightness.
func Soils(own *reading.Colours) (sand, silt, clay string) {
	sand, silt, clay = "#dec18c", "#978068", "#7c3826"
	if own == nil {
		return
	}
	for _, c := range []struct {
		to   *string
		from string
	}{{&sand, own.Sand}, {&silt, own.Silt}, {&clay, own.Clay}} {
		if _, ok := parseHex(c.from); ok {
			*c.to = c.from
		}
	}
	return
}
