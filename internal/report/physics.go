package report

import (
	"bytes"
	"fmt"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// unitWeights names the published weights that the layers' volumes are turned
// into weight with.
func (o Options) unitWeights(b *bytes.Buffer, r reading.Reading) {
	if r.ByPacking == nil && r.Fractions == nil {
		return
	}
	w, other := texture.SubmergedUSBR, texture.SubmergedLaneKoelzer
	b.WriteString("\n" + wrap(o.say("table.unit-weights", words.Whole("sand", w.Sand), words.Whole("silt", w.Silt), words.Whole("clay", w.Clay),
		words.Whole("other", other.Clay)), "", o.width()))
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
		b.WriteString("\n" + wrap(o.say("table.crowd", crowd(*s)...), "", o.width()))
	}
}

// crowd says how much soil is in a litre, and to what share of their speed in clear
// water its grains slow each other.
func crowd(s reading.Range) []words.Arg {
	slowed := func(exponent float64) float64 {
		return 100 * texture.Hindrance(s.Value/texture.QuartzDensity, exponent)
	}
	return []words.Arg{words.Whole("v", s.Value), words.Whole("low", s.Low), words.Whole("high", s.High),
		words.Whole("slow", slowed(texture.ReviewExponent)), words.Whole("fast", slowed(texture.StokesExponent))}
}

// cutDiameters gives the smallest grain that had fallen the whole depth at the
// time of each photo.
func (o Options) cutDiameters(b *bytes.Buffer, r reading.Reading) {
	depth, fluid := *r.WaterDepthMM, texture.NewFluid(r.TempC, texture.QuartzDensity)
	fmt.Fprintf(b, "\n%s\n", o.say("table.smallest", words.Name("depth", o.depth(depth)), words.C("temp", r.TempC)))
	t := o.columns(b)
	beyond := false
	for _, p := range r.Photos {
		if p.ElapsedS <= 0 {
			continue
		}
		cut := fluid.CutDiameterUM(depth, p.ElapsedS)
		beyond = beyond || fluid.Reynolds(cut, depth/p.ElapsedS) > stokesReynolds
		fmt.Fprintf(t, "  %s\t%s\t%s um\n", words.OneLine(p.File), o.elapsed(p.ElapsedS), o.twoFigures(cut))
	}
	t.Flush()
	if beyond {
		b.WriteString(wrap(o.say("table.stokes"), "  ", o.width()))
	}
}
