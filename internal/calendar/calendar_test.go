package calendar_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/calendar"
)

var stamp = time.Date(2026, 6, 5, 9, 38, 20, 0, time.UTC)

// parse reads the calendar with an independent library.
func parse(t require.TestingT, text []byte) []*ics.VEvent {
	cal, err := ics.ParseCalendar(bytes.NewReader(text))
	require.NoError(t, err)
	return cal.Events()
}

func text(t require.TestingT, e *ics.VEvent, p ics.ComponentProperty) string {
	got := e.GetProperty(p)
	require.NotNil(t, got)
	return got.Value
}

func TestIndependentReaderFindsTheEvents(t *testing.T) {
	long := "Photograph the jar; keep it still, upright\nand lit from the side. " + strings.Repeat("Größe ", 30)
	out := calendar.Encode([]calendar.Event{
		{Start: stamp.Add(time.Minute), Length: time.Minute, Summary: "Plot 7: the sand is down", Description: long},
		{Start: time.Date(2026, 6, 7, 13, 0, 0, 0, time.FixedZone("", 7200)), Length: 10 * time.Minute, Summary: "clay", Early: []time.Duration{90 * time.Minute}},
	}, stamp, "abc")
	events := parse(t, out)
	require.Len(t, events, 2)
	start, err := events[0].GetStartAt()
	require.NoError(t, err)
	assert.True(t, start.Equal(stamp.Add(time.Minute)), start)
	end, err := events[0].GetEndAt()
	require.NoError(t, err)
	assert.Equal(t, time.Minute, end.Sub(start))
	assert.Equal(t, "Plot 7: the sand is down", text(t, events[0], ics.ComponentPropertySummary))
	assert.Equal(t, long, text(t, events[0], ics.ComponentPropertyDescription))
	start, err = events[1].GetStartAt()
	require.NoError(t, err)
	assert.Equal(t, "2026-06-07T11:00:00Z", start.UTC().Format(time.RFC3339))
	require.Len(t, events[1].Alarms(), 2)
	assert.Equal(t, "-PT1H30M", events[1].Alarms()[1].GetProperty(ics.ComponentPropertyTrigger).Value)
	assert.NotEqual(t, events[0].Id(), events[1].Id())
}

// RFC 5545 section 3.1: lines end with CRLF and hold at most 75 octets;
// section 3.6 asks for these properties.
func TestFormat(t *testing.T) {
	out := string(calendar.Encode([]calendar.Event{{Start: stamp, Summary: strings.Repeat("ü", 100)}}, stamp, "x"))
	for _, line := range strings.Split(strings.TrimSuffix(out, "\r\n"), "\r\n") {
		assert.LessOrEqual(t, len(line), 75)
		assert.NotContains(t, line, "\n")
		assert.True(t, strings.ToValidUTF8(line, "") == line, "a letter is cut in two")
	}
	for _, want := range []string{"VERSION:2.0", "PRODID:", "UID:x-1@mudline", "DTSTAMP:20260605T093820Z", "DTEND:20260605T093821Z"} {
		assert.Contains(t, out, want)
	}
}

func TestAnyTextComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.RuneFrom([]rune("aé,;:\\\"日\n "))).Draw(t, "text")
		events := parse(t, calendar.Encode([]calendar.Event{{Start: stamp, Summary: "s", Description: s}}, stamp, "x"))
		require.Len(t, events, 1)
		assert.Equal(t, s, text(t, events[0], ics.ComponentPropertyDescription))
	})
}

// The first value is the example of RFC 5545 section 3.3.6.
func TestAlarmsComeBefore(t *testing.T) {
	for want, early := range map[string]time.Duration{
		"-P15DT5H0M20S": 15*24*time.Hour + 5*time.Hour + 20*time.Second,
		"-PT15M":        15 * time.Minute,
		"-P7D":          7 * 24 * time.Hour,
		"-PT1H0M1S":     time.Hour + time.Second,
		"-PT30S":        30 * time.Second,
	} {
		events := parse(t, calendar.Encode([]calendar.Event{{Start: stamp, Summary: "s", Early: []time.Duration{early}}}, stamp, "x"))
		require.Len(t, events, 1)
		assert.Equal(t, want, events[0].Alarms()[1].GetProperty(ics.ComponentPropertyTrigger).Value)
	}
}
