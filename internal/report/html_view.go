package report

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"mudline/internal/chart"
	"mudline/internal/jar"
	"mudline/internal/look"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// view is what the page's template shows.
type view struct {
	Style    template.CSS
	Policy   string
	Tag      string // of the language
	Jar      string
	Headline string // the class, or what stands in its place
	// Sure and System follow the class; empty without one.
	Sure, System, Others string
	Conditions, Trust    string
	Firm                 bool // the trust is well founded
	Parts                []partView
	Hero                 *drawing
	Refusal              *reading.Refusal
	RefusalText, Remedy  string
	Why, SoilColours     string
	Photos               []photoView
	Warnings, Small      []warningView
	Todo                 []string // three things to do at most
	Figures              figures
	R                    reading.Reading
	Steps                []step
	Weights              [3]float64
	Classes              classesView
	Cuts                 []cutView
	Slowed               string
	Lines                []lineRow
	Numbers              []numberRow
	Errors               errorView
	BedText              string
	Bed, Water           []rangeRow
	Cautions             []reading.Statement
	// Cites are the numbers of each statement's sources, Sources these sources.
	Cites   map[reading.Statement]string
	Sources []string
}

// partView is one of sand, silt and clay in the summary.
type partView struct {
	// Key is "sand", "silt" or "clay"; Own is the soil's own colour, empty without one.
	Key, Name, Size, Own string
	E                    reading.Estimate
	// Start and Middle are where it begins and has its middle in the stacked bar, percent;
	// Label is what is written there, Paint and Ink its colour and that of the writing.
	Start, Middle     float64
	Label, Paint, Ink string
}

// label is what has room on a part of the stacked bar: its name, its letter or nothing.
func (o Options) label(key string, percent float64) string {
	switch {
	case percent >= 14:
		return o.say("report." + key)
	case percent >= 5:
		return o.say("part-letter-" + key)
	}
	return ""
}

// width is how wide a part's interval is.
func (p partView) width() float64 { return p.E.High - p.E.Low }

// classesView is the class system of a reading.
type classesView struct{ Title, Silt, Source string }

type warningView struct{ Text, Remedy string }

type photoView struct {
	Drawing drawing
	Title   string
	File    string
	Time    string
	Water   string
	Notes   []string
}

// fullWarnings is how many warnings are shown open, which the first sheet has room for; the
// rest are behind a fold.
const fullWarnings = 2

func newView(in ReportInput) (*view, error) {
	r, o := in.Result.Reading, in.Options
	v := &view{Tag: o.Language.Tag(), Jar: r.Jar, R: r, Refusal: in.Refusal, Cautions: in.Cautions}
	if v.Jar == "" {
		v.Jar = o.say("report.soil-jar")
	}
	in.Result.Scenes = slices.DeleteFunc(slices.Clone(in.Result.Scenes), func(s jar.Scene) bool { return s.Picture == nil })
	pictures, err := encodePictures(in.Result.Scenes)
	if err != nil {
		return nil, err
	}
	v.photos(in, pictures)
	if in.Refusal != nil {
		v.Headline, v.RefusalText = o.say("report.no-reading"), o.sentence(in.Refusal.Message())
		v.Remedy = ended(o.tell(in.Refusal.Help()))
		return v, nil
	}
	v.Conditions = o.conditions(r)
	v.Trust, v.Firm = o.trust(r)
	v.Why = o.tell(r.Reason())
	v.SoilColours = o.soilColours(r)
	v.headline(r, o)
	v.Parts = o.partsOf(r)
	for i, w := range r.Warnings {
		shown := warningView{o.sentence(w.Message()), o.sentence(w.Help())}
		if i < fullWarnings {
			v.Warnings = append(v.Warnings, shown)
		} else {
			v.Small = append(v.Small, shown)
		}
	}
	v.Figures = figuresOf(r, in.Result.Film, o)
	v.physics(r, o)
	v.tables(r, o)
	v.soilWater(r.Meaning, o)
	v.cite(o)
	v.Errors = errorsOf(r, o)
	v.Todo = o.todo(r, v.Errors.Surer)
	return v, nil
}

// photos draws every photo; the last one heads the page.
func (v *view) photos(in ReportInput, pictures []picture) {
	r := in.Result.Reading
	for i, s := range in.Result.Scenes {
		photo := photoOf(r, s.File)
		d := newDrawing(pictures[i], s, photo, r, in.Options)
		d.ID = fmt.Sprintf("photo-%d", i+1)
		shown := photoView{Drawing: d, File: s.File}
		if in.Refusal == nil {
			o := in.Options
			shown.Title = o.say("report.after-capital", words.Name("time", o.elapsed(photo.ElapsedS)))
			shown.Time, shown.Water = o.timeWords(photo), o.cloudWords(photo.Cloud)
			shown.Notes = o.photoNotes(photo, r.Warnings)
		}
		v.Photos = append(v.Photos, shown)
	}
	if n := len(v.Photos); n > 0 && in.Refusal == nil {
		hero := v.Photos[n-1].Drawing
		v.Hero = &hero
		v.Photos[n-1].Drawing.Again = true
	}
}

// photoOf is what was read in the photo of a file.
func photoOf(r reading.Reading, file string) reading.Photo {
	for _, p := range r.Photos {
		if p.File == file {
			return p
		}
	}
	return reading.Photo{File: file}
}

func (v *view) headline(r reading.Reading, o Options) {
	c := r.Class
	if c == nil {
		v.Headline = o.say("report.no-class")
		if r.Fractions == nil {
			v.Headline = o.say("report.not-told-apart")
		}
		return
	}
	name, certainty := Verdict(*c)
	v.Headline, v.System, v.Sure = words.Capital(o.tell(name)), o.systemTitle(c.System), words.Capital(o.tell(certainty))
	chances := func(name string, p float64) string { return o.class(name) + " (" + o.chance(p) + ")" }
	others := []string{chances(c.Name, c.Probability)}
	for _, x := range c.Others {
		if x.Probability >= leastOther {
			others = append(others, chances(x.Name, x.Probability))
		}
	}
	if len(others) > 1 {
		v.Others = o.say("report.chances", words.Name("list", strings.Join(others, ", ")))
	}
}

// leastOther is the probability from which another class is named at the head
// of the report; the table of classes has them all.
const leastOther = 0.05

// partsOf lists sand, silt and clay as they lie: clay on top.
func (o Options) partsOf(r reading.Reading) []partView {
	f := r.Fractions
	if f == nil {
		return nil
	}
	sand, silt, clay := o.sizes(r.System)
	start, out := 0.0, []partView(nil)
	for i, size := range []string{sand, silt, clay} {
		p, e := look.Parts()[i], []reading.Estimate{f.Sand, f.Silt, f.Clay}[i]
		out = append(out, partView{Key: p.Name, Name: o.say("report." + p.Name), Size: size, Own: chart.Own(r.Colours, p.Name), E: e,
			Start: start, Middle: start + e.Percent/2, Label: o.label(p.Name, e.Percent), Paint: p.Colour, Ink: look.InkOn(p.Colour)})
		start += e.Percent
	}
	return out
}
