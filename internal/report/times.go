package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"text/tabwriter"
	"time"

	"mudline/internal/record"
)

// Times says when to photograph a jar.
type Times struct {
	WaterDepthMM float64
	// TempC is NaN and FillShare 0 where they were not stated; DepthAssumed
	// says that the depth was not.
	TempC        float64
	DepthAssumed bool
	// FillShare is the height of the loose dry soil as a share of the water depth.
	FillShare float64
	// Down says when each part has come down.
	Down []Down
	// Photos are the moments to photograph the jar at.
	Photos []time.Duration
	// Spread is the standard deviation of the fractions to expect with these
	// photos, UsualSpread with UsualTimes, in points of percent.
	Spread, UsualSpread float64
	// Marks are the usual times, and what they catch in this jar.
	Marks []Mark
	Soil  Soil
}

// Down is when one part of the soil has come down.
type Down struct {
	// What is "sand", "silt" or "clay".
	What string
	// Usually, and the 90 % range over plausible soils.
	Usually, Early, Late time.Duration
}

// Mark is a time at which instructions tell to mark a layer.
type Mark struct {
	// Name is the time in words, Means what the mark is taken for.
	Name, Means string
	// Due is when that has happened in this jar.
	Due time.Duration
	// SmallestUM is the smallest grain that is down by the mark, micrometres.
	SmallestUM float64
	// Off is the mean error of the layer that ends at the mark, in points by
	// thickness, positive for too much; Apart the mean without sign.
	Off, Apart float64
}

// Soil is how much soil to put in.
type Soil struct {
	// Share is the height of loose dry soil as a share of the water depth.
	Share float64
	// DepositMM is the height of the deposit to expect, Slowing the factor by
	// which the crowd of grains slows their fall, 0..1.
	DepositMM, Slowing float64
}

// UsualTimes is what most instructions for a jar say (common practice).
const UsualTimes = "1 minute, 2 hours, 2 days"

// WriteTimes writes when to photograph a jar; start is when it is set down, or
// zero if that is not known.
func WriteTimes(w io.Writer, t Times, start time.Time, o Options) error {
	var b bytes.Buffer
	o.jarLine(&b, t)
	downTable(&b, t.Down)
	photoList(&b, t, start)
	markTable(&b, t.Marks)
	o.amount(&b, t)
	_, err := w.Write(b.Bytes())
	return err
}

func (o Options) jarLine(b *bytes.Buffer, t Times) {
	text := "A jar with water " + o.depth(t.WaterDepthMM) + " deep"
	if t.DepthAssumed {
		text += " (assumed)"
	}
	if math.IsNaN(t.TempC) {
		text += " at room temperature (assumed)"
	} else {
		text += " at " + o.temp(t.TempC)
	}
	if t.FillShare > 0 {
		text += fmt.Sprintf(", loose dry soil to %s of that depth.", part(t.FillShare))
	} else {
		text += ", with a usual amount of soil."
	}
	b.WriteString(wrap(text, "", pageWidth))
}

// part writes a share of a height as a simple fraction where it is close to one.
func part(share float64) string {
	for n := 2; n <= 12; n++ {
		if f := 1 / float64(n); share > 0.97*f && share < 1.03*f {
			return fmt.Sprintf("1/%d", n)
		}
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// about writes a time that is known only roughly: one unit, few figures.
func about(d time.Duration) string {
	switch {
	case d < 2*time.Minute:
		return fmt.Sprintf("%.0f s", d.Round(5*time.Second).Seconds())
	case d < 2*time.Hour:
		return fmt.Sprintf("%.0f min", d.Minutes())
	case d < 48*time.Hour:
		return fmt.Sprintf("%.0f h", d.Hours())
	case d < longest:
		return fmt.Sprintf("%.0f days", d.Hours()/24)
	}
	return "more than two months"
}

// longest is the time from which on a jar is said to clear in months.
const longest = 61 * 24 * time.Hour

func downTable(b *bytes.Buffer, down []Down) {
	if len(down) == 0 {
		return
	}
	fmt.Fprintln(b)
	t := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprintln(t, "all of it is down\tusually after\t9 times in 10 between")
	for _, d := range down {
		fmt.Fprintf(t, "%s\t%s\t%s and %s\n", d.What, about(d.Usually), about(d.Early), about(d.Late))
	}
	t.Flush()
}

func photoList(b *bytes.Buffer, t Times, start time.Time) {
	if len(t.Photos) == 0 {
		return
	}
	fmt.Fprintf(b, "\nPhotograph it after\n")
	w := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	for _, p := range t.Photos {
		if start.IsZero() {
			fmt.Fprintf(w, "  %s\n", record.FormatElapsed(p))
		} else {
			fmt.Fprintf(w, "  %s\t%s\n", record.FormatElapsed(p), start.Add(p).Format("Mon 2 Jan 15:04:05"))
		}
	}
	w.Flush()
	text := fmt.Sprintf("With these photos sand, silt and clay should come out give or take about %.1f points", t.Spread)
	if math.Abs(t.Spread-t.UsualSpread) >= 0.05 {
		text += fmt.Sprintf(", with %s about %.1f", UsualTimes, t.UsualSpread)
	}
	b.WriteString(wrap(text+".", "", pageWidth))
}

// markTable says how far the usual marks, measured with a ruler, would be off.
func markTable(b *bytes.Buffer, marks []Mark) {
	if len(marks) == 0 {
		return
	}
	fmt.Fprintf(b, "\nHow far the usual marks, measured with a ruler, would be off in this jar\n")
	w := tabwriter.NewWriter(b, 0, 4, 3, ' ', 0)
	fmt.Fprintln(w, "mark at\ttaken to mean\twhich here takes\tdown by the mark\toff on average\tin a single soil")
	for _, m := range marks {
		fmt.Fprintf(w, "%s\t%s\t%s\tgrains over %.2g um\t%+.0f points\t%.0f points either way\n", m.Name, m.Means, about(m.Due), m.SmallestUM, m.Off, m.Apart)
	}
	w.Flush()
}

func (o Options) amount(b *bytes.Buffer, t Times) {
	if t.Soil.Share <= 0 {
		return
	}
	b.WriteString("\n" + wrap(fmt.Sprintf("How much soil: loose dry soil to %s of the water depth, %s. The layers will be about %s high altogether, and the grains fall at %.0f %% of their speed in clear water.",
		part(t.Soil.Share), o.length(t.Soil.Share*t.WaterDepthMM), o.length(t.Soil.DepositMM), 100*t.Soil.Slowing), "", pageWidth))
}
