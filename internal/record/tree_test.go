package record_test

import (
	"encoding/json"
	"regexp"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/record"
)

const written = `# a comment
name: "Bed: 7 \"old\""
water-depth: 130 mm
temp: 20 C
box: [400, 300, 900, 1400]
photos:
  plot_2h.jpg:
    elapsed: 2h
    lines:
      sand-top: 24.2 mm
  "1 min #a.jpg": {elapsed: 61s}
  empty.jpg:
`

func TestTreeSaysWhatTheRecordSays(t *testing.T) {
	tree, err := record.ParseTree("jar.yaml", []byte(written))
	require.NoError(t, err)
	want, err := record.Parse("jar.yaml", []byte(written))
	require.NoError(t, err)
	text, err := tree.YAML("jar.yaml")
	require.NoError(t, err)
	got, err := record.Parse("jar.yaml", text)
	require.NoError(t, err)
	delete(want.Photos, "empty.jpg") // states nothing
	assert.Equal(t, want, got)
	assert.Equal(t, []any{"400", "300", "900", "1400"}, tree["box"])
}

// Whatever text a person types into a name, an independent YAML reader (the
// decoder of goccy/go-yaml) reads it back as it was, and so does JSON.
func TestAnyNameComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[ -~äöüßéñ漢字🌱]{1,40}`).Draw(t, "name")
		tree := record.Tree{"name": name, "water-depth": "130 mm"}
		asJSON, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		back, err := record.TreeFromJSON(asJSON)
		if err != nil {
			t.Fatal(err)
		}
		text, err := back.YAML("jar.yaml")
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		var other struct{ Name string }
		if err := yaml.Unmarshal(text, &other); err != nil {
			t.Fatal(err)
		}
		if other.Name != name {
			t.Fatalf("%q came back as %q", name, other.Name)
		}
	})
}

// A tree is read as the file is that is written of it, mistakes too.
func TestTreeIsReadAsItsFile(t *testing.T) {
	photo := func(k string, v any) record.Tree {
		return record.Tree{"photos": map[string]any{"a b.jpg": map[string]any{k: v}}}
	}
	for _, tree := range []record.Tree{
		{}, {"name": nil}, {"tmep": nil}, {"tmep": map[string]any{}}, {"name": " a\tb\nc "}, {"name": ""}, {"name": "null"}, {"water-depth": "5 1/8 in", "temp": "68 F", "crop": "Tomatoes"},
		{"box": []any{"1", "2", "3", "4"}}, {"photos": map[string]any{"a.jpg": map[string]any{"lines": map[string]any{"floor": nil}}}},
		{"hand": map[string]any{"ribbons": []any{"30 mm", "1 in"}, "ball": "firm"}}, {"hand": map[string]any{"ribbons": "none"}}, {"hand": map[string]any{}},
		photo("elapsed", "2h"), photo("lines", map[string]any{"sand-top": "24 mm", "haze-top": "none"}),
		{"water-depth": "9 mm"}, {"Xx": "red"}, {"tmep": "20 C"}, {"box": "5"}, {"box": []any{"1", "2", "3"}}, {"name": map[string]any{"a": "b"}}, {"name": []any{"a"}}, {"name": 3},
		{"hand": "good"}, {"hand": map[string]any{"ball": ""}}, {"hand": map[string]any{"ribbons": map[string]any{"a": "b"}}}, photo("elapsed", ""), photo("lines", "3 px"),
		photo("lines", map[string]any{"left": "9 px", "right": "3 px"}), photo("lines", map[string]any{"Xx": map[string]any{"a": map[string]any{"b": "c"}}}),
	} {
		got, gotErr := tree.Record(record.FileName)
		var want *record.Record
		text, wantErr := tree.YAML(record.FileName)
		if wantErr == nil {
			want, wantErr = record.Parse(record.FileName, text)
		}
		assert.Equal(t, want, got, "%v", tree)
		if wantErr == nil {
			assert.NoError(t, gotErr)
			continue
		}
		line := regexp.MustCompile(`:\d+:`)
		assert.EqualError(t, gotErr, line.ReplaceAllString(wantErr.Error(), ":"))
	}
}

func TestTreeRefusesWhatIsNoRecord(t *testing.T) {
	for _, text := range []string{`{"name": 3}`, `{"box": [1,2,3,4]}`, `{"water-depth": "900 mm"}`, `{"nonsense": "x"}`,
		`{"photos":{"a":{"lines":{"floor":{"x":{"y":{"z":"1"}}}}}}}`} {
		tree, err := record.TreeFromJSON([]byte(text))
		require.NoError(t, err, text)
		_, err = tree.Record("jar.yaml")
		assert.Error(t, err, text)
	}
	_, err := record.TreeFromJSON([]byte(`[1]`))
	assert.Error(t, err)
}
