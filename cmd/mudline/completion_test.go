package main

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// offered is what the shell is offered behind the words of a command line.
func offered(t *testing.T, args ...string) []string {
	t.Helper()
	r := command(t, nil, append([]string{"__complete"}, args...)...)
	require.Equal(t, statusOK, r.status, r.err)
	return strings.Split(r.out, "\n")
}

func TestCompletionOfValues(t *testing.T) {
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"read", "x", "--language", ""}, []string{"en", "es", "fr"}},
		{[]string{"times", "--language", ""}, []string{"fr"}},
		{[]string{"read", "x", "--system", ""}, []string{"usda", "german"}},
		{[]string{"classify", "--system", "eng"}, []string{"england-wales"}},
		{[]string{"read", "x", "--chart", ""}, []string{"triangle", "film"}},
		{[]string{"read", "x", "--format", ""}, []string{"csv", "svg"}},
		{[]string{"sheet", "--format", ""}, []string{"pdf"}},
		{[]string{"read", "x", "--crop", "tom"}, []string{"tomato"}},
		{[]string{"hand", "x", "--ball", ""}, []string{"none", "weak", "firm"}},
		{[]string{"read", "x", "--hand", "grit"}, []string{"grit=some"}},
		{[]string{"compare", "x", "--sort", ""}, []string{"clay"}},
		{[]string{"read", "x", "--dispersant", ""}, []string{"yes", "no"}},
	} {
		assert.Subset(t, offered(t, c.args...), c.want, "%v", c.args)
	}
	assert.Contains(t, offered(t, "times", ""), ":4", "no files")
	assert.Contains(t, offered(t, "read", ""), ":0", "files")
}

func TestTimesAsJSON(t *testing.T) {
	var got timesDocument
	r := command(t, nil, "times", "--water-depth", "130mm", "--temp", "18C", "--shaken", "2026-06-05T11:38:00Z", "--json", "--language", "fr")
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	assert.Equal(t, "stated stated", got.DepthFrom+" "+got.TempFrom)
	assert.InDelta(t, 18, *got.TempC, 0)
	require.Len(t, got.Photos, 3)
	assert.Equal(t, photoMoment{60, "2026-06-05T11:39:00Z"}, got.Photos[0])
	require.Len(t, got.Down, 3)
	// By Stokes's law quartz of 50 um falls 2.1 mm/s in water of 18 C (1.053 mPa s), so
	// 130 mm take a minute; in a crowd of grains somewhat more.
	assert.InDelta(t, 70, got.Down[0].UsuallyS, 30)
	assert.Less(t, got.Down[0].EarlyS, got.Down[0].LateS)
	require.NotNil(t, got.Soil)

	var film struct{ Photos []photoMoment }
	r = command(t, nil, "times", "--film", "--photos", "8", "--json")
	require.NoError(t, json.Unmarshal([]byte(r.out), &film), r.out)
	assert.Len(t, film.Photos, 8)
	assert.Empty(t, film.Photos[0].At)
	assert.Contains(t, failureIn(t, command(t, nil, "times", "--json", "--photos", "99")).Text, "99")
}
