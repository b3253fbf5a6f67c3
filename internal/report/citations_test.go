package report_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/advice"
	"mudline/internal/reading"
	"mudline/internal/words"
)

// The sources of a report stand in one list at its end; each number leads to one, and
// common practice is not named beside every statement.
func TestSourcesStandInOneList(t *testing.T) {
	in := inputOf(t, "open-11")
	m := meaningSample()
	m.Lines = append(m.Lines, reading.Statement{Topic: "water", Text: "A cited line.", Source: "a book"},
		reading.Tell("drainage", words.Then(words.Say("source.saxton-rawls"), words.Say("source.common-practice")), words.Say("advice.water-gently")))
	in.Result.Reading.Meaning, in.Cautions = m, advice.Cautions()
	text := page(t, in)
	lacks(t, text, "common practice</span>")
	body, list, ok := strings.Cut(text, `<ol class="sources">`)
	require.True(t, ok)
	list, _, _ = strings.Cut(list, "</ol>")
	sources := strings.Count(list, "<li>")
	assert.Greater(t, sources, 10)
	named := map[int]bool{}
	for _, span := range regexp.MustCompile(`class="source">\[([\d, ]+)\]`).FindAllStringSubmatch(body, -1) {
		for _, n := range strings.Split(span[1], ", ") {
			number, err := strconv.Atoi(n)
			require.NoError(t, err)
			named[number] = true
		}
	}
	for n := 11; n <= sources; n++ {
		assert.True(t, named[n], "nothing leads to source %d", n)
	}
	assert.Len(t, named, sources-10, "each number has its source")
	for _, source := range []string{"a book.", "Saxton", "Plumbing", "Legionella"} {
		assert.Equal(t, 1, strings.Count(list, source), source)
	}
}

// No source that a person reads is a newspaper, a trade magazine or the host of a copy, and
// none speaks of how it was come by.
func TestSourcesNameAuthorsOrInstitutions(t *testing.T) {
	unfit := regexp.MustCompile(`(?i)oregonian|magazine|caption|from memory|de memoria|de mémoire|\bcop(y|ies)\b|summary of|https?:|www\.`)
	for _, tag := range words.Tags() {
		data, err := words.File(tag)
		require.NoError(t, err)
		for _, line := range strings.Split(string(data), "\n") {
			if strings.Contains(line, `"source.`) || strings.Contains(line, `"report.source-`) || strings.Contains(line, `"classes-source.`) {
				assert.NotRegexp(t, unfit, line, tag)
			}
		}
	}
}
