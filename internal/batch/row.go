package batch

import (
	"slices"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
)

// The statuses of a jar.
const (
	StatusRead    = "read"
	StatusRefused = "refused"
	StatusFault   = "fault"
)

// Row is a jar in the tables: its reading in short.
type Row struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Folder string `json:"folder"`
	Status string `json:"status"`
	Photos int    `json:"photos"`
	// LastS is the time of the last photo, in seconds since the jar was set down.
	LastS        float64            `json:"last_s,omitempty"`
	WaterDepthMM *float64           `json:"water_depth_mm,omitempty"`
	TempC        float64            `json:"temp_c,omitempty"`
	TempFrom     string             `json:"temp_from,omitempty"`
	System       string             `json:"system,omitempty"`
	Engine       string             `json:"engine,omitempty"`
	Fractions    *reading.Fractions `json:"fractions,omitempty"`
	Suspension   *reading.Estimate  `json:"in_suspension,omitempty"`
	Class        *reading.Class     `json:"class,omitempty"`
	Colours      *reading.Colours   `json:"colours,omitempty"`
	Warnings     []string           `json:"warnings,omitempty"`
	Refused      *reading.Refusal   `json:"refused,omitempty"`
	// Doubts say why a person should look at the jar again, the gravest first.
	Doubts []words.Message `json:"doubts,omitempty"`
}

// The bounds from which a reading wants a second look (our own): an interval
// that spans two fifths of the whole leaves most classes open, and a class less
// likely than not is not known.
const (
	wideInterval = 40
	likely       = 0.5
)

// grave are the warnings for which a person should look at the photos.
var grave = map[reading.WarningCode]words.Message{
	reading.OddLine:          words.Say("look.odd-line"),
	reading.SinglePhoto:      words.Say("look.single-photo"),
	reading.WaterLineUnsure:  words.Say("look.water-line"),
	reading.TimeConflict:     words.Say("look.time-conflict"),
	reading.ClockZoneAssumed: words.Say("look.clock-zone"),
	reading.JarNotStraight:   words.Say("look.not-straight"),
	reading.MaybeTwoJars:     words.Say("look.two-jars"),
	reading.PhotosLeftOut:    words.Say("look.left-out"),
}

// rowOf is a jar's reading in short.
func rowOf(j *Jar, r *reading.Reading, no *reading.Refusal, status string) Row {
	row := Row{ID: j.ID, Name: j.Name, Folder: j.Folder, Status: status, Photos: len(j.Photos), Refused: no}
	if no != nil {
		doubt := words.Say("look.not-read", words.Told("why", no.Message()))
		if status == StatusFault {
			doubt = words.Say("look.failed", words.Told("why", no.Message()))
		}
		row.Doubts = []words.Message{doubt}
		return row
	}
	if n := len(r.Photos); n > 0 {
		row.LastS = r.Photos[n-1].ElapsedS
	}
	row.WaterDepthMM, row.TempC, row.TempFrom = r.WaterDepthMM, r.TempC, r.TempFrom
	row.System, row.Engine, row.Fractions, row.Suspension = r.System, r.Engine, r.Fractions, r.Suspension
	row.Class, row.Colours = r.Class, r.Colours
	for _, w := range r.Warnings {
		if !slices.Contains(row.Warnings, string(w.Code)) {
			row.Warnings = append(row.Warnings, string(w.Code))
		}
	}
	row.Doubts = doubts(r)
	return row
}

func doubts(r *reading.Reading) (why []words.Message) {
	f := r.Fractions
	if f == nil {
		if slices.ContainsFunc(r.Warnings, func(w reading.Warning) bool { return w.Code == reading.LinesContradict }) {
			return []words.Message{words.Say("look.lines-contradict")}
		}
		return []words.Message{words.Say("look.not-told-apart")}
	}
	widest, name := 0.0, ""
	for _, part := range []struct {
		name string
		e    reading.Estimate
	}{{"sand", f.Sand}, {"silt", f.Silt}, {"clay", f.Clay}} {
		if w := part.e.High - part.e.Low; w > widest {
			widest, name = w, part.name
		}
	}
	if widest > wideInterval {
		why = append(why, words.Say("look."+name+"-wide", words.Whole("points", widest)))
	}
	if r.Class != nil && r.Class.Probability < likely {
		name, certainty := report.Verdict(*r.Class)
		why = append(why, words.Say("look.class", words.Told("class", name), words.Told("certainty", certainty)))
	}
	for _, w := range r.Warnings {
		if doubt, ok := grave[w.Code]; ok {
			why = append(why, doubt)
		}
	}
	return why
}

// second gives the doubts in English, for tables that programs read.
func (r *Row) second() (texts []string) {
	for _, d := range r.Doubts {
		texts = append(texts, english.Say(d))
	}
	return texts
}

// Place is where the jar's photos lie, where its name does not say so.
func (r *Row) Place() string { return place(r.ID, r.Name) }

// Called names the jar so that no other has the same name.
func (r *Row) Called() string { return called(r.ID, r.Name) }

// Called names the jar so that no other has the same name.
func (j *Jar) Called() string { return called(j.ID, j.Name) }

func place(id, name string) string {
	if p := strings.TrimSuffix(id, "/"); p != name {
		return p
	}
	return ""
}

func called(id, name string) string {
	if p := place(id, name); p != "" {
		return name + ", " + p
	}
	return name
}

// Rank orders rows for a second look: what failed, what was refused, then what
// is most doubtful.
func (r *Row) Rank() int {
	switch {
	case r.Status == StatusFault:
		return 1000
	case r.Status == StatusRefused:
		return 500
	case r.Fractions == nil:
		return 100
	}
	return len(r.Doubts)
}
