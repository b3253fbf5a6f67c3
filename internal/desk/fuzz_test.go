package desk_test

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
)

// asks are requests as the page makes them. "times" is left out: it reckons for a tenth of
// a second, and takes in nothing but values that internal/record fuzzes.
var asks = map[string]string{
	"elapsed":     `{"record":{"shaken":"2026-06-05 11:38:20"},"photos":[{"file":"a_2h.jpg","taken":"2026-06-05 13:38:20"},{"file":"b.jpg"}]}`,
	"calendar":    `{"start":"2026-06-05T11:38:20+02:00","identity":"x","events":[{"due_s":7200,"summary":"a,b;c\nd","description":"e"}]}`,
	"crops":       `{}`,
	"hands":       `{}`,
	"record":      `{"name":"a","water-depth":"130 mm","hand":{"ball":"firm"},"photos":{"a.jpg":{"elapsed":"2h","lines":{"floor":"3 px"}}}}`,
	"compare":     `{"order":"clay","jars":[{"name":"a","reading":{"version":1,"system":"usda","fractions":{"sand":{"percent":40,"low":30,"high":50},"silt":{"percent":40,"low":30,"high":50},"clay":{"percent":20,"low":10,"high":30}},"soils":[[40,40,20],[50,30,20]]}},{"name":"b","reading":{"version":1}}]}`,
	"compare-csv": `{"jars":[{"name":"=a","reading":{"version":1}}]}`,
	"cautions":    `{}`,
	"chart":       `{"kind":"settling","id":"x","width":500,"inches":true,"language":"fr","reading":{"version":1,"photos":[{"file":"a","elapsed_s":60}]}}`,
	"chart-style": `{}`,
	"report":      `{"language":"es","said":[["a {1}","b {1}"]],"signs":{"thousands":".","grouped":4,"decimal":","}}`,
	"picture":     `{"file":"a"}`,
}

// FuzzAsk: whatever a page asks, there is an answer that goes into JSON, or an error; a
// chart is well-formed.
func FuzzAsk(f *testing.F) {
	names := slices.Sorted(maps.Keys(asks))
	for i, name := range names {
		f.Add(uint8(i), []byte(asks[name]))
	}
	f.Add(uint8(slices.Index(names, "chart")), []byte(`{"kind":"triangle","jars":[{"name":"<a>","reading":{"fractions":{"sand":{"percent":40}}}}]}`))
	f.Add(uint8(slices.Index(names, "chart")), []byte(`{"kind":"shares","id":"\"><script>","reading":{"fractions":{"sand":{"percent":40}}}}`))
	f.Fuzz(func(t *testing.T, which uint8, request []byte) {
		answer, err := desk.New(imaging.PureGo{}).Ask(names[int(which)%len(names)], request)
		if err != nil {
			return
		}
		said, err := json.Marshal(answer)
		require.NoError(t, err)
		var drawn struct{ SVG string }
		if json.Unmarshal(said, &drawn) != nil || drawn.SVG == "" {
			return
		}
		for d := xml.NewDecoder(bytes.NewReader([]byte(drawn.SVG))); ; {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				return
			}
			require.NoError(t, err)
			if start, ok := token.(xml.StartElement); ok {
				require.NotEqual(t, "script", start.Name.Local)
			}
		}
	})
}

// FuzzPackJSON: what is packed opens again, with the names and no others.
func FuzzPackJSON(f *testing.F) {
	f.Add([]byte(asks["record"]), []byte(`{"version":1}`), "a_2h.jpg")
	f.Add([]byte(`{"name":"a: b # c"}`), []byte{}, "../a.jpg")
	photo := small(f)
	f.Fuzz(func(t *testing.T, rec, read []byte, name string) {
		data, err := desk.PackJSON(rec, read, []desk.NamedFile{{Name: name, Data: photo}})
		if err != nil {
			return
		}
		back, err := desk.ReadPack(data)
		if err != nil { // nothing in it, or nothing that is a photo
			require.ErrorContains(t, err, "holds neither photos nor")
			return
		}
		require.LessOrEqual(t, len(back.Photos), 1)
		for _, p := range back.Photos {
			require.Equal(t, name, p.Name)
		}
		if len(read) > 0 {
			require.Equal(t, read, back.Reading)
		}
	})
}
