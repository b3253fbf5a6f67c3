package words

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func table(t *testing.T, width int, rows ...string) string {
	var b bytes.Buffer
	c := NewColumns(&b, width)
	for _, r := range rows {
		fmt.Fprintln(c, r)
	}
	require.NoError(t, c.Flush())
	return b.String()
}

func TestColumns(t *testing.T) {
	rows := []string{"Photo\tTime\tTop of the soil", "plot-7-by-the-brook_1min.jpg\t1 min\t12.3 +- 0.4 mm", "b.jpg\t2 d\t-"}
	assert.Equal(t, "Photo                          Time    Top of the soil\n"+
		"plot-7-by-the-brook_1min.jpg   1 min   12.3 +- 0.4 mm\nb.jpg                          2 d     -\n", table(t, 0, rows...))
	assert.Equal(t, table(t, 0, rows...), table(t, 60, rows...), "it fits")
	assert.Equal(t, "Photo              Time   Top of the soil\nplot-7-by-the-bro  1 min  12.3 +- 0.4 mm\nok_1min.jpg\nb.jpg              2 d    -\n", table(t, 41, rows...))
	assert.Equal(t, "  set in   9\n", table(t, 60, "  set in\t9"))
	assert.Equal(t, "a  one two\n   three\n   four\n", table(t, 10, "a\tone two three four"))
}

// However narrow, nothing is lost, and no line is wider than asked for where that can be.
func TestColumnsLoseNothing(t *testing.T) {
	rows := []string{"ä\tdreißig Zeichen lang, mit Worten\tx\t1234567890123456789012345678901234567890", "b\tc\td\te", "f"}
	bare := func(s string) string { return strings.Join(strings.Fields(s), "") }
	for width := 1; width < 100; width++ {
		text := table(t, width, rows...)
		for _, line := range strings.Split(text, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), max(width, 22), "%d: %s", width, text)
		}
		assert.Len(t, []rune(bare(text)), len([]rune(bare(strings.Join(rows, "")))), "%d: %s", width, text)
	}
}
