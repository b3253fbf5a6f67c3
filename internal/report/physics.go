package report

import (
	"bytes"
	"fmt"
	"text/tabwriter"

	"mudline/internal/reading"
	"mudline/texture"
)

// unitWeights names the published weights that the layers' volumes are turned
// into weight with.
func unitWeights(b *bytes.Buffer, r reading.Reading) {
	if r.ByPacking == nil && r.Fractions == nil {
		return
	}
	w, other := texture.SubmergedUSBR, texture.SubmergedLaneKoelzer
	b.WriteString("\n" + wrap(fmt.Sprintf("Usual packing, kg of dry grains in a cubic metre of layer: sand %.0f, silt %.0f, clay %.0f (deposits always under water, Lara & Pemberton 1963). "+
		"The corrected reading lets each of them vary; its clay starts half way to the %.0f of Lane & Koelzer 1943.", w.Sand, w.Silt, w.Clay, other.Clay), "", pageWidth))
}

// stokesReynolds is the particle Reynolds number up to which Stokes' law is
// good (ISO 13317).
const stokesReynolds = 0.25

// settling shows what had come down when each photo was taken.
func (o Options) settling(b *bytes.Buffer, r reading.Reading) {
	if r.WaterDepthMM != nil && len(r.Photos) > 0 {
		o.cutDiameters(b, r)
	}
	if s := r.SolidsGL; s != nil {
		slowed := func(exponent float64) float64 {
			return 100 * texture.Hindrance(s.Value/texture.QuartzDensity, exponent)
		}
		b.WriteString("\n" + wrap(fmt.Sprintf("Soil in the jar: about %.0f g in a litre (%.0f to %.0f). At first so many grains slow each other to %.0f to %.0f %% of their speed in clear water, less and less as they come down.",
			s.Value, s.Low, s.High, slowed(texture.ReviewExponent), slowed(texture.StokesExponent)), "", pageWidth))
	}
}

// cutDiameters gives the smallest grain that had fallen the whole depth at the
// time of each photo.
func (o Options) cutDiameters(b *bytes.Buffer, r reading.Reading) {
	depth, fluid := *r.WaterDepthMM, texture.NewFluid(r.TempC, texture.QuartzDensity)
	fmt.Fprintf(b, "\nSmallest single grain that has sunk through %s of clear water at %s:\n", o.depth(depth), o.temp(r.TempC))
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	beyond := false
	for _, p := range r.Photos {
		if p.ElapsedS <= 0 {
			continue
		}
		cut := fluid.CutDiameterUM(depth, p.ElapsedS)
		beyond = beyond || fluid.Reynolds(cut, depth/p.ElapsedS) > stokesReynolds
		fmt.Fprintf(t, "  %s\t%s\t%s um\n", p.File, elapsed(p.ElapsedS), twoFigures(cut))
	}
	t.Flush()
	if beyond {
		b.WriteString(wrap("Stokes' law says so; the coarsest of these grains sink a little more slowly than by that law.", "  ", pageWidth))
	}
}

// twoFigures writes a diameter that lies between 0.1 and a few hundred.
func twoFigures(v float64) string {
	if v < 9.95 {
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}
