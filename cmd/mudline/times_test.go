package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTimesSaysWhen(t *testing.T) {
	r := command(t, nil, "times", "--water-depth", "5 1/8 in", "--temp", "68F", "--fill", "1/5")
	require.Equal(t, statusOK, r.status, r.err)
	for _, want := range []string{"5.125 in deep", "68 °F", "1/5 of that depth", "sand  ", "silt  ", "clay  ", "Photograph it after", "How much soil"} {
		assert.Contains(t, r.out, want)
	}
}

// The reminders are read back with an independent library.
func TestTimesCalendar(t *testing.T) {
	file := filepath.Join(t.TempDir(), "reminders.ics")
	r := command(t, nil, "times", "--water-depth", "130", "--photos", "4", "--shaken", "2026-06-05T11:38:20+02:00", "--name", "Plot 7, by the brook", "--calendar", file)
	require.Equal(t, statusOK, r.status, r.err)
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	cal, err := ics.ParseCalendar(f)
	require.NoError(t, err)
	require.Len(t, cal.Events(), 4)
	shaken := time.Date(2026, 6, 5, 9, 38, 20, 0, time.UTC)
	last := shaken
	for _, e := range cal.Events() {
		start, err := e.GetStartAt()
		require.NoError(t, err)
		assert.True(t, start.After(last), "%s after %s", start, last)
		last = start
		assert.Contains(t, e.GetProperty(ics.ComponentPropertySummary).Value, "Plot 7, by the brook")
	}
	assert.Less(t, last.Sub(shaken), 60*24*time.Hour)
}

// Nothing but the options need be known.
func TestTimesOfAnyJar(t *testing.T) {
	r := command(t, nil, "times")
	require.Equal(t, statusOK, r.status, r.err)
	assert.Contains(t, r.out, "125 mm deep (assumed) at room temperature (assumed)")
	assert.Empty(t, r.err)
}

func TestTimesMistakes(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--water-depth", "-1"}, "outside 20 to 400 mm"},
		{[]string{"--temp", "300C"}, "outside 0 to 45 C"},
		{[]string{"--fill", "1/5", "--soil", "20mm"}, "say the same"},
		{[]string{"--fill", "two"}, "is not a share"},
		{[]string{"--fill", "1/0"}, "is not a share"},
		{[]string{"--fill", "90%"}, "outside 2 to 60 %"},
		{[]string{"--soil", "1 mm"}, "--soil 1 mm: 1 % of the water depth is outside 2 to 60 %"},
		{[]string{"--soil=-3mm", "--water-depth", "100mm"}, "here that is 2 to 60 mm"},
		{[]string{"--photos", "two"}, "--photos cannot be \"two\""},
		{[]string{"--photos", "0"}, "outside 1 to 6"},
		{[]string{"--film", "--photos", "300"}, "outside 8 to 200"},
		{[]string{"--shaken", "noon"}, "is not a date and time"},
		{[]string{"--calendar", dir}, "is not an ordinary file"},
		{[]string{"--calendar", filepath.Join(dir, "a", "b.ics")}, "cannot write"},
		{[]string{"extra"}, "options only"},
	} {
		r := command(t, nil, append([]string{"times"}, c.args...)...)
		assert.Equal(t, statusInput, r.status, c.args)
		assert.Contains(t, r.err, c.want)
		assert.Empty(t, r.out, c.args)
	}
	assert.Empty(t, names(t, dir))
}

func TestParseShare(t *testing.T) {
	for in, want := range map[string]float64{"1/5": 0.2, "20%": 0.2, "0.2": 0.2, " 1 / 4 ": 0.25, "12.5 %": 0.125} {
		got, err := parseShare(in)
		require.NoError(t, err, in)
		assert.InDelta(t, want, got, 1e-12, in)
	}
	for _, bad := range []string{"", "NaN", "-1/5", "120%", "1/-5", "1/2/3"} {
		_, err := parseShare(bad)
		assert.Error(t, err, bad)
	}
}
