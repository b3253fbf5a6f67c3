package main

import (
	"math"
	"time"

	"mudline/internal/record"
	"mudline/internal/report"
	"mudline/internal/words"
	"mudline/texture"
)

// plan reckons the times for the stated jar, and how to show them.
func (o timesOptions) plan() (report.Times, report.Options, error) {
	var show report.Options
	out := report.Times{WaterDepthMM: texture.UsualDepthMM, DepthAssumed: o.waterDepth == "", TempC: math.NaN()}
	setup := texture.PlanSetup{Photos: o.photos}
	var err error
	if o.waterDepth != "" {
		if out.WaterDepthMM, show.Inches, err = record.ParseWaterDepth(o.waterDepth); err != nil {
			return out, show, badOption("--water-depth", err)
		}
	}
	if o.temp != "" {
		if out.TempC, show.Fahrenheit, err = record.ParseTemp(o.temp); err != nil {
			return out, show, badOption("--temp", err)
		}
		setup.TempC = &out.TempC
	}
	if o.photos < minPhotos || o.photos > maxPhotos {
		return out, show, outside("--photos", o.photos, minPhotos, maxPhotos)
	}
	if out.FillShare, err = o.share(out.WaterDepthMM); err != nil {
		return out, show, err
	}
	setup.WaterDepthMM, setup.SoilShare = out.WaterDepthMM, out.FillShare
	p, err := texture.Plan(setup)
	if err != nil {
		return out, show, words.Say("command.reckoning-times", words.Because("why", err))
	}
	fillPlan(&out, p)
	return out, show, nil
}

// fillPlan copies what the physics says into what is shown.
func fillPlan(out *report.Times, p texture.JarPlan) {
	for _, d := range []struct {
		what string
		at   texture.Estimate
	}{{"sand", p.SandDownS}, {"silt", p.SiltDownS}, {"clay", p.ClayDownS}} {
		out.Down = append(out.Down, report.Down{What: d.what, Usually: seconds(d.at.Value), Early: seconds(d.at.Low), Late: seconds(d.at.High)})
	}
	for _, t := range p.TimesS {
		out.Photos = append(out.Photos, seconds(t))
	}
	out.Spread, out.UsualSpread = p.Spread, p.SpreadOf3
	for _, r := range p.Recipes {
		out.Marks = append(out.Marks, report.Mark{Name: r.Name, Means: r.Means, Due: seconds(r.DueS), SmallestUM: r.SmallestUM, Off: r.OffPoints, Apart: r.AbsPoints})
	}
	out.Soil = report.Soil{Share: p.Soil.Share, DepositMM: p.Soil.DepositMM, Slowing: p.Soil.Slowing}
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }
