package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/texture"
)

const pageWidth = 92

// WriteTable writes a reading for the terminal.
func WriteTable(w io.Writer, r reading.Reading, o Options) error {
	var b bytes.Buffer
	o.heading(&b, r)
	o.photos(&b, r)
	fractions(&b, r)
	class(&b, r)
	if r.Why != "" {
		b.WriteString("\n" + wrap("Why the two differ: "+r.Why, "", pageWidth))
	}
	hands(&b, r)
	warnings(&b, r.Warnings)
	if n := r.NextPhoto; n != nil {
		b.WriteString("\n" + wrap(n.Text, "", pageWidth))
	}
	meaning(&b, r, o)
	if o.Explain {
		o.explain(&b, r)
	}
	_, err := w.Write(b.Bytes())
	return err
}

func (o Options) heading(b *bytes.Buffer, r reading.Reading) {
	fmt.Fprintln(b, r.Jar)
	fmt.Fprintln(b, strings.Repeat("=", len([]rune(r.Jar))))
	water := "water depth not known, so heights are in percent of it"
	if r.WaterDepthMM != nil {
		water = "water " + o.depth(*r.WaterDepthMM) + " deep"
	}
	temp := o.temp(r.TempC)
	if r.TempFrom == "assumed" {
		temp += " assumed"
	}
	fmt.Fprintf(b, "%s, %s\n\n", water, temp)
}

func (o Options) photos(b *bytes.Buffer, r reading.Reading) {
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprintln(t, "photo\ttime\ttime from\ttop of the soil\ttop of the sand\ttop of the silt")
	for _, p := range r.Photos {
		h, percent := p.HeightsMM, false
		if h == nil {
			h, percent = p.HeightsPercent, true
		}
		if h == nil {
			h = &reading.Heights{}
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s%s\t%s%s\t%s%s\n", p.File, elapsed(p.ElapsedS), source(p.ElapsedFrom),
			o.height(h.DepositTop, percent), mark(p, "deposit_top"), o.height(h.SandTop, percent), mark(p, "sand_top"),
			o.height(h.SiltTop, percent), mark(p, "silt_top"))
	}
	t.Flush()
	for _, p := range r.Photos {
		if len(p.Stated) > 0 {
			fmt.Fprintln(b, "* the line you placed, or said is not there")
			break
		}
	}
}

func elapsed(s float64) string { return record.FormatElapsed(time.Duration(s * float64(time.Second))) }

// mark stars a line that a person placed.
func mark(p reading.Photo, line string) string {
	for _, s := range p.Stated {
		if strings.ReplaceAll(s, "-", "_") == line {
			return "*"
		}
	}
	return ""
}

// fractions puts the ruler's percentages beside the corrected ones.
func fractions(b *bytes.Buffer, r reading.Reading) {
	if r.Fractions == nil && r.ByThickness == nil {
		fmt.Fprintf(b, "\nSand, silt and clay could not be told from these photos.\n")
		return
	}
	ruler := r.ByThickness
	if ruler == nil {
		ruler = &reading.Shares{}
	}
	fmt.Fprintln(b)
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprintln(t, "\tby thickness alone\tcorrected\t9 times in 10 between\t0        50       100 %")
	row := func(name string, thick *float64, e *reading.Estimate) {
		if e == nil && thick == nil {
			return
		}
		if e == nil {
			fmt.Fprintf(t, "%s\t%s\t-\t\t\n", name, share(thick))
			return
		}
		fmt.Fprintf(t, "%s\t%s\t%.0f %%\t%.0f and %.0f %%\t%s\n", name, share(thick), e.Percent, e.Low, e.High, bar(*e))
	}
	f := r.Fractions
	if f == nil {
		row("sand", ruler.Sand, nil)
		row("silt", ruler.Silt, nil)
		row("clay", ruler.Clay, nil)
	} else {
		row("sand", ruler.Sand, &f.Sand)
		row("silt", ruler.Silt, &f.Silt)
		row("clay", ruler.Clay, &f.Clay)
	}
	if ruler.SandAndSilt != nil {
		row("sand and silt, not told apart", ruler.SandAndSilt, nil)
	}
	if ruler.SiltAndClay != nil {
		row("silt and clay, not told apart", ruler.SiltAndClay, nil)
	}
	t.Flush()
	fmt.Fprintln(b, "corrected: percent by weight of the mineral soil, gravel left out")
}

const barWidth = 20

// bar draws an interval on a line from 0 to 100: dashes from low to high, a
// block at the value.
func bar(e reading.Estimate) string {
	at := func(v float64) int { return min(max(int(math.Round(v/100*barWidth)), 0), barWidth) }
	line := []byte(strings.Repeat(".", barWidth+1))
	for i := at(e.Low); i <= at(e.High); i++ {
		line[i] = '-'
	}
	line[at(e.Percent)] = '#'
	return string(line)
}

func class(b *bytes.Buffer, r reading.Reading) {
	if r.Class == nil {
		return
	}
	c := r.Class
	name, certainty := Verdict(*c)
	b.WriteString("\n" + wrap(fmt.Sprintf("Texture: %s - %s (%s)", name, certainty, systemName(c.System)), "", pageWidth))
	if len(c.Others) > 0 {
		all := append([]reading.OtherClass{{Name: c.Name, Probability: c.Probability}}, c.Others...)
		b.WriteString(wrap("The chances: "+classList(all), "", pageWidth))
	}
}

func systemName(name string) string {
	s, err := texture.ParseSystem(name)
	if err != nil {
		return name
	}
	return s.Title()
}

func warnings(b *bytes.Buffer, ws []reading.Warning) {
	for _, w := range ws {
		b.WriteString("\n" + wrap("Take care: "+sentence(w.Text), "", pageWidth))
		if w.Remedy != "" {
			b.WriteString(wrap("What would settle it: "+sentence(w.Remedy), "  ", pageWidth))
		}
	}
}

// sentence ends a text with a full stop.
func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?") {
		return s
	}
	return s + "."
}
