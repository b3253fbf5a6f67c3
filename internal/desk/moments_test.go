package desk_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/desk"
)

// put asks a new desk and gives the answer as JSON.
func put(t *testing.T, question, request string) []byte {
	t.Helper()
	out, err := desk.New(imaging.PureGo{}).Ask(question, []byte(request))
	require.NoError(t, err)
	text, err := json.Marshal(out)
	require.NoError(t, err)
	return text
}

// Each photo's time comes from what is stated, its name, or the camera's clock
// against the moment of setting down; a photo without one keeps no other from
// its own.
func TestElapsedOfPhotosOneByOne(t *testing.T) {
	got := put(t, "elapsed", `{"record": {"shaken": "2026-05-30T10:21:28+01:00", "photos": {"a.jpg": {"elapsed": "2h 15s"}}},
		"photos": [{"file": "a.jpg"}, {"file": "plot_91s.jpg"}, {"file": "c.jpg", "taken": "2026-05-30T12:21:28+01:00"},
		{"file": "d.jpg"}, {"file": "e.jpg", "taken": "2026-05-29T12:21:28+01:00"}]}`)
	assert.JSONEq(t, `[{"elapsed_s": 7215, "from": "stated"}, {"elapsed_s": 91, "from": "name"}, {"elapsed_s": 7200, "from": "exif"},
		{"code": "no_time"}, {"code": "times_backwards"}]`, string(got))
}

// An independent reader finds the reminders where and when they were asked for.
func TestRemindersAreACalendar(t *testing.T) {
	var out struct{ ICS string }
	require.NoError(t, json.Unmarshal(put(t, "calendar", `{"start": "2026-06-05T11:38:20+02:00", "identity": "j1",
		"events": [{"due_s": 1800, "summary": "first", "description": "d"}, {"due_s": 259200, "summary": "last, at night", "description": "d"}]}`), &out))
	cal, err := ics.ParseCalendar(strings.NewReader(out.ICS))
	require.NoError(t, err)
	require.Len(t, cal.Events(), 2)
	for i, want := range []string{"2026-06-05T10:08:20Z", "2026-06-08T09:38:20Z"} {
		start, err := cal.Events()[i].GetStartAt()
		require.NoError(t, err)
		assert.Equal(t, want, start.UTC().Format(time.RFC3339))
		assert.Len(t, cal.Events()[i].Alarms(), i+1, "an early alarm only where there is time for one")
	}
	assert.Equal(t, "last, at night", cal.Events()[1].GetProperty(ics.ComponentPropertySummary).Value)

	_, err = desk.New(imaging.PureGo{}).Ask("calendar", []byte(`{"start": "2026-06-05 11:38"}`))
	assert.ErrorContains(t, err, "2026-06-05 11:38")
}

// Every crop that is offered is one that a record may name.
func TestCropsMayBeStated(t *testing.T) {
	var names [][2]string // as a record has it, and as a person says it
	require.NoError(t, json.Unmarshal(put(t, "crops", `{}`), &names))
	require.NotEmpty(t, names)
	for _, n := range names {
		assert.JSONEq(t, `{}`, string(put(t, "record", `{"crop": "`+n[0]+`"}`)), n[0])
		assert.NotEmpty(t, n[1])
	}
}
