package main

import (
	"io"
	"math"
	"time"

	"mudline/internal/reading"
	"mudline/internal/report"
)

// timesDocument is what times --json prints. Times are seconds since the jar is set down;
// clock times stand beside them where that is stated.
type timesDocument struct {
	Version      int     `json:"version"`
	WaterDepthMM float64 `json:"water_depth_mm"`
	// DepthFrom and TempFrom are "stated" or "assumed"; TempC is absent where a room's
	// range of temperatures was taken.
	DepthFrom string   `json:"water_depth_from"`
	TempC     *float64 `json:"temp_c,omitempty"`
	TempFrom  string   `json:"temp_from"`
	// FillShare is loose dry soil as a share of the water depth; absent where not stated.
	FillShare *float64      `json:"fill_share,omitempty"`
	Photos    []photoMoment `json:"photos"`
	Down      []downTime    `json:"down,omitempty"`
	// ExpectedSD is the standard deviation of the fractions to expect, in points; UsualSD
	// that with photos at the usual times.
	ExpectedSD float64     `json:"expected_sd_points,omitempty"`
	UsualSD    float64     `json:"usual_sd_points,omitempty"`
	Marks      []usualMark `json:"usual_marks,omitempty"`
	Soil       *soilAmount `json:"soil,omitempty"`
}

// photoMoment is when to take a photo.
type photoMoment struct {
	ElapsedS float64 `json:"elapsed_s"`
	At       string  `json:"at,omitempty"`
}

// downTime is when one part of the soil is down, with the 90 % interval.
type downTime struct {
	What     string  `json:"what"`
	UsuallyS float64 `json:"usually_s"`
	EarlyS   float64 `json:"early_s"`
	LateS    float64 `json:"late_s"`
}

// usualMark is how far a usual mark would be off in this jar.
type usualMark struct {
	Name       string  `json:"name"`
	Means      string  `json:"means"`
	DueS       float64 `json:"due_s"`
	SmallestUM float64 `json:"smallest_um"`
	OffPoints  float64 `json:"off_points"`
	AbsPoints  float64 `json:"abs_points"`
}

// soilAmount is how much soil is best.
type soilAmount struct {
	Share     float64 `json:"share"`
	DepositMM float64 `json:"deposit_mm"`
	Slowing   float64 `json:"slowing"`
}

// writeTimesJSON writes the plan of a jar; start is when it is set down, zero where that
// is not asked for.
func writeTimesJSON(w io.Writer, t report.Times, start time.Time) error {
	from := map[bool]string{true: "assumed", false: "stated"}
	d := timesDocument{Version: reading.Version, WaterDepthMM: t.WaterDepthMM, DepthFrom: from[t.DepthAssumed], TempC: reading.Ptr(t.TempC),
		TempFrom: from[math.IsNaN(t.TempC)], Photos: moments(t.Photos, start), ExpectedSD: t.Spread, UsualSD: t.UsualSpread}
	if t.FillShare > 0 {
		d.FillShare = &t.FillShare
	}
	for _, x := range t.Down {
		d.Down = append(d.Down, downTime{x.What, x.Usually.Seconds(), x.Early.Seconds(), x.Late.Seconds()})
	}
	for _, m := range t.Marks {
		d.Marks = append(d.Marks, usualMark{m.Name, m.Means, m.Due.Seconds(), m.SmallestUM, m.Off, m.Apart})
	}
	if t.Soil.Share > 0 {
		d.Soil = &soilAmount{t.Soil.Share, t.Soil.DepositMM, t.Soil.Slowing}
	}
	return reading.WriteJSON(w, d)
}

// moments are times since shaking, with those of the clock where it is known.
func moments(times []time.Duration, start time.Time) []photoMoment {
	out := make([]photoMoment, len(times))
	for i, t := range times {
		out[i].ElapsedS = t.Seconds()
		if !start.IsZero() {
			out[i].At = start.Add(t).Format(time.RFC3339)
		}
	}
	return out
}

// writeFilmJSON writes the moments of a film.
func writeFilmJSON(w io.Writer, p report.FilmPlan, start time.Time) error {
	return reading.WriteJSON(w, struct {
		Version int           `json:"version"`
		Photos  []photoMoment `json:"photos"`
	}{reading.Version, moments(p.Moments, start)})
}
