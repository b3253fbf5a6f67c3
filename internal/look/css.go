package look

import (
	"fmt"
	"strings"

	"mudline/layers"
)

// scale is what does not change with the ground: type, steps of size and of space. Sizes
// are in rem, so that they follow a person's own setting. No typeface is loaded: a serif
// that systems have gives headings their face.
const scale = `--serif:Charter,"Bitstream Charter","Sitka Text",Cambria,"Noto Serif","DejaVu Serif",Georgia,serif;` +
	`--sans:system-ui,-apple-system,"Segoe UI",Roboto,"Noto Sans","Liberation Sans",sans-serif;` +
	`--small:1rem;--text:1.125rem;--h3:1.125rem;--h2:1.35rem;--h1:min(clamp(1.65rem,1.3rem + 1.6vw,2.25rem),12vw);--big:clamp(2rem,1.5rem + 2.4vw,2.9rem);` +
	`--space-1:.4rem;--space-2:.75rem;--space-3:1rem;--space-4:1.5rem;--space-5:2rem;--radius:14px;--round:8px;`

// CSS are the variables that every page of the project stands on: colours for light and
// dark screens and for paper, type and space, and the looks of lines and parts. A line
// has --line-NAME; a part --part-NAME, and --on-NAME to write on it; a class "part NAME"
// fills an element with colour and pattern.
func CSS() string {
	var b strings.Builder
	set := func(pick func(Tone) string) {
		for _, t := range tones {
			fmt.Fprintf(&b, "--%s:%s;", t.Name, pick(t))
		}
	}
	b.WriteString(":root{color-scheme:light dark;" + scale + "--seam:" + Seam + ";")
	for _, l := range lines {
		fmt.Fprintf(&b, "--line-%s:%s;", l.Name, l.Colour)
	}
	for _, p := range parts {
		fmt.Fprintf(&b, "--part-%s:%s;--on-%[1]s:%[3]s;", p.Name, p.Colour, InkOn(p.Colour))
	}
	set(func(t Tone) string { return t.Light })
	b.WriteString("}\n@media screen and (prefers-color-scheme:dark){:root{")
	set(func(t Tone) string { return t.Dark })
	b.WriteString("}}\n@media print{:root{")
	set(func(t Tone) string { return t.Print })
	b.WriteString("}}\n")
	for _, p := range parts {
		fmt.Fprintf(&b, ".part.%s{background:%s,%s;color:%s}\n", p.Name, p.Pattern.css(InkOn(p.Colour)), p.Colour, InkOn(p.Colour))
	}
	b.WriteString(".part{print-color-adjust:exact;-webkit-print-color-adjust:exact;forced-color-adjust:none}\n")
	for _, l := range lines {
		b.WriteString(l.css())
	}
	return b.String()
}

// css is the pattern as a picture that repeats, in half-strong ink.
func (p Pattern) css(ink string) string {
	size, marks := p.tile()
	drawn := "stroke"
	if p == Dotted {
		drawn = "fill"
	}
	svg := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" %s %s="%s" opacity=".6">%s</svg>`, size, drawn, strings.Replace(ink, "#", "%23", 1), marks)
	return `url("data:image/svg+xml,` + strings.ReplaceAll(svg, `"`, "'") + `")`
}

// css is how the line is stroked in a drawing of a page, and painted as a sample of 4px.
func (l Line) css() string {
	const photo, sample = 2.75, 4
	on := ".mark-line." + string(l.Name)
	if l.Name == layers.Glass {
		on += ",.mark-line.side"
	}
	out := fmt.Sprintf("%s{stroke:%s", on, l.Colour)
	if len(l.Dash) > 0 {
		out += ";stroke-dasharray:" + joined(l.Dashes(photo), " ")
	}
	out += fmt.Sprintf("}.sample.%s{--of:%s}.handle.%[1]s{border-color:%[3]s}\n", l.Name, l.sample(sample), l.Colour)
	return out
}

// sample is a gradient that repeats the line's dashes along a sample.
func (l Line) sample(width float64) string {
	if len(l.Dash) == 0 {
		return fmt.Sprintf("linear-gradient(%[1]s,%[1]s)", l.Colour)
	}
	at, stops := 0.0, []string{}
	for i, d := range l.Dashes(width) {
		colour := l.Colour
		if i%2 == 1 {
			colour = "#0000"
		}
		stops = append(stops, fmt.Sprintf("%s %s %s", colour, px(at), px(at+d)))
		at += d
	}
	return "repeating-linear-gradient(90deg," + strings.Join(stops, ",") + ")"
}

func px(v float64) string { return fmt.Sprintf("%.3gpx", v) }

func joined(list []float64, by string) string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = fmt.Sprintf("%.3g", v)
	}
	return strings.Join(out, by)
}
