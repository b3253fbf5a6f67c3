package backdrop

import (
	"fmt"
	"html"
	"io"
	"strings"
)

// WriteSVG writes the sheet as SVG in millimetres, without fonts of its own.
func (p *Print) WriteSVG(to io.Writer) error {
	w, h := p.Paper.SizeMM()
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="sheet" width="%smm" height="%smm" viewBox="0 0 %s %s">`+"\n", num(w), num(h), num(w), num(h))
	fmt.Fprintf(&b, `<rect width="%s" height="%s" fill="#fff"/>`+"\n", num(w), num(h))
	b.WriteString("<g>\n")
	for _, x := range p.Boxes {
		fmt.Fprintf(&b, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s"/>`+"\n",
			num(x.X0+w/2), num(h-x.Y1), num(x.X1-x.X0), num(x.Y1-x.Y0), shade(x.Ink))
	}
	b.WriteString("</g>\n" + `<g font-family="Helvetica, Arial, 'Liberation Sans', sans-serif">` + "\n")
	anchors := map[int]string{-1: "start", 0: "middle", 1: "end"}
	for _, x := range p.Words {
		weight := ""
		if x.Bold {
			weight = ` font-weight="700"`
		}
		fmt.Fprintf(&b, `<text x="%s" y="%s" font-size="%s" text-anchor="%s"%s fill="%s">%s</text>`+"\n",
			num(x.X+w/2), num(h-x.Y), num(x.SizeMM), anchors[x.Side], weight, shade(x.Ink), html.EscapeString(x.Text))
	}
	b.WriteString("</g>\n</svg>\n")
	_, err := io.WriteString(to, b.String())
	return err
}

// num is a length in millimetres, to a thousandth.
func num(v float64) string {
	s := fmt.Sprintf("%.3f", v)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// Level is the brightness, 0 to 255, that stands for a share of ink.
func Level(ink float64) uint8 { return uint8(255*(1-ink) + 0.5) }

func shade(ink float64) string { return fmt.Sprintf("#%02[1]x%02[1]x%02[1]x", Level(ink)) }
