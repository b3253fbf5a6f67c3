package batch

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/internal/record"
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
	j := &Jar{ID: "jar 1", Why: whyLikeness, Photos: []string{"a 1.jpg", "b.jpg"}}
	for remedy, want := range map[string]string{
		`--shaken "2026-06-05 11:38"`:                          `"shaken: 2026-06-05 11:38"`,
		"--elapsed a 1.jpg=2h":                                 `"photos: {'a 1.jpg': {elapsed: 2h}}"`,
		"--box x0,y0,x1,y1":                                    `"box: [x0, y0, x1, y1]"`,
		"--line b.jpg:deposit-top=...px":                       `"photos: {b.jpg: {lines: {deposit-top: ... px}}}"`,
		"--line b.jpg:floor=...px --line b.jpg:water=...px":    `"photos: {b.jpg: {lines: {floor: ... px, water: ... px}}}"`,
		"copy the photo from the phone again, as the original": "",
	} {
		got := j.remedied(&reading.Refusal{Code: "code", Text: "text", Remedy: remedy})
		if want == "" {
			assert.Equal(t, remedy, got.Remedy, "nothing to state")
			continue
		}
		assert.Equal(t, want+"; put the photos of this jar in a folder of its own, and write it into a jar.yaml there", got.Remedy)
		text := strings.NewReplacer("...", "7", "x0", "1", "y0", "2", "x1", "3", "y1", "4", `"`, "").Replace(want)
		_, err := record.Parse(filepath.Join("a", record.FileName), []byte(text+"\n"))
		assert.NoError(t, err, "what is told to be written can be read: %s", text)
	}
	no := j.remedied(&reading.Refusal{Code: reading.NoJar, Remedy: "take it again"})
	assert.Equal(t, "move a photo of something else to another folder; or take it again", no.Remedy)
}
