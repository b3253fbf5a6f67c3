package report

import (
	"cmp"
	"fmt"
	"reflect"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/texture"
)

// step is one stage on the way from thickness to weight.
type step struct {
	Name, Why string
	S         reading.Shares
}

// cutView is the smallest grain that had come down by a photo.
type cutView struct{ After, UM string }

// lineRow is one line in one photo, as measured.
type lineRow struct {
	Photo, After, Line string
	Height, Percent    string
	Row                string
	Placed             bool
}

// numberRow is what else was measured in one photo.
type numberRow struct {
	File, Seconds, From, Cloud, Sharpness, Brightness, BlownOut, Black, Floating string
}

// rangeRow is a value with its interval, in words.
type rangeRow struct{ What, Value, Within string }

// soilWater fills the tables of what the texture means, in the units asked for.
func (v *view) soilWater(m *reading.Meaning, o Options) {
	if m == nil {
		return
	}
	row := func(what string, r reading.Range, unit string, write func(float64) string) rangeRow {
		high := write(r.High) + unit
		return rangeRow{what, write(r.Value) + unit, write(r.Low) + " to " + high}
	}
	whole := func(v float64) string { return fmt.Sprintf("%.0f", v) }
	water, unit := whole, " mm"
	if o.Inches {
		water, unit = func(mm float64) string { return fmt.Sprintf("%.1f", mm/record.MMPerInch) }, " in"
	}
	depth, use := o.depth(m.Bed.RootingDepthMM), fmt.Sprintf("%.1f mm", m.Bed.DailyUseMM)
	perDepth, fast := m.AvailableMMPerM, m.ConductivityMMH
	every, speed := "each metre", " mm/h"
	if o.Inches {
		depth, use = fmt.Sprintf("%.0f in", m.Bed.RootingDepthMM/record.MMPerInch), fmt.Sprintf("%.2f in", m.Bed.DailyUseMM/record.MMPerInch)
		const foot = 0.3048 // m, exactly
		perDepth, every = reading.Range{Value: perDepth.Value * foot, Low: perDepth.Low * foot, High: perDepth.High * foot}, "each foot"
		fast, speed = reading.Range{Value: fast.Value / record.MMPerInch, Low: fast.Low / record.MMPerInch, High: fast.High / record.MMPerInch}, " in/h"
	}
	v.BedText = fmt.Sprintf("Water in the root zone, %s deep (%s), used at %s a day (%s).", depth, m.Bed.RootingDepthFrom, use, m.Bed.DailyUseFrom)
	v.Bed = []rangeRow{
		row("Days between waterings without rain", m.Bed.Days, "", whole),
		row("Water plants take before they suffer", m.Bed.ReadilyMM, unit, water),
		row("All the water plants can take", m.Bed.TotalMM, unit, water),
	}
	v.Water = []rangeRow{
		row("Held after draining (field capacity)", m.FieldCapacity, " %", whole),
		row("Left when plants wilt (wilting point)", m.WiltingPoint, " %", whole),
		row("For plants, in "+every+" of soil", perDepth, unit, water),
		row("Draining when full (saturated conductivity)", fast, speed, twoFigures),
	}
}

// physics fills what the settling laws say of this jar.
func (v *view) physics(r reading.Reading, o Options) {
	w := texture.SubmergedUSBR
	v.Weights = [3]float64{w.Sand, w.Silt, w.Clay}
	system, _ := texture.ParseSystem(r.System) // USDA with the error
	v.Classes = classesView{system.Title(), fmt.Sprintf("%.2g mm", system.SiltLimitUM()/1000), system.Source()}
	if r.WaterDepthMM != nil {
		fluid := texture.NewFluid(r.TempC, texture.QuartzDensity)
		for _, p := range r.Photos {
			if p.ElapsedS > 0 {
				v.Cuts = append(v.Cuts, cutView{elapsed(p.ElapsedS), twoFigures(fluid.CutDiameterUM(*r.WaterDepthMM, p.ElapsedS)) + " µm"})
			}
		}
	}
	if s := r.SolidsGL; s != nil {
		slowed := func(n float64) float64 { return 100 * texture.Hindrance(s.Value/texture.QuartzDensity, n) }
		v.Slowed = fmt.Sprintf("About %.0f g of soil in each litre (%.0f to %.0f) crowd each other: at first grains sink at %.0f to %.0f %% of their speed in clear water, and faster as the water clears.",
			s.Value, s.Low, s.High, slowed(texture.ReviewExponent), slowed(texture.StokesExponent))
	}
	add := func(name, why string, s *reading.Shares) {
		if s != nil {
			v.Steps = append(v.Steps, step{name, why, *s})
		}
	}
	add("Thickness", "What a ruler says: each layer's share of the height.", r.ByThickness)
	if !reflect.DeepEqual(r.ByVolume, r.ByThickness) {
		add("Volume", "Each layer's share of the room it takes up in this jar.", r.ByVolume)
	}
	add("Weight, usual packing", "Each layer's volume times the usual weight of such a layer.", r.ByPacking)
	if f := r.Fractions; f != nil {
		add("Corrected", "Settling and packing reckoned together from all photos.",
			&reading.Shares{Sand: &f.Sand.Percent, Silt: &f.Silt.Percent, Clay: &f.Clay.Percent})
	}
}

// lineNames are the lines of a photo in words, from the floor up.
var lineNames = []struct{ key, name string }{
	{"floor", "inside floor"}, {"sand_top", "top of the sand"}, {"silt_top", "top of the silt"},
	{"deposit_top", "top of the soil"}, {"haze_top", "top of the cloud"}, {"water", "water surface"},
}

// lineOf gives a line's row, and its height in millimetres and in percent of the
// water depth; nil where it was not seen or has none. The water's row is that of
// the line that is seen.
func lineOf(p reading.Photo, key string) (row *float64, mm, share *reading.Height) {
	of := func(h *reading.Heights) *reading.Height {
		if h == nil {
			return nil
		}
		return map[string]*reading.Height{"sand_top": h.SandTop, "silt_top": h.SiltTop, "deposit_top": h.DepositTop, "haze_top": h.HazeTop}[key]
	}
	row = map[string]*float64{"floor": p.RowsPx.Floor, "sand_top": p.RowsPx.SandTop, "silt_top": p.RowsPx.SiltTop,
		"deposit_top": p.RowsPx.DepositTop, "haze_top": p.RowsPx.HazeTop, "water": cmp.Or(p.RowsPx.Meniscus, p.RowsPx.Water)}[key]
	return row, of(p.HeightsMM), of(p.HeightsPercent)
}

// tables fills the tables of all that was measured.
func (v *view) tables(r reading.Reading, o Options) {
	for _, p := range r.Photos {
		for _, n := range lineNames {
			row, mm, share := lineOf(p, n.key)
			if row == nil && mm == nil && share == nil {
				continue
			}
			v.Lines = append(v.Lines, lineRow{Photo: p.File, After: elapsed(p.ElapsedS), Line: n.name, Placed: mark(p, n.key) != "",
				Height: plusMinus(o.height(mm, false)), Percent: plusMinus(o.height(share, true)), Row: optional("%.0f", row)})
		}
		floating := "-"
		if p.FloatingMM != nil {
			floating = o.length(*p.FloatingMM)
		}
		v.Numbers = append(v.Numbers, numberRow{p.File, fmt.Sprintf("%.0f ± %.0f", p.ElapsedS, 2*p.ElapsedSDS), source(p.ElapsedFrom),
			optional("%.2f", p.Cloud), fmt.Sprintf("%.2f", p.Quality.Sharpness), fmt.Sprintf("%.0f", p.Quality.Brightness),
			fmt.Sprintf("%.1f %%", 100*p.Quality.BlownOut), fmt.Sprintf("%.1f %%", 100*p.Quality.Black), floating})
	}
}

func optional(format string, v *float64) string {
	if v == nil {
		return "-"
	}
	return fmt.Sprintf(format, *v)
}
