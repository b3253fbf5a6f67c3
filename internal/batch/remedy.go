package batch

import (
	"fmt"
	"regexp"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/record"
)

// Options of mudline read as remedies name them, and the same as a record has it.
// A batch has no options for a single jar.
var (
	shakenOption  = regexp.MustCompile(`--shaken "([^"]*)"`)
	elapsedOption = regexp.MustCompile(`--elapsed (.+?)=(\d\w*)`)
	boxOption     = regexp.MustCompile(`--box (\w+),(\w+),(\w+),(\w+)`)
	linesOption   = regexp.MustCompile(`--line (.+?):floor=\.\.\.px --line .+?:water=\.\.\.px`)
	lineOption    = regexp.MustCompile(`--line (.+?):([a-z-]+)=\.\.\.px`)
	plainFile     = regexp.MustCompile(`^[\pL\d._-]+$`)
)

// remedied gives a refusal whose remedy fits a jar of a batch: it names the
// jar's record where mudline read would name an option.
func (j *Jar) remedied(no *reading.Refusal) *reading.Refusal {
	text := shakenOption.ReplaceAllString(no.Remedy, `"shaken: $1"`)
	text = withFile(elapsedOption, text, func(m []string) string {
		return fmt.Sprintf(`"photos: {%s: {elapsed: %s}}"`, yamlName(m[1]), m[2])
	})
	text = boxOption.ReplaceAllString(text, `"box: [$1, $2, $3, $4]"`)
	text = withFile(linesOption, text, func(m []string) string {
		return fmt.Sprintf(`"photos: {%s: {lines: {floor: ... px, water: ... px}}}"`, yamlName(m[1]))
	})
	text = withFile(lineOption, text, func(m []string) string {
		return fmt.Sprintf(`"photos: {%s: {lines: {%s: ... px}}}"`, yamlName(m[1]), m[2])
	})
	if text != no.Remedy {
		text += "; " + j.whereToState()
	}
	if no.Code == reading.NoJar && len(j.Photos) > 1 {
		text = "move a photo of something else to another folder; or " + text
	}
	return &reading.Refusal{Code: no.Code, Text: no.Text, Remedy: text}
}

func withFile(pattern *regexp.Regexp, text string, say func(match []string) string) string {
	return pattern.ReplaceAllStringFunc(text, func(s string) string { return say(pattern.FindStringSubmatch(s)) })
}

func yamlName(file string) string {
	if plainFile.MatchString(file) {
		return file
	}
	return "'" + strings.ReplaceAll(file, "'", "''") + "'"
}

// whereToState says which record is the jar's own.
func (j *Jar) whereToState() string {
	own := j.ID + ownRecord
	switch {
	case strings.HasSuffix(j.ID, "/"):
		own = j.ID + record.FileName
	case j.Why == whyRounds || j.Why == whyLikeness:
		return "put the photos of this jar in a folder of its own, and write it into a " + record.FileName + " there"
	case len(j.Records) > 0 && j.Why == whyListed+j.Records[0]:
		own = j.Records[0]
	}
	return "write it into " + own
}
