package main

import (
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/term"
)

// terminal is what is printed on its way to a terminal, if there is one. Names of files and
// texts of other people's records may hold signs that steer a terminal: control signs
// other than the end of a line and the tab, and those that turn the direction of writing.
// They are spelt out here, as JSON spells them, so that JSON stays what it was.
type terminal struct {
	to   io.Writer
	used bool   // something was written
	rest []byte // the beginning of a letter whose end comes with the next piece
}

func (s *terminal) Write(p []byte) (int, error) {
	s.used = s.used || len(p) > 0
	text := append(s.rest, p...)
	s.rest = nil
	var b strings.Builder
	for len(text) > 0 {
		if !utf8.FullRune(text) || len(text) == 1 && text[0] == '\r' {
			s.rest = append(s.rest, text...)
			break
		}
		r, n := utf8.DecodeRune(text)
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, text[0])
		case r == '\r' && text[1] == '\n': // the end of a line in CSV
			b.WriteRune(r)
		case r != '\n' && r != '\t' && steers(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
		text = text[n:]
	}
	if _, err := io.WriteString(s.to, b.String()); err != nil {
		return 0, err
	}
	return len(p), nil
}

// steers says whether a sign steers a terminal instead of being shown.
func steers(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029'
}

// raw is what is behind it: for pictures, and for what asks the terminal itself.
func raw(w io.Writer) io.Writer {
	if s, ok := w.(*terminal); ok {
		s.used = true
		return s.to
	}
	return w
}

// fewestColumns is the narrowest terminal that tables are made to fit.
const fewestColumns = 60

// columnsOf is how many letters a line of the terminal has that something is printed on;
// 0 where it goes into a file or another program. COLUMNS says it where that is set.
func columnsOf(w io.Writer) int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return max(n, fewestColumns)
	}
	if s, ok := w.(*terminal); ok {
		w = s.to
	}
	if f, ok := w.(*os.File); ok {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 0 {
			return max(n, fewestColumns)
		}
	}
	return 0
}
