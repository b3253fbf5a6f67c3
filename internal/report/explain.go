package report

import (
	"bytes"
	"fmt"
	"strings"
	"text/tabwriter"

	"mudline/internal/reading"
)

// explain adds the numbers behind a reading.
func (o Options) explain(b *bytes.Buffer, r reading.Reading) {
	fmt.Fprintf(b, "\nThe numbers behind it\n---------------------\n")
	steps(b, r)
	unitWeights(b, r)
	o.photoNumbers(b, r)
	o.settling(b, r)
	causes(b, r.Causes)
	sizeCurve(b, r.SizeCurve)
	if s := r.Suspension; s != nil {
		fmt.Fprintf(b, "\nClay still in the water at the last photo: %.0f %% of the soil (%.0f to %.0f), counted with the clay.\n", s.Percent, s.Low, s.High)
	}
	if len(r.Stated) > 0 {
		b.WriteString("\n" + wrap("Stated by you, and used before what the photos show: "+strings.Join(r.Stated, ", "), "", pageWidth))
	}
	if r.Engine != "" {
		fmt.Fprintf(b, "Image engine: %s\n", r.Engine)
	}
}

// steps shows the way from thickness to the corrected reading.
func steps(b *bytes.Buffer, r reading.Reading) {
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprintln(t, "step\tsand\tsilt\tclay")
	row := func(name string, s *reading.Shares) {
		if s != nil {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", name, one(s.Sand), one(s.Silt), one(s.Clay))
		}
	}
	row("thickness of the layers", r.ByThickness)
	row("volume of the layers", r.ByVolume)
	row("weight, usual packing of each layer", r.ByPacking)
	if f := r.Fractions; f != nil {
		row("weight, settling reckoned in", &reading.Shares{Sand: &f.Sand.Percent, Silt: &f.Silt.Percent, Clay: &f.Clay.Percent})
	}
	t.Flush()
}

func one(v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf("%.1f %%", *v)
}

func (o Options) photoNumbers(b *bytes.Buffer, r reading.Reading) {
	fmt.Fprintln(b)
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprintln(t, "photo\tseconds\tcloud\tsharpness\tbrightness\tblown out\tblack\tfloating")
	for _, p := range r.Photos {
		cloud, floating := "-", "-"
		if p.Cloud != nil {
			cloud = fmt.Sprintf("%.2f", *p.Cloud)
		}
		if p.FloatingMM != nil {
			floating = o.length(*p.FloatingMM)
		}
		fmt.Fprintf(t, "%s\t%.0f +- %.0f\t%s\t%.2f\t%.0f\t%.1f %%\t%.1f %%\t%s\n", p.File, p.ElapsedS, 2*p.ElapsedSDS, cloud,
			p.Quality.Sharpness, p.Quality.Brightness, 100*p.Quality.BlownOut, 100*p.Quality.Black, floating)
	}
	t.Flush()
}

// leastCause is the share of the variance from which a cause is worth a line.
const leastCause = 0.005

// causes says where the doubt comes from.
func causes(b *bytes.Buffer, list []reading.Cause) {
	head := "\nWhat makes it unsure, by share of the variance (shares may overlap):\n"
	for _, c := range list {
		if c.Share >= leastCause {
			fmt.Fprintf(b, "%s  %3.0f %%  %s\n", head, 100*c.Share, c.Text)
			head = ""
		}
	}
}

// sizeCurve writes the grain size curve.
func sizeCurve(b *bytes.Buffer, points []reading.SizePoint) {
	if len(points) == 0 {
		return
	}
	b.WriteString("\n" + wrap("Grain size curve by how fast the soil sank, percent by weight finer. A clump of clay sinks, and counts here, as one larger grain:", "", pageWidth))
	for _, p := range points {
		fmt.Fprintf(b, "  %5s um  %3.0f %%  (%.0f to %.0f)\n", twoFigures(p.SizeUM), p.Finer, p.Low, p.High)
	}
}
