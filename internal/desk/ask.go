package desk

import (
	"encoding/json"
	"io"
	"slices"

	"mudline/internal/advice"
	"mudline/internal/chart"
	"mudline/internal/checked"
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
	"checked":     asked(func(d *Desk, _ struct{}) (any, error) { return d.language.Say(checked.Readings()), nil }),
	"chart":       asked(drawChart),
	"chart-style": asked(func(*Desk, struct{}) (any, error) { return map[string]string{"css": chart.CSS()}, nil }),
	"report":      asked(reportIn),
	"speak":       asked(speak),
	"told":        asked(tell),
	"picture":     asked(picture),
	"sheet":       asked(sheet),
	"sort":        asked(sortPhotos),
	"keys":        asked(keysOf),
	"stands":      asked(stands),
	"sketch":      asked(sketch),
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
	// WaterDepthMM and TempC are what was stated, as numbers.
	WaterDepthMM float64  `json:"water_depth_mm,omitempty"`
	TempC        *float64 `json:"temp_c,omitempty"`
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
	return planAnswer{TimesS: p.TimesS, SoilShare: p.Soil.Share, SoilMM: p.Soil.Share * setup.WaterDepthMM, Points: p.Spread,
		WaterDepthMM: setup.WaterDepthMM, TempC: setup.TempC}, nil
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
	p, err := packOf(rec, read, photos)
	if err != nil {
		return nil, err
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

// Unfold opens a file of jars and gives their folders; Unpack then gives them one by one.
func (d *Desk) Unfold(r io.ReaderAt, size int64) ([]string, error) {
	d.bundle, d.unpacked = nil, nil
	b, err := OpenBundle(r, size)
	if err != nil {
		return nil, err
	}
	d.bundle = b
	return b.Folders, nil
}

// Unpack reads a jar of the file opened last. Its photos are handed out by TakeUnpacked.
func (d *Desk) Unpack(folder string) (Summary, error) {
	if d.bundle == nil {
		return Summary{}, words.Say("desk.not-in-file", words.Name("file", folder))
	}
	p, err := d.bundle.Jar(folder)
	if err != nil {
		return Summary{}, err
	}
	d.unpacked = p.Photos
	return p.Summary()
}

// TakeUnpacked hands out a photo of the jar unpacked last, once.
func (d *Desk) TakeUnpacked(name string) ([]byte, error) {
	for i, f := range d.unpacked {
		if f.Name == name {
			d.unpacked = slices.Delete(d.unpacked, i, i+1)
			return f.Data, nil
		}
	}
	return nil, words.Say("desk.not-in-file", words.Name("file", name))
}

// handQuestion is a question of the hand test in the person's language.
type handQuestion struct {
	Key, Do, How, Ask string
	Kind              feel.Kind
	Choices           []handAnswer
	Example           string
}

type handAnswer struct{ Value, Label string }

func handQuestions(d *Desk, _ struct{}) (any, error) {
	say := d.language.Say
	var out []handQuestion
	for _, q := range feel.Questions() {
		h := handQuestion{Key: q.Key, Do: say(q.Do), How: say(q.How), Ask: say(q.Ask), Kind: q.Kind, Example: say(q.Example)}
		for _, c := range q.Choices {
			h.Choices = append(h.Choices, handAnswer{c.Value, words.Capital(say(c.Label))})
		}
		out = append(out, h)
	}
	return out, nil
}
