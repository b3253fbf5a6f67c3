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
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
	"mudline/internal/reading"
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
	in := ask[drawn](t, d, "chart", m{"kind": "settling", "inches": true})
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
	d, r := onSample(t)
	data, err := os.ReadFile("../page/site/words/en.json")
	require.NoError(t, err)
	var catalogue map[string]string
	require.NoError(t, json.Unmarshal(data, &catalogue))
	words := map[string]string{}
	for key, text := range catalogue {
		if english, ok := strings.CutPrefix(key, "chart:"); ok {
			assert.Equal(t, english, text, "the English text is its own translation")
			words[english] = "«" + text + "»"
		}
	}
	require.NotEmpty(t, words)
	word := regexp.MustCompile(`\p{L}{2,}[0-9]?`)
	symbols := map[string]bool{} // of classes, the same in every language
	for _, class := range texture.ClassNames(texture.German) {
		symbols[texture.Symbol(class)] = true
	}
	for _, one := range chartable(r) {
		for _, kind := range kinds {
			for _, inches := range []bool{false, true} {
				got := ask[drawn](t, d, "chart", m{"kind": kind, "reading": one, "words": words, "inches": inches, "width": 1200})
				all := strings.NewReplacer(r.Jar, "", r.Why, "").Replace(strings.Join(texts(t, got.SVG), " "))
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
	inches := ask[map[string]string](t, d, "report", m{"inches": true, "fahrenheit": true})["html"]
	plain, err := d.Report()
	require.NoError(t, err)
	assert.Equal(t, metric, string(plain))
	assert.Contains(t, metric, r.Jar)
	assert.Contains(t, metric, "132 mm")
	assert.Contains(t, inches, "5.197 in", "132 mm / 25.4")
	assert.Contains(t, inches, "48 °F", "9 °C")
	spanish := ask[map[string]string](t, d, "report", m{"language": "es", "said": [][2]string{{"Method", "Método"}, {"sandy loam", "franco arenoso"}}, "words": m{"clay %": "arcilla %"}})["html"]
	for _, part := range []string{`<html lang="es">`, "<h2 id=\"result\">Franco arenoso</h2>", ">Método</a>", ">arcilla %</text>"} {
		assert.Contains(t, spanish, part)
	}
	cautions := ask[[]reading.Statement](t, d, "cautions", m{})
	require.NotEmpty(t, cautions)
	_, err = desk.New(imaging.PureGo{}).Report()
	assert.ErrorContains(t, err, "no reading")
}

func TestAskingForWhatThereIsNot(t *testing.T) {
	d := desk.New(imaging.PureGo{})
	_, err := d.Ask("weather", []byte(`{}`))
	assert.ErrorContains(t, err, "weather")
	_, err = d.Ask("times", []byte(`{`))
	assert.ErrorContains(t, err, "not readable")
	assert.Contains(t, ask[map[string]string](t, d, "record", m{"temp": "99 C"})["mistake"], "99")
	assert.Empty(t, ask[map[string]string](t, d, "record", m{"temp": "20 C"})["mistake"])
	assert.Contains(t, ask[map[string]string](t, d, "chart-style", m{})["css"], "prefers-color-scheme:dark")
}
