package chart

import (
	"strings"
	"unicode"
)

// advances are the widths of the letters from space to ~ in hundredths of their
// size, in the font of the PNG writer. The browser's own font is another one.
var advances = [...]uint8{
	27, 27, 35, 55, 55, 88, 66, 19, 33, 33, 58, 58, 31, 58, 31, 27, 55, 55, 55, 55, 55, 55, 55, 55, 55, 55, 30, 30, 58, 58, 58, 55,
	101, 66, 66, 72, 72, 66, 61, 77, 72, 39, 49, 66, 55, 83, 72, 77, 66, 77, 72, 66, 61, 72, 66, 94, 66, 66, 61, 27, 27, 27, 46, 55,
	33, 55, 55, 50, 55, 55, 27, 55, 55, 24, 25, 50, 26, 83, 55, 55, 55, 55, 33, 50, 28, 55, 50, 72, 50, 50, 50, 33, 25, 33, 58,
}

// roomy is how much wider a system font may run than the font of advances.
const roomy = 1.14

// heavy is how much wider bold letters run.
const heavy = 1.1

// widthOf estimates how wide a text runs. It need not embed a font for that.
func widthOf(words string, size float64) float64 {
	sum := 0
	for _, r := range words {
		switch {
		case r >= ' ' && r <= '~':
			sum += int(advances[r-' '])
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case r < 0x2000:
			sum += 60
		default: // signs, wide scripts, emoji
			sum += 110
		}
	}
	return roomy * size * float64(sum) / 100
}

// clean makes a text safe to draw on one line: no line breaks or control codes,
// and none of the codes that turn the direction of what follows.
func clean(words string) string {
	keep := func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == unicode.ReplacementChar:
			return -1
		}
		return r
	}
	return strings.Join(strings.Fields(strings.Map(keep, words)), " ")
}

// fit shortens a text until it is at most so wide, whole letters at a time: it
// parts no accent from its letter and no signs that are joined into one.
func fit(words string, size, width float64) string {
	words = clean(words)
	if widthOf(words, size) <= width {
		return words
	}
	runes := []rune(words)
	for n := len(runes) - 1; n > 0; n-- {
		if short := strings.TrimSpace(string(runes[:n])) + "…"; apart(runes[n-1], runes[n]) && widthOf(short, size) <= width {
			return short
		}
	}
	return "…"
}

// joiner makes one sign of two.
const joiner = 0x200d

// apart says whether a text may be cut between two runes.
func apart(a, b rune) bool { return a != joiner && !unicode.In(b, unicode.Mn, unicode.Me, unicode.Cf) }

// stacked breaks a name into lines of about that width, behind its hyphens too, and
// shortens none of its words.
func stacked(name string, size, width float64) []string {
	name = strings.ReplaceAll(clean(name), "-", "- ")
	for _, word := range strings.Fields(name) {
		width = max(width, widthOf(word, size))
	}
	lines := wrap(name, size, width)
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], "- ", "-")
	}
	return lines
}

// wrap breaks a text into lines of at most that width; a longer word stands on a
// line of its own, shortened.
func wrap(words string, size, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(clean(words)) {
		word = fit(word, size, width)
		next := strings.TrimSpace(line + " " + word)
		if line != "" && widthOf(next, size) > width {
			out = append(out, line)
			next = word
		}
		line = next
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
