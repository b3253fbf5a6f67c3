package page_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// Jars in odd states: each has a card of its own that says how it stands, and a
// view that shows a next step.
func TestJarsInOddStates(t *testing.T) {
	s := open(t, phone)
	photo, err := os.ReadFile(photosOf(t, sample("plot-07-by-the-brook"))[0])
	require.NoError(t, err)
	type odd struct {
		name       string
		daysAgo    float64 // since it was set down; 0 where that is not known
		photos     map[string][]byte
		home, next string // words
	}
	bad := []byte("no picture at all")
	jars := []odd{
		{"long ago, without photos", 90, nil, "jar-old", "jar-old-how"},
		{"unreadable only", 0, map[string][]byte{"a_2h.jpg": bad}, "home-bad-photo", "set-down-now"},
		{"unreadable only, set down", 1, map[string][]byte{"a_2h.jpg": bad}, "home-bad-photo", "jar-take"},
		{"twins", 0, map[string][]byte{"a_2h.jpg": photo, "b_2h.jpg": photo}, "jar-twins", "jar-twins-how"},
		{"twins, set down", 1, map[string][]byte{"a_2h.jpg": photo, "b_2h.jpg": photo}, "jar-twins", "jar-twins-how"},
		{"without a time", 1, map[string][]byte{"a.jpg": photo}, "", "photo-when"},
		{"in the future", -1, nil, "", "jar-choose"},
	}
	for _, j := range jars {
		photos, err := json.Marshal(j.photos) // bytes as base64
		require.NoError(t, err)
		browsertest.Eval[any](s.Page, fmt.Sprintf(`Promise.all([import("/js/store.js"), import("/js/plan.js")]).then(async ([store, plan]) => {
			const photos = Object.entries(%s || {}).map(([name, text]) => ({ name, blob: new Blob([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], { type: "image/jpeg" }) }));
			const record = { name: %q };
			if (%g) record.shaken = plan.stamp(new Date(Date.now() - %g * 864e5));
			await store.create(record, photos);
			return null;
		})`, photos, j.name, j.daysAgo, j.daysAgo))
	}
	ids := map[string]string{}
	for _, j := range s.jars() {
		ids[j.Record["name"].(string)] = j.ID
	}
	for _, j := range jars { // its photos are looked at where the jar is opened
		s.visit("/jar/" + ids[j.name])
		s.Wait(j.name+" shows "+j.next, fmt.Sprintf("!document.querySelector('.line .spin') && document.querySelector('#view').innerText.includes(%q)", s.word(j.next)))
	}
	s.visit("/")
	for _, j := range jars {
		text := fmt.Sprintf("[...document.querySelectorAll('.jar-card')].find((c) => c.innerText.includes(%q + '\\n'))?.innerText", j.name)
		s.Wait(j.name+" is told", fmt.Sprintf("(%s)?.trim().split('\\n').length > 1 && !(%s).includes(%q)", text, text, s.word("home-looking")))
		got := browsertest.Eval[string](s.Page, text)
		assert.NotContains(t, got, s.word("home-fault"), j.name)
		if j.home != "" {
			assert.Contains(t, got, s.word(j.home, "n", len(j.photos)), j.name)
		}
	}
	if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "phone-odd.png"), s.Screenshot(), 0o644))
	}
	s.clean()
}
