package record_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/record"
)

// A box is one of the photo's pixels, whose first is 0,0, and has an inside. Each of
// its four sides is refused for itself.
func TestSidesOfABox(t *testing.T) {
	b, err := record.ParseBox("0,0,1,1")
	require.NoError(t, err)
	assert.Equal(t, &record.Box{X0: 0, Y0: 0, X1: 1, Y1: 1}, b)
	for _, bad := range []string{"-1,0,5,5", "0,-1,5,5", "5,0,5,9", "6,0,5,9", "0,5,9,5", "0,6,9,5"} {
		_, err := record.ParseBox(bad)
		assert.ErrorContains(t, err, "empty or outside", bad)
	}
	for _, bad := range []string{"1,2,NaN,4", "1,2,Inf,4", "1,2,x,4", "1,2,3", "1,2,3,4,5"} {
		_, err := record.ParseBox(bad)
		assert.ErrorContains(t, err, bad)
	}
	for _, bad := range []string{"[[1, 2], 3, 4, 5]", "[1, 2, {a: 3}, 4]"} {
		_, err := record.Parse(record.FileName, []byte("box: "+bad+"\n"))
		assert.ErrorContains(t, err, "four numbers", bad)
	}
}

func TestAMissingTimeIsNoMistakenOne(t *testing.T) {
	for _, nothing := range []string{"", "  "} {
		_, _, err := record.ParseElapsed(nothing)
		assert.ErrorContains(t, err, "a time is missing")
	}
	_, _, err := record.ParseElapsed("soon")
	assert.ErrorContains(t, err, "is not a time with a unit")
}

// How deep a record goes counts, not how many brackets it has in all.
func TestDeepIsNotLong(t *testing.T) {
	for name, text := range map[string]string{
		"lists": "name: " + strings.Repeat("[", 60), "lists with texts": "name: " + strings.Repeat("[a, ", 60), "maps": "name: " + strings.Repeat("{a: ", 60),
	} {
		_, err := record.Parse(record.FileName, []byte(text))
		assert.ErrorContains(t, err, "nested deeper", name)
	}
	long := "photos:\n"
	for i := range 120 {
		long += fmt.Sprintf("  jar_%dmin.jpg: {lines: {floor: %d px}, box: [1, 2, 3, 4]}\n", i+1, 100+i)
	}
	r, err := record.Parse(record.FileName, []byte(long))
	require.NoError(t, err)
	assert.Len(t, r.Photos, 120)
}

// A key with nothing to it is not written, wherever it stands.
func TestEmptyKeysAreNotWritten(t *testing.T) {
	written := func(of record.Tree) string {
		text, err := of.YAML(record.FileName)
		require.NoError(t, err)
		return string(text)
	}
	photo := func(stated map[string]any) map[string]any { return map[string]any{"a_2h.jpg": stated} }
	assert.Equal(t, written(record.Tree{"name": "a", "photos": photo(map[string]any{"elapsed": "2h"})}),
		written(record.Tree{"name": "a", "temp": nil, "hand": map[string]any{},
			"photos": photo(map[string]any{"elapsed": "2h", "box": nil, "lines": map[string]any{}})}))
}
