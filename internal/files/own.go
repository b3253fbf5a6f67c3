package files

import (
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// marks are what the beginning and the end of a file hold that this program wrote, by
// extension.
var marks = map[string]*regexp.Regexp{
	".html": regexp.MustCompile(`name="generator" content="mudline"`),
	".ics":  regexp.MustCompile(`PRODID:-//mudline//`),
	".json": regexp.MustCompile(`^\s*\{\s*"version":`),
	".csv":  regexp.MustCompile("^(?:\ufeff)?jar,"),
	".svg":  regexp.MustCompile(`^<svg [^>]*class="(?:chart|sheet)"`),
	".png":  regexp.MustCompile(`IHDR(?s:.){13,25}tEXtSoftware\x00mudline`),
	".apng": regexp.MustCompile(`IHDR(?s:.){13,25}tEXtSoftware\x00mudline`),
	".pdf":  regexp.MustCompile(`^%PDF-(?s:.)*/Producer \(mudline\)`),
}

// headBytes and tailBytes are how much of a file is looked at for its mark: its beginning
// and its end, where a PDF says who made it.
const headBytes, tailBytes = 4096, 64 << 10

// Foreign says that there is a file at a path that this program did not write, so that it
// must not be replaced unless a person says so: a photo, a record, whatever lacks the mark
// of its kind. A file that cannot be looked into counts as foreign; a folder is no file.
func Foreign(path string) bool {
	info, err := os.Stat(path)
	if err != nil {
		return false // nothing is there, or nothing that could be written over
	}
	if !info.Mode().IsRegular() {
		return false // nothing is written over it: whoever writes says so
	}
	lower := strings.ToLower(path)
	for _, suffix := range drawn {
		if strings.HasSuffix(lower, suffix) {
			return false
		}
	}
	f, err := os.Open(path)
	if err != nil {
		return true
	}
	defer f.Close()
	seen, err := io.ReadAll(io.NewSectionReader(f, 0, headBytes))
	if err != nil {
		return true
	}
	end, err := io.ReadAll(io.NewSectionReader(f, max(headBytes, info.Size()-tailBytes), tailBytes))
	if err != nil {
		return true
	}
	seen = append(seen, end...)
	for ext, mark := range marks {
		if (ext == filepath.Ext(lower) || marks[filepath.Ext(lower)] == nil) && mark.Match(seen) {
			return false
		}
	}
	return len(seen) > 0 // of an empty file nothing is lost
}
