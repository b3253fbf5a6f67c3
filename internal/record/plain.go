package record

import (
	"bytes"
	"regexp"
	"strings"
	"unicode/utf8"

	"mudline/internal/words"
)

// misnamed are names that people and editors give to a record by mistake.
var misnamed = regexp.MustCompile(`(?i)^(.+\.)?jar\.(ya?ml(\.txt)?|txt)$`)

// Misnamed says whether a file looks like a record, but is not called as one: only
// jar.yaml and NAME.jar.yaml are read.
func Misnamed(name string) bool {
	return misnamed.MatchString(name) && name != FileName && !strings.HasSuffix(name, "."+FileName)
}

// plainText is a record without the byte order mark that some editors put before it. One
// in UTF-16 is refused with what to do (The Unicode Standard, 23.8, byte order mark).
func plainText(file string, data []byte) ([]byte, error) {
	for _, mark := range []string{"\xff\xfe", "\xfe\xff"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return nil, inFile(file, 0, words.Told("why", words.Say("record.utf16")))
		}
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	switch at := bytes.IndexByte(data, 0); {
	case at == 0 || at == 1: // a Latin letter in two bytes, without the mark before it
		return nil, inFile(file, 0, words.Told("why", words.Say("record.utf16")))
	case at > 0:
		return nil, inFile(file, 1+bytes.Count(data[:at], []byte("\n")), words.Told("why", words.Say("record.no-text")))
	case !utf8.Valid(data):
		return nil, inFile(file, firstWrongLine(data), words.Told("why", words.Say("record.not-utf8")))
	}
	return data, nil
}

// firstWrongLine is the line, from 1, that is not UTF-8.
func firstWrongLine(data []byte) int {
	for i, line := range bytes.Split(data, []byte("\n")) {
		if !utf8.Valid(line) {
			return i + 1
		}
	}
	return 0
}

// nearest is the name that is meant where one is misspelt by a letter or two, or two
// letters changed places, or is written shorter or longer; "" if none is near.
func nearest(given string, names []string) string {
	given = strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(given))
	best, far := "", 3
	for _, n := range names {
		if d := apart(given, n); d < far && d < len(n)/2 {
			best, far = n, d
		}
	}
	if best != "" {
		return best
	}
	for _, n := range names {
		if short := min(len(n), len(given)); short >= 4 && n[:short] == given[:short] {
			return n
		}
	}
	return ""
}

// apart is how many letters to add, take away, change or swap with their neighbour make
// one word of the other (Damerau's distance, in its restricted form).
func apart(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}
