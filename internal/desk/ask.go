package desk

import (
	"encoding/json"
	"slices"

	"mudline/internal/advice"
	"mudline/internal/chart"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
	"mudline/texture/feel"
)

// question is one thing that can be asked: JSON in, JSON out.
type question func(d *Desk, request []byte) (any, error)

// questions are what Ask answers, by name.
var questions = map[string]question{
	"times":       asked(times),
	"elapsed":     asked(elapsed),
	"calendar":    asked(reminders),
	"crops":       asked(cropNames),
	"hands":       asked(handQuestions),
	"record":      asked(checkRecord),
	"compare":     asked(compareJars),
	"compare-csv": asked(compareCSV),
	"cautions":    asked(func(d *Desk, _ struct{}) (any, error) { return d.tellAll(advice.Cautions()), nil }),
	"chart":       asked(drawChart),
	"chart-style": asked(func(*Desk, struct{}) (any, error) { return map[string]string{"css": chart.CSS()}, nil }),
	"report":      asked(reportIn),
	"speak":       asked(speak),
	"told":        asked(tell),
	"picture":     asked(picture),
	"sheet":       asked(sheet),
	"stands":      asked(stands),
}

// Ask answers what a front end asks besides a reading. The names and what goes
// in and out stand at the functions in this file.
func (d *Desk) Ask(name string, request []byte) (any, error) {
	q, ok := questions[name]
	if !ok {
		return nil, words.Say("desk.no-question", words.Name("name", name))
	}
	return q(d, request)
}

// asked reads the request into what the answer needs.
func asked[T any](answer func(*Desk, T) (any, error)) question {
	return func(d *Desk, request []byte) (any, error) {
		var in T
		if err := json.Unmarshal(request, &in); err != nil {
			return nil, words.Say("desk.bad-request")
		}
		return answer(d, in)
	}
}

// planRequest asks when to photograph a jar; texts as in jar.yaml, empty where
// not known.
type planRequest struct {
	WaterDepth string `json:"water-depth"`
	Temp       string `json:"temp"`
	Photos     int    `json:"photos"`
}

type planAnswer struct {
	// TimesS are the moments to photograph the jar at, in seconds from shaking.
	TimesS []float64 `json:"times_s"`
	// SoilShare is how much loose dry soil is best, as a share of the water depth.
	SoilShare float64 `json:"soil_share"`
	// SoilMM is the same in millimetres; absent without a water depth.
	SoilMM float64 `json:"soil_mm,omitempty"`
	// Points is the standard deviation of the fractions to expect.
	Points float64 `json:"points"`
}

func times(_ *Desk, in planRequest) (any, error) {
	setup := texture.PlanSetup{Photos: in.Photos}
	if in.WaterDepth != "" {
		mm, _, err := record.ParseWaterDepth(in.WaterDepth)
		if err != nil {
			return nil, err
		}
		setup.WaterDepthMM = mm
	}
	if in.Temp != "" {
		c, _, err := record.ParseTemp(in.Temp)
		if err != nil {
			return nil, err
		}
		setup.TempC = &c
	}
	p, err := texture.Plan(setup)
	if err != nil {
		return nil, err
	}
	return planAnswer{TimesS: p.TimesS, SoilShare: p.Soil.Share, SoilMM: p.Soil.Share * setup.WaterDepthMM, Points: p.Spread}, nil
}

// checkRecord says what is wrong with a record, "" if nothing.
func checkRecord(d *Desk, t record.Tree) (any, error) {
	if _, err := t.Record(record.FileName); err != nil {
		return map[string]string{"mistake": d.sentence(words.Of(err))}, nil
	}
	return map[string]string{}, nil
}

// PackJSON makes the file of a jar from what a page holds: the record and the
// reading as JSON, the reading empty where there is none.
func PackJSON(rec, read []byte, photos []NamedFile) ([]byte, error) {
	t, err := record.TreeFromJSON(rec)
	if err != nil {
		return nil, err
	}
	p := Pack{Record: t, Photos: photos}
	if len(read) > 0 {
		if err := json.Unmarshal(read, new(reading.Reading)); err != nil {
			return nil, words.Say("desk.bad-reading")
		}
		p.Reading = read
	}
	return p.Write()
}

// Summary is what a page needs of a pack before its photos are asked for.
type Summary struct {
	Record  record.Tree     `json:"record"`
	Reading json.RawMessage `json:"reading,omitempty"`
	Photos  []string        `json:"photos"`
}

// Summary names what the pack holds.
func (p Pack) Summary() (Summary, error) {
	s := Summary{Record: p.Record, Photos: []string{}}
	if json.Valid(p.Reading) {
		s.Reading = p.Reading
	}
	for _, f := range p.Photos {
		s.Photos = append(s.Photos, f.Name)
	}
	return s, nil
}

// TakeUnpacked hands out a photo of the pack opened last, once.
func (d *Desk) TakeUnpacked(name string) ([]byte, error) {
	for i, f := range d.Unpacked {
		if f.Name == name {
			d.Unpacked = slices.Delete(d.Unpacked, i, i+1)
			return f.Data, nil
		}
	}
	return nil, words.Say("desk.not-in-file", words.Name("file", name))
}

// handQuestion is a question of the hand test in the person's language.
type handQuestion struct {
	Key, Ask, How string
	Kind          feel.Kind
	Choices       []handAnswer
	Example       string
}

type handAnswer struct{ Value, Label string }

func handQuestions(d *Desk, _ struct{}) (any, error) {
	say := d.language.Say
	var out []handQuestion
	for _, q := range feel.Questions() {
		h := handQuestion{Key: q.Key, Ask: say(q.Ask), How: say(q.How), Kind: q.Kind, Example: say(q.Example)}
		for _, c := range q.Choices {
			h.Choices = append(h.Choices, handAnswer{c.Value, words.Capital(say(c.Label))})
		}
		out = append(out, h)
	}
	return out, nil
}
