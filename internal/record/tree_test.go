package record_test

import (
	"encoding/json"
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
