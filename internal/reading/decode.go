package reading

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"mudline/internal/words"
)

// FileName is the name under which a reading is written.
const FileName = "reading.json"

// MaxBytes is the largest reading.json that is read: some ten times the size of
// one with sixty photos and its cloud of soils.
const MaxBytes = 4 << 20

// maxSoils is how many soils of a cloud are accepted.
const maxSoils = 10000

// slack is how far rounding and closing to 100 may move percentages.
const slack = 0.5

// Decode reads a reading.json. Keys it does not know are passed over, as version
// 1 may gain some. Every number that says something of the soil is checked:
// fractions, soils, class, water. Texts are as they stand, and may hold anything.
// A document that holds a refusal gives that *Refusal as the error.
func Decode(data []byte) (*Reading, error) {
	if len(data) > MaxBytes {
		return nil, words.Say("reading.too-long", words.Whole("bytes", len(data)), words.Whole("most", MaxBytes))
	}
	var head struct {
		Version *int        `json:"version"`
		Refused *Refusal    `json:"refused"`
		Soils   [][]float64 `json:"soils"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return nil, words.Say("reading.not-json", words.Because("why", err))
	}
	switch {
	case head.Version == nil:
		return nil, words.Say("reading.no-version")
	case *head.Version != Version:
		return nil, words.Say("reading.version", words.Whole("version", *head.Version), words.Whole("known", Version))
	case head.Refused != nil:
		return nil, head.Refused.check()
	}
	var r Reading
	if err := json.Unmarshal(data, &r); err != nil {
		return nil, words.Say("reading.not-json", words.Because("why", err))
	}
	for i, s := range head.Soils {
		if len(s) != 3 { // an array in Go would be filled up, or cut, without a word
			return nil, fmt.Errorf("soils[%d] has %d numbers; sand, silt and clay are needed", i, len(s))
		}
	}
	if err := r.check(); err != nil {
		return nil, err
	}
	return &r, nil
}

// check gives the refusal itself, or what is wrong with it.
func (r *Refusal) check() error {
	if r.Code == "" || r.Text == "" || r.Remedy == "" {
		return fmt.Errorf("refused: code, text and remedy are needed")
	}
	return r
}

func (r *Reading) check() error {
	if f := r.Fractions; f != nil {
		if err := f.check("fractions"); err != nil {
			return err
		}
	}
	if len(r.Soils) > maxSoils {
		return fmt.Errorf("soils: %d are given; at most %d are read", len(r.Soils), maxSoils)
	}
	for i, s := range r.Soils {
		if err := composition(fmt.Sprintf("soils[%d]", i), s); err != nil {
			return err
		}
	}
	if r.System != "" && !slices.Contains(systems, r.System) {
		return fmt.Errorf("system: %q is none of %v", r.System, systems)
	}
	if r.Class != nil {
		if err := r.Class.check(); err != nil {
			return err
		}
	}
	if r.Meaning != nil {
		return r.Meaning.check()
	}
	return nil
}

var systems = []string{"usda", "canadian", "england-wales", "international", "australian", "german", "european"}

func (f *Fractions) check(name string) error {
	for _, e := range []struct {
		name string
		Estimate
	}{{"sand", f.Sand}, {"silt", f.Silt}, {"clay", f.Clay}} {
		if err := interval(name+"."+e.name, Range{e.Percent, e.Low, e.High}, 100); err != nil {
			return err
		}
	}
	return composition(name, [3]float64{f.Sand.Percent, f.Silt.Percent, f.Clay.Percent})
}

func (c *Class) check() error {
	if c.Name == "" || !slices.Contains(systems, c.System) {
		return fmt.Errorf("class: a name is needed, and a system that is one of %v", systems)
	}
	all := append([]OtherClass{{c.Name, c.Probability}}, c.Others...)
	for _, o := range all {
		if !within(o.Probability, 0, 1) {
			return fmt.Errorf("class %q: probability %.4g is outside 0 to 1", o.Name, o.Probability)
		}
	}
	return nil
}

// check looks at what is used of a meaning: the water.
func (m *Meaning) check() error {
	if err := interval("meaning.available_water_mm_per_m", m.AvailableMMPerM, 1000); err != nil {
		return err
	}
	return interval("meaning.bed.days_between_waterings", m.Bed.Days, math.MaxFloat64)
}

func within(v, lo, hi float64) bool { return v >= lo && v <= hi } // NaN is not

func interval(name string, r Range, hi float64) error {
	const rounding = 1e-3
	for _, v := range []float64{r.Value, r.Low, r.High} {
		if !within(v, 0, hi) {
			return fmt.Errorf("%s: %.4g is outside 0 to %.4g", name, v, hi)
		}
	}
	if r.Low > r.Value+rounding || r.Value > r.High+rounding {
		return fmt.Errorf("%s: %.4g does not lie between its low %.4g and its high %.4g", name, r.Value, r.Low, r.High)
	}
	return nil
}

// composition checks that sand, silt and clay are percentages of one whole.
func composition(name string, s [3]float64) error {
	for _, v := range s {
		if !within(v, 0, 100) {
			return fmt.Errorf("%s: %.4g is outside 0 to 100 percent", name, v)
		}
	}
	if sum := s[0] + s[1] + s[2]; math.Abs(sum-100) > slack {
		return fmt.Errorf("%s: sand, silt and clay add up to %.4g, not to 100", name, sum)
	}
	return nil
}

// WriteJSON writes a document of exported fields as Encode does: indented,
// numbers rounded to four decimals, none that is not finite.
func WriteJSON(w io.Writer, document any) error { return encode(w, document) }
