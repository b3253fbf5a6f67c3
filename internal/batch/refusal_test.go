package batch

import (
	"encoding/json"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/sorting"
	"mudline/internal/words"
)

// A batch has no options for one jar: what is to be stated goes into its record.
// The remedies are those of record and jar, by their own code where that can be had.
func TestRemediesNameTheRecord(t *testing.T) {
	root := tree(t, map[string]string{"a b/IMG_1.jpg": "", "plot7_spring.jpg": "", "x.jpg": "", "x.jar.yaml": "photos:\n  x.jpg: {}\n"})
	p := find(t, root)
	where := map[string]string{"a b/": "write it into a b/jar.yaml", "plot7_spring": "write it into plot7_spring.jar.yaml", "x": "write it into x.jar.yaml"}
	require.Len(t, p.Jars, len(where))
	for i := range p.Jars {
		j := &p.Jars[i]
		problems := p.Outline(j).Problems
		last := problems[len(problems)-1]
		assert.Equal(t, reading.NoTime, last.Code)
		assert.NotContains(t, last.Remedy, "--", j.ID)
		assert.Contains(t, last.Remedy, ": {elapsed: 2h}}")
		assert.True(t, strings.HasSuffix(last.Remedy, where[j.ID]), last.Remedy)
	}
	j := &Jar{ID: "jar 1", Why: sorting.ByLooks, Photos: []string{"a 1.jpg", "b.jpg"}}
	again := words.Say("batch.copy-again")
	assert.Equal(t, again.String(), j.remedied(reading.Refuse("code", again, again)).Remedy, "nothing to state")
	no := j.remedied(reading.Refuse(reading.NoJar, again, again))
	assert.Equal(t, "move a photo of something else to another folder; or copy the photo again", no.Remedy)
	assert.Equal(t, no.Remedy, english.Say(no.Help()), "in every language")
}

// What is told to be written into a record, between quotation marks, can be read.
func TestRemediesCanBeWritten(t *testing.T) {
	data, err := words.File("en")
	require.NoError(t, err)
	var all map[string]any
	require.NoError(t, json.Unmarshal(data, &all))
	hole, told := regexp.MustCompile(`\{(\w+)\}`), regexp.MustCompile(`"([a-z-]+: [^"]*)"`)
	value := map[string]string{"key": "'a, 1.jpg'", "line": "deposit-top"}
	for key, text := range all {
		if _, ok := text.(string); !ok || !strings.HasSuffix(key, "@"+string(words.Batch)) {
			continue
		}
		filled := hole.ReplaceAllStringFunc(text.(string), func(h string) string {
			if v, ok := value[strings.Trim(h, "{}")]; ok {
				return v
			}
			return h
		})
		for _, m := range told.FindAllStringSubmatch(filled, -1) {
			yaml := strings.NewReplacer("...", "30", "x0", "1", "y0", "2", "x1", "3", "y1", "4").Replace(m[1])
			_, err := record.Parse(filepath.Join("a", record.FileName), []byte(yaml+"\n"))
			assert.NoError(t, err, "%s: %s", key, yaml)
		}
	}
}
