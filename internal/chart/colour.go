package chart

import (
	"fmt"
	"strings"

	"mudline/internal/look"
	"mudline/internal/reading"
)

// paint is a tone of package look, which has a colour for each ground, or a colour of
// its own as "#rrggbb", the same on any.
type paint struct{ tone, own string }

var (
	card  = paint{tone: "card"}  // the ground
	ink   = paint{tone: "ink"}   // text
	soft  = paint{tone: "soft"}  // text of second rank, outlines
	rule  = paint{tone: "line"}  // faint lines that only guide the eye
	edge  = paint{tone: "edge"}  // borders of classes and axes
	cloud = paint{tone: "cloud"} // what the jar says
	hand  = paint{tone: "hand"}  // what the hands say
	seam  = paint{own: look.Seam}
)

// used are the tones that drawings are painted in.
var used = []paint{card, ink, soft, rule, edge, cloud, hand}

func (p paint) light() string {
	if p.tone != "" {
		return look.ToneOf(p.tone).Light
	}
	return p.own
}

// CSS are the rules a page includes once for all its charts, behind those of look.CSS:
// the tones for the ground at hand, and the size.
func CSS() string {
	var b strings.Builder
	b.WriteString(".chart{display:block;width:100%;max-width:36rem;height:auto;border-radius:var(--round)}\n@media print{.chart{print-color-adjust:exact;-webkit-print-color-adjust:exact}}\n")
	for _, p := range used {
		fmt.Fprintf(&b, ".cf-%[1]s{fill:var(--%[1]s)}.cs-%[1]s{stroke:var(--%[1]s)}", p.tone)
	}
	b.WriteString("\n")
	return b.String()
}

// Own is a soil's own colour of a part as it was photographed, "#rrggbb"; empty where
// there is none. It is an accent: what tells parts apart is look.Part.
func Own(c *reading.Colours, part string) string {
	if c == nil {
		return ""
	}
	own := map[string]string{"sand": c.Sand, "silt": c.Silt, "clay": c.Clay}[part]
	if _, ok := look.RGBA(own); !ok {
		return ""
	}
	return own
}
