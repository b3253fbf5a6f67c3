package chart

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// fonts are those that a system has; nothing is loaded.
const fonts = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Liberation Sans', sans-serif"

// SVG is the drawing as one <svg> element: to stand in a page, or by itself in a
// file. Colours are presentation attributes for light ground, which any viewer
// understands and no content policy blocks; a page that includes CSS overrides
// them by class for dark screens and print.
func (d *Drawing) SVG() []byte {
	var b bytes.Buffer
	w, h := number(d.Width), number(d.Height)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 %s %s" width="%s" height="%s" role="img" aria-labelledby="%[5]s-title %[5]s-desc" font-family="%[6]s">`,
		w, h, w, h, escape(clean(d.id)), fonts)
	fmt.Fprintf(&b, "\n<title id=\"%s-title\">%s</title>\n<desc id=\"%[1]s-desc\">%[3]s</desc>\n", escape(clean(d.id)), escape(clean(d.Title)), escape(clean(d.Desc)))
	group := "" // texts of one style share a group
	for _, m := range d.marks {
		style := ""
		if m.text != nil {
			style = m.text.style(m.fill)
		}
		if style != group && group != "" {
			b.WriteString("</g>\n")
		}
		if style != group && style != "" {
			fmt.Fprintf(&b, "<g%s>\n", style)
		}
		group = style
		switch {
		case m.text != nil:
			m.text.svg(&b)
		case m.picture != nil:
			m.pictureSVG(&b)
		case m.dot > 0:
			m.dotsSVG(&b)
		default:
			m.pathSVG(&b)
		}
	}
	if group != "" {
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func (m mark) pathSVG(b *bytes.Buffer) {
	fmt.Fprintf(b, `<path d="%s"%s`, pathData(m.paths, m.closed), paints(m.fill, m.line))
	if m.alpha > 0 {
		fmt.Fprintf(b, ` fill-opacity="%s"`, number(m.alpha))
	}
	if m.line != (paint{}) {
		fmt.Fprintf(b, ` stroke-width="%s" stroke-linejoin="round"`, number(m.width))
		if len(m.dash) > 0 {
			dash := make([]string, len(m.dash))
			for i, v := range m.dash {
				dash[i] = number(v)
			}
			fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Join(dash, " "))
		}
	}
	b.WriteString("/>\n")
}

func (m mark) pictureSVG(b *bytes.Buffer) {
	from, to := m.paths[0][0], m.paths[0][2]
	fmt.Fprintf(b, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" href="%s"/>`+"\n",
		number(from.X), number(from.Y), number(to.X-from.X), number(to.Y-from.Y), dataURL(m.picture))
}

// dotsSVG draws all dots as one path of lines without length and round ends.
func (m mark) dotsSVG(b *bytes.Buffer) {
	var data strings.Builder
	for _, path := range m.paths {
		for _, p := range path {
			fmt.Fprintf(&data, "M%s %sh0", number(p.X), number(p.Y))
		}
	}
	fmt.Fprintf(b, `<path d="%s"%s stroke-width="%s" stroke-linecap="round"`, data.String(), paints(paint{}, m.fill), number(2*m.dot))
	if m.alpha > 0 {
		fmt.Fprintf(b, ` stroke-opacity="%s"`, number(m.alpha))
	}
	b.WriteString("/>\n")
}

// style are the attributes that texts share.
func (t text) style(fill paint) string {
	out := fmt.Sprintf(` font-size="%s"`, number(t.size))
	if t.halo {
		out += paints(fill, card) + ` stroke-width="3" stroke-linejoin="round" paint-order="stroke"`
	} else {
		out += paints(fill, paint{})
	}
	if t.bold {
		out += ` font-weight="600"`
	}
	switch t.anchor {
	case middle:
		out += ` text-anchor="middle"`
	case end:
		out += ` text-anchor="end"`
	}
	return out
}

func (t text) svg(b *bytes.Buffer) {
	fmt.Fprintf(b, `<text x="%s" y="%s"`, number(t.at.X), number(t.at.Y))
	if t.turn != 0 {
		fmt.Fprintf(b, ` transform="rotate(%s %s %s)"`, number(t.turn), number(t.at.X), number(t.at.Y))
	}
	fmt.Fprintf(b, ">%s</text>\n", escape(t.words))
}

// paints are the attributes of a fill and a line; what is not painted is "none".
func paints(fill, line paint) string {
	var classes []string
	out := ` fill="none"`
	if fill != (paint{}) {
		out = fmt.Sprintf(` fill="%s"`, fill.light())
		if fill.tone != "" {
			classes = append(classes, "cf-"+fill.tone)
		}
	}
	if line != (paint{}) {
		out += fmt.Sprintf(` stroke="%s"`, line.light())
		if line.tone != "" {
			classes = append(classes, "cs-"+line.tone)
		}
	}
	if len(classes) > 0 {
		out = fmt.Sprintf(` class="%s"`, strings.Join(classes, " ")) + out
	}
	return out
}

func pathData(paths [][]Point, closed bool) string {
	var b strings.Builder
	for _, path := range paths {
		for i, p := range path {
			b.WriteByte("ML"[min(i, 1)])
			b.WriteString(number(p.X) + " " + number(p.Y))
		}
		if closed {
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// number writes at most two decimals.
func number(v float64) string {
	v = math.Round(v*100) / 100
	if v == 0 {
		v = 0 // not -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func escape(s string) string {
	var b bytes.Buffer
	// The error is that of the writer, and a buffer has none.
	_ = xml.EscapeText(&b, []byte(s))
	return b.String()
}
