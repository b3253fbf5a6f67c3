package report

import (
	"math"
	"slices"

	"mudline/internal/checked"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// errorView is the error analysis.
type errorView struct {
	Causes []causeRow
	// Reading says how exactly the lines were read, Times the photos' times, Checked on
	// what readings were checked.
	Reading, Times, Checked string
	Assumed                 []string
	Surer                   []string
	// Repeat says what three jars of the same soil would show.
	Repeat string
}

// causeRow is one cause of the doubt.
type causeRow struct {
	Name, Kind, Text string
	Share            float64
}

func errorsOf(r reading.Reading, o Options) errorView {
	var v errorView
	for _, c := range r.Causes {
		if c.Share < leastCause {
			continue
		}
		v.Causes = append(v.Causes, causeRow{words.Capital(o.language().Word("doubt", c.Code)), o.kindOfDoubt(c.Code), o.sentence(c.Message()), c.Share})
	}
	v.Reading, v.Times, v.Checked = o.readingError(r), o.timesError(r), o.tell(checked.Readings())
	v.Assumed = o.assumed(r)
	if n := r.NextPhoto; n != nil {
		v.Surer = append(v.Surer, o.tell(n.Message()))
	}
	for _, w := range r.Warnings {
		help := o.sentence(w.Help())
		if help != "" && !slices.Contains(v.Surer, help) {
			v.Surer = append(v.Surer, help)
		}
	}
	if f := r.Fractions; f != nil {
		v.Repeat = o.say("report.repeat", words.Whole("v", f.Sand.Percent), words.Whole("low", f.Sand.Low), words.Whole("high", f.Sand.High))
	}
	return v
}

// readingError weighs the error of the last photo's lines against the layers.
func (o Options) readingError(r reading.Reading) string {
	if len(r.Photos) == 0 {
		return ""
	}
	last := r.Photos[len(r.Photos)-1]
	_, shown := heightsOf(last, r)
	if shown == nil || shown.DepositTop == nil || shown.DepositTop.Value <= 0 {
		return ""
	}
	top := shown.DepositTop
	worst := 0.0
	for _, h := range []*reading.Height{shown.SandTop, shown.SiltTop, top} {
		if h != nil {
			worst = math.Max(worst, 2*h.SD)
		}
	}
	percent := shown == last.HeightsPercent
	write := func(v float64) string {
		if percent {
			return o.say("report.percent-of-depth", words.Decimal("v", v, 1))
		}
		return o.length(v)
	}
	return o.say("report.reading-error", words.Name("thick", write(top.Value)), words.Name("error", write(worst)), words.Told("points", points(100*worst/top.Value))) +
		" " + o.tell(checked.Heights())
}

// timesError says how far off the times may be.
func (o Options) timesError(r reading.Reading) string {
	worst, which := 0.0, ""
	for _, p := range r.Photos {
		if p.ElapsedS > 0 && p.ElapsedSDS/p.ElapsedS > worst {
			worst, which = p.ElapsedSDS/p.ElapsedS, o.elapsed(p.ElapsedS)
		}
	}
	if worst == 0 {
		return ""
	}
	return o.say("report.times-error", words.Name("time", which), words.Whole("off", 200*worst), words.Whole("size", 100*worst))
}

// assumed lists what the reading takes for granted.
func (o Options) assumed(r reading.Reading) []string {
	var out []string
	if r.TempFrom == "assumed" {
		out = append(out, o.say("report.assumed-temp", words.C("temp", r.TempC)))
	}
	if r.WaterDepthMM == nil {
		out = append(out, o.say("report.assumed-depth"))
	}
	return append(out, o.say("report.assumed-quartz", words.Whole("density", texture.QuartzDensity)),
		o.say("report.assumed-shaken"), o.say("report.assumed-mineral"), o.say("report.assumed-inside"))
}
