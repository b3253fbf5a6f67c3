package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"mudline/internal/words"
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

// WriteTimes writes when to photograph a jar; start is when it is set down, or
// zero if that is not known.
func WriteTimes(w io.Writer, t Times, start time.Time, o Options) error {
	var b bytes.Buffer
	o.jarLine(&b, t)
	o.downTable(&b, t.Down)
	o.photoList(&b, t, start)
	o.markTable(&b, t.Marks)
	o.amount(&b, t)
	o.cautions(&b)
	_, err := w.Write(b.Bytes())
	return err
}

func (o Options) jarLine(b *bytes.Buffer, t Times) {
	depth := o.say("report.water-deep", words.Name("depth", o.depth(t.WaterDepthMM)))
	if t.DepthAssumed {
		depth = o.say("times.assumed", words.Name("what", depth))
	}
	temp := o.say("times.room")
	if !math.IsNaN(t.TempC) {
		temp = o.say("times.at", words.C("temp", t.TempC))
	}
	soil := o.say("times.usual-soil")
	if t.FillShare > 0 {
		soil = o.say("times.soil", words.Name("share", o.fraction(t.FillShare)))
	}
	b.WriteString(wrap(o.say("times.jar", words.Name("water", depth), words.Name("temp", temp), words.Name("soil", soil)), "", o.width()))
}

// fraction writes a share of a height as a simple fraction where it is close to one.
func (o Options) fraction(share float64) string {
	for n := 2; n <= 12; n++ {
		if f := 1 / float64(n); share > 0.97*f && share < 1.03*f {
			return fmt.Sprintf("1/%d", n)
		}
	}
	return o.percent(100 * share)
}

// about is a time that is known only roughly: one unit, few figures.
func (o Options) about(d time.Duration) string {
	switch {
	case d < 2*time.Minute:
		return o.say("unit.s", words.Whole("v", d.Round(5*time.Second).Seconds()))
	case d < 2*time.Hour:
		return o.say("unit.min", words.Whole("v", d.Minutes()))
	case d < 48*time.Hour:
		return o.say("unit.h", words.Whole("v", d.Hours()))
	case d < longest:
		return o.say("table.in-days", words.Whole("v", d.Hours()/24))
	}
	return o.say("times.two-months")
}

// longest is the time from which on a jar is said to clear in months.
const longest = 61 * 24 * time.Hour

func (o Options) downTable(b *bytes.Buffer, down []Down) {
	if len(down) == 0 {
		return
	}
	fmt.Fprintln(b)
	t := o.columns(b)
	o.heads(t, "all-down", "usually-after", "9-in-10-between")
	for _, d := range down {
		fmt.Fprintf(t, "%s\t%s\t%s\n", o.part(d.What), o.about(d.Usually), o.say("times.from-to", words.Name("early", o.about(d.Early)), words.Name("late", o.about(d.Late))))
	}
	t.Flush()
}

func (o Options) photoList(b *bytes.Buffer, t Times, start time.Time) {
	if len(t.Photos) == 0 {
		return
	}
	fmt.Fprintf(b, "\n%s\n", o.say("times.photograph"))
	w := o.columns(b)
	for _, p := range t.Photos {
		if start.IsZero() {
			fmt.Fprintf(w, "  %s\n", o.elapsed(p.Seconds()))
		} else {
			fmt.Fprintf(w, "  %s\t%s\n", o.elapsed(p.Seconds()), o.moment(start.Add(p)))
		}
	}
	w.Flush()
	text := o.say("times.spread", words.Decimal("v", t.Spread, 1))
	if math.Abs(t.Spread-t.UsualSpread) >= 0.05 {
		text += o.say("times.usual-spread", words.Decimal("v", t.UsualSpread, 1))
	}
	b.WriteString(wrap(text+".", "", o.width()))
}

// moment writes a date and time of day.
func (o Options) moment(t time.Time) string {
	return o.say("times.moment", words.Name("day", o.say("times.day-"+strings.ToLower(t.Format("Mon")))), words.Name("date", t.Format("2")),
		words.Name("month", o.say("times.month-"+t.Format("01"))), words.Name("year", t.Format("2006")), words.Name("time", t.Format("15:04:05")))
}

// markTable says how far the usual marks, measured with a ruler, would be off.
func (o Options) markTable(b *bytes.Buffer, marks []Mark) {
	if len(marks) == 0 {
		return
	}
	b.WriteString("\n" + wrap(o.say("times.marks"), "", o.width()))
	w := o.columns(b)
	o.heads(w, "mark-at", "taken-to-mean", "here-takes", "down-by-mark", "off-average", "single-soil")
	for _, m := range marks {
		off := o.decimal(m.Off, 0)
		if m.Off >= 0 {
			off = "+" + off
		}
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\n", o.language().Word("mark", m.Name), o.language().Word("mark", m.Means), o.about(m.Due),
			o.say("times.grains-over", words.Figures("size", m.SmallestUM, 2)), o.say("times.points", words.Name("v", off)),
			o.say("times.either-way", words.Whole("v", m.Apart)))
	}
	w.Flush()
}

func (o Options) amount(b *bytes.Buffer, t Times) {
	if t.Soil.Share <= 0 {
		return
	}
	b.WriteString("\n" + wrap(o.say("times.amount", words.Name("share", o.fraction(t.Soil.Share)), words.MM("soil", t.Soil.Share*t.WaterDepthMM, 1),
		words.MM("deposit", t.Soil.DepositMM, 1), words.Whole("speed", 100*t.Soil.Slowing)), "", o.width()))
}
