package desk_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"image/jpeg"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/report"
	"mudline/internal/words"
	"mudline/texture"
)

// readSample is a desk on which the sample jar has been read; tests that share
// it change nothing on it.
var readSample = sync.OnceValue(func() (out struct {
	desk    *desk.Desk
	reading reading.Reading
	err     error
}) {
	t := &testing.T{}
	p, names := sample(t)
	out.desk = desk.New(imaging.PureGo{})
	rec, err := json.Marshal(p.Record)
	out.err = err
	for _, f := range p.Photos {
		_, err := out.desk.Open(f.Name, f.Data, nil, rec)
		out.err = errors.Join(out.err, err)
	}
	answer, err := out.desk.Read(context.Background(), rec, names)
	out.err = errors.Join(out.err, err, json.Unmarshal(answer.Reading, &out.reading))
	return out
})

func onSample(t *testing.T) (*desk.Desk, reading.Reading) {
	s := readSample()
	require.NoError(t, s.err)
	return s.desk, s.reading
}

// ask asks and takes the answer through JSON, as a page gets it.
func ask[T any](t *testing.T, d *desk.Desk, name string, request any) (out T) {
	t.Helper()
	got, err := d.Ask(name, asJSON(t, request))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(asJSON(t, got), &out))
	return out
}

type m map[string]any

type drawn struct {
	SVG   string `json:"svg"`
	Empty bool   `json:"empty"`
}

// texts are the texts of an SVG, its title and description among them.
func texts(t *testing.T, svg string) (out []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		require.NoError(t, err)
		if text, ok := token.(xml.CharData); ok {
			if s := strings.TrimSpace(string(text)); s != "" {
				out = append(out, s)
			}
		}
	}
}

var kinds = []string{"triangle", "settling", "shares", "intervals", "sizes"}

func TestChartsAreThoseOfTheReading(t *testing.T) {
	d, r := onSample(t)
	for _, kind := range kinds {
		shown := ask[drawn](t, d, "chart", m{"kind": kind, "width": 360})
		given := ask[drawn](t, desk.New(imaging.PureGo{}), "chart", m{"kind": kind, "width": 360, "reading": r})
		// A stored reading is rounded, which moves a line by less than it shows.
		assert.Equal(t, texts(t, shown.SVG), texts(t, given.SVG), kind)
		assert.NotEmpty(t, texts(t, shown.SVG), kind)
		assert.Equal(t, kind == "sizes", shown.Empty, "three photos make no curve of sizes, and everything else")
	}
	mm := ask[drawn](t, d, "chart", m{"kind": "settling"})
	t.Cleanup(func() { ask[bool](t, d, "speak", m{}) })
	ask[bool](t, d, "speak", m{"inches": true})
	in := ask[drawn](t, d, "chart", m{"kind": "settling"})
	assert.Contains(t, mm.SVG, "mm")
	assert.Contains(t, in.SVG, "inches")

	_, err := d.Ask("chart", []byte(`{"kind":"pie"}`))
	assert.ErrorContains(t, err, "settling")
	_, err = desk.New(imaging.PureGo{}).Ask("chart", []byte(`{"kind":"shares"}`))
	assert.ErrorContains(t, err, "no reading")
	_, err = d.Ask("chart", asJSON(t, m{"kind": "shares", "jars": []m{{"name": "a", "reading": r}}}))
	assert.ErrorContains(t, err, "one jar")
}

// Every text of every chart can be put into another language: in one in which
// all words stand in brackets, no word stands outside of them.
func TestEveryTextOfAChartIsInTheCatalogue(t *testing.T) {
	_, r := onSample(t)
	data, err := words.File("en")
	require.NoError(t, err)
	var catalogue map[string]any
	require.NoError(t, json.Unmarshal(data, &catalogue))
	for key, text := range catalogue {
		if one, ok := text.(string); ok {
			catalogue[key] = "«" + one + "»"
			continue
		}
		for form, one := range text.(map[string]any) {
			text.(map[string]any)[form] = "«" + one.(string) + "»"
		}
	}
	data, err = json.Marshal(catalogue)
	require.NoError(t, err)
	brackets, err := words.New("en", data, nil)
	require.NoError(t, err)
	word := regexp.MustCompile(`\p{L}{2,}[0-9]?`)
	symbols := map[string]bool{} // of classes, the same in every language
	for _, class := range texture.ClassNames(texture.German) {
		symbols[texture.Symbol(class)] = true
	}
	for _, one := range chartable(r) {
		for _, kind := range kinds {
			for _, inches := range []bool{false, true} {
				got, err := report.Chart(kind, jar.Result{Reading: one}, report.Options{Inches: inches, Language: brackets})
				if err != nil {
					assert.Regexp(t, "^«.*»$", err.Error())
					continue
				}
				all := strings.NewReplacer(r.Jar, "", r.Why, "").Replace(strings.Join(texts(t, string(got.SVG())), " "))
				english := slices.DeleteFunc(word.FindAllString(outside(all), -1), func(w string) bool { return symbols[w] })
				assert.Empty(t, english, "%s: %s", kind, all)
			}
		}
	}
}

// chartable are readings that bring out every text of the charts.
func chartable(r reading.Reading) (out []reading.Reading) {
	empty, hands, sizes, noDepth := r, r, r, r
	empty.Fractions, empty.ByThickness, empty.Photos = nil, nil, nil
	hands.Hand = &reading.Hand{Clay: &reading.Range{Value: 20, Low: 10, High: 30}, Joint: &reading.Joint{Fractions: *r.Fractions}}
	for _, um := range []float64{2, 20, 50, 200} {
		sizes.SizeCurve = append(sizes.SizeCurve, reading.SizePoint{SizeUM: um, Finer: um / 3, Low: um / 4, High: um / 2.5})
	}
	noDepth.WaterDepthMM = nil
	for _, one := range []reading.Reading{r, empty, hands, sizes, noDepth} {
		for _, system := range texture.SystemNames() {
			one.System = system
			out = append(out, one)
		}
	}
	return out
}

// outside is what stands in no brackets.
func outside(s string) string {
	depth := 0
	return strings.Map(func(c rune) rune {
		switch c {
		case '«':
			depth++
		case '»':
			depth--
		default:
			if depth == 0 {
				return c
			}
		}
		return -1
	}, s)
}

func TestJarsOnOneTriangle(t *testing.T) {
	d, r := onSample(t)
	other := r
	other.System = "international" // its silt ends at 20 µm, so it has no place here
	got := ask[drawn](t, d, "chart", m{"kind": "triangle", "jars": []m{{"name": "North", "reading": r}, {"name": "Far", "reading": other}, {"name": "South", "reading": r}}})
	assert.Contains(t, got.SVG, "1 North")
	assert.NotContains(t, got.SVG, "Far")
	assert.Contains(t, got.SVG, "3 South")
}

func TestJarsSideBySide(t *testing.T) {
	d, r := onSample(t)
	sandy := r
	sandy.Fractions = &reading.Fractions{Sand: reading.Estimate{Percent: 90, Low: 88, High: 92}, Silt: reading.Estimate{Percent: 6, Low: 4, High: 8}, Clay: reading.Estimate{Percent: 4, Low: 2, High: 6}}
	sandy.Soils = nil
	request := m{"order": "sand", "jars": []m{{"name": "Bed", "reading": r}, {"name": "Bed", "reading": sandy}}}
	got := ask[struct {
		Jars []struct{ Name, Source string }
	}](t, d, "compare", request)
	require.Len(t, got.Jars, 2)
	assert.Equal(t, "2", got.Jars[0].Source, "most sand first; source is the place in the request")
	assert.NotEqual(t, got.Jars[0].Name, got.Jars[1].Name)

	rows, err := csv.NewReader(strings.NewReader(ask[map[string]string](t, d, "compare-csv", request)["csv"])).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	assert.Equal(t, "sand_percent", rows[0][4])
	assert.Equal(t, "90", rows[1][4])
	_, err = d.Ask("compare", []byte(`{"jars":[],"order":"colour"}`))
	assert.ErrorContains(t, err, "colour")
}

func TestThePictureOfAPhoto(t *testing.T) {
	d, r := onSample(t)
	url := ask[map[string]string](t, d, "picture", m{"file": r.Photos[0].File})["url"]
	text, ok := strings.CutPrefix(url, "data:image/jpeg;base64,")
	require.True(t, ok)
	data, err := base64.StdEncoding.DecodeString(text)
	require.NoError(t, err)
	c, err := jpeg.DecodeConfig(bytes.NewReader(data))
	require.NoError(t, err)
	size := r.Photos[0].SizePx
	assert.InDelta(t, float64(size[0])/float64(size[1]), float64(c.Width)/float64(c.Height), 0.005)
	_, err = d.Ask("picture", []byte(`{"file":"none.jpg"}`))
	assert.ErrorContains(t, err, "none.jpg")
}

func TestTheReportIsInThePersonsUnits(t *testing.T) {
	d, r := onSample(t)
	metric := ask[map[string]string](t, d, "report", m{})["html"]
	t.Cleanup(func() { ask[bool](t, d, "speak", m{}) })
	ask[bool](t, d, "speak", m{"inches": true, "fahrenheit": true})
	inches := ask[map[string]string](t, d, "report", m{})["html"]
	ask[bool](t, d, "speak", m{})
	assert.Contains(t, metric, r.Jar)
	assert.Contains(t, metric, "132 mm")
	assert.Contains(t, inches, "5.197 in", "132 mm / 25.4")
	assert.Contains(t, inches, "48 °F", "9 °C")
	speaks(t, d, "es")
	spanish := ask[map[string]string](t, d, "report", m{})["html"]
	for _, part := range []string{`<html lang="es">`, "<h2 id=\"result\">Franco arenoso</h2>", ">Método</a>", ">arcilla %</text>"} {
		assert.Contains(t, spanish, part)
	}
	cautions := ask[[]reading.Statement](t, d, "cautions", m{})
	require.NotEmpty(t, cautions)
	_, err := desk.New(imaging.PureGo{}).Ask("report", []byte("{}"))
	assert.ErrorContains(t, err, "no reading")
}

// speaks makes a desk speak a language, as a page does.
func speaks(t *testing.T, d *desk.Desk, tag string) {
	t.Helper()
	catalogue, err := words.File(tag)
	require.NoError(t, err)
	ask[bool](t, d, "speak", m{"tag": tag, "catalogue": json.RawMessage(catalogue)})
}

// A reading that is kept is put into any language that is chosen later: no text of it
// stays as it was, and none speaks of the command line.
func TestAReadingIsToldInThePersonsLanguage(t *testing.T) {
	d, r := onSample(t)
	t.Cleanup(func() { ask[bool](t, d, "speak", m{}) })
	texts := func(r reading.Reading) (out []string) {
		out = append(out, r.Why)
		for _, w := range r.Warnings {
			out = append(out, w.Text, w.Remedy)
		}
		for _, c := range r.Causes {
			out = append(out, c.Text)
		}
		for _, s := range slices.Concat(r.Meaning.Lines, r.Meaning.More, []reading.Statement{r.Meaning.Laboratory}) {
			out = append(out, s.Text)
		}
		return out
	}
	kept := texts(r)
	require.Greater(t, len(kept), 8)
	for _, tag := range []string{"en", "es", "fr"} {
		speaks(t, d, tag)
		got := texts(ask[struct{ Reading reading.Reading }](t, d, "told", m{"reading": r}).Reading)
		require.Len(t, got, len(kept))
		for i, text := range got {
			assert.Equal(t, kept[i] == "", text == "")
			assert.NotRegexp(t, `(^|\s)--[a-z]|jar\.yaml`, text)
			if tag != "en" && text != "" {
				assert.NotEqual(t, strings.ToLower(strings.Trim(kept[i], ".")), strings.ToLower(strings.Trim(text, ".")), tag)
			}
		}
	}
}

func TestAskingForWhatThereIsNot(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	_, err := d.Ask("weather", []byte(`{}`))
	assert.ErrorContains(t, err, "weather")
	_, err = d.Ask("times", []byte(`{`))
	assert.ErrorContains(t, err, "does not understand")
	assert.Contains(t, ask[map[string]string](t, d, "record", m{"temp": "99 C"})["mistake"], "99")
	assert.Empty(t, ask[map[string]string](t, d, "record", m{"temp": "20 C"})["mistake"])
	// as the fields of the set-up write them, at the ends of what those offer
	for key, values := range map[string][]string{"dispersant": {"yes", "no"}, "shaken-for": {"1 min", "2880 min"},
		"dry-soil": {"5 g", "5000 g", "0.2 oz", "176 oz"}, "stones": {"0 %", "90 %", "out"}} {
		for _, v := range values {
			assert.Empty(t, ask[map[string]string](t, d, "record", m{key: v})["mistake"], "%s: %s", key, v)
		}
	}
	assert.NotEmpty(t, ask[map[string]string](t, d, "record", m{"shaken-for": "2881 min"})["mistake"])
	assert.NotEmpty(t, ask[map[string]string](t, d, "record", m{"stones": "91 %"})["mistake"])
	assert.Contains(t, ask[map[string]string](t, d, "chart-style", m{})["css"], ".cf-ink{fill:var(--ink)}")
}
