package report

import (
	"reflect"
	"slices"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
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
		return rangeRow{o.say(what), o.say(unit, words.Name("v", write(r.Value))),
			o.say(unit, words.Name("v", o.say("report.span", words.Name("low", write(r.Low)), words.Name("high", write(r.High)))))}
	}
	water, unit := o.whole, "unit.mm"
	depth, use := o.depth(m.Bed.RootingDepthMM), o.write(words.Length{MM: m.Bed.DailyUseMM, Decimals: 1})
	perDepth, fast := m.AvailableMMPerM, m.ConductivityMMH
	every, speed := "report.water-each-metre", "report.mm-an-hour"
	if o.Inches {
		water, unit = func(mm float64) string { return o.decimal(mm/record.MMPerInch, 1) }, "unit.inch"
		depth = o.unit("inch", o.whole(m.Bed.RootingDepthMM/record.MMPerInch))
		const foot = 0.3048 // m, exactly
		perDepth, every = times(perDepth, foot), "report.water-each-foot"
		fast, speed = times(fast, 1/record.MMPerInch), "report.inches-an-hour"
	}
	v.BedText = o.say("report.root-zone", words.Name("depth", depth), words.Word("depth_from", "report-from", m.Bed.RootingDepthFrom),
		words.Name("use", use), words.Word("use_from", "report-from", m.Bed.DailyUseFrom))
	v.Bed = []rangeRow{
		row("report.days-between", m.Bed.Days, "report.bare", o.whole),
		row("report.readily", m.Bed.ReadilyMM, unit, water),
		row("report.all-water", m.Bed.TotalMM, unit, water),
	}
	v.Water = []rangeRow{
		row("report.field-capacity", m.FieldCapacity, "report.percent", o.whole),
		row("report.wilting-point", m.WiltingPoint, "report.percent", o.whole),
		row(every, perDepth, unit, water),
		row("report.draining", fast, speed, o.twoFigures),
	}
}

func times(r reading.Range, k float64) reading.Range {
	return reading.Range{Value: r.Value * k, Low: r.Low * k, High: r.High * k}
}

// physics fills what the settling laws say of this jar.
func (v *view) physics(r reading.Reading, o Options) {
	w := texture.SubmergedUSBR
	v.Weights = [3]float64{w.Sand, w.Silt, w.Clay}
	system, _ := texture.ParseSystem(r.System) // USDA with the error
	v.Classes = classesView{o.say("classes." + system.String()), o.say("unit.mm", words.Figures("v", system.SiltLimitUM()/1000, 2)), o.say("classes-source." + system.String())}
	if r.WaterDepthMM != nil {
		fluid := texture.NewFluid(r.TempC, texture.QuartzDensity)
		for _, p := range r.Photos {
			if p.ElapsedS > 0 {
				v.Cuts = append(v.Cuts, cutView{o.elapsed(p.ElapsedS), o.say("report.um", words.Name("v", o.twoFigures(fluid.CutDiameterUM(*r.WaterDepthMM, p.ElapsedS))))})
			}
		}
	}
	if s := r.SolidsGL; s != nil {
		v.Slowed = o.say("report.crowd", crowd(*s)...)
	}
	add := func(name, why string, s *reading.Shares) {
		if s != nil {
			v.Steps = append(v.Steps, step{o.say(name), o.say(why), *s})
		}
	}
	add("report.step-thickness", "report.step-thickness-why", r.ByThickness)
	if !reflect.DeepEqual(r.ByVolume, r.ByThickness) {
		add("report.step-volume", "report.step-volume-why", r.ByVolume)
	}
	add("report.step-packing", "report.step-packing-why", r.ByPacking)
	if f := r.Fractions; f != nil {
		add("report.step-corrected", "report.step-corrected-why",
			&reading.Shares{Sand: &f.Sand.Percent, Silt: &f.Silt.Percent, Clay: &f.Clay.Percent})
	}
}

// linesOf are the lines of which something was measured in a photo, from the floor up.
func linesOf(p reading.Photo) []layers.Line {
	return slices.DeleteFunc(slices.Clone(layers.Levels), func(l layers.Line) bool {
		return p.RowsPx.Of(l) == nil && p.HeightsMM.Of(l) == nil && p.HeightsPercent.Of(l) == nil
	})
}

// tables fills the tables of all that was measured.
func (v *view) tables(r reading.Reading, o Options) {
	for _, p := range r.Photos {
		for _, l := range linesOf(p) {
			name := o.lineName(l)
			if l == layers.Floor {
				name = o.say("report.line-inside-floor")
			}
			v.Lines = append(v.Lines, lineRow{Photo: p.File, After: o.elapsed(p.ElapsedS), Line: name, Placed: p.States(l),
				Height: plusMinus(o.height(p.HeightsMM.Of(l), false)), Percent: plusMinus(o.height(p.HeightsPercent.Of(l), true)), Row: o.optional(p.RowsPx.Of(l), 0)})
		}
		floating := "-"
		if p.FloatingMM != nil {
			floating = o.length(*p.FloatingMM)
		}
		blown, black := 100*p.Quality.BlownOut, 100*p.Quality.Black
		v.Numbers = append(v.Numbers, numberRow{p.File, o.whole(p.ElapsedS) + " ± " + o.whole(2*p.ElapsedSDS), o.source(p.ElapsedFrom),
			o.optional(p.Cloud, 2), o.decimal(p.Quality.Sharpness, 2), o.whole(p.Quality.Brightness), o.one(&blown), o.one(&black), floating})
	}
}

func (o Options) optional(v *float64, decimals int) string {
	if v == nil {
		return "-"
	}
	return o.decimal(*v, decimals)
}
