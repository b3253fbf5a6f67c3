package batch

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// maxFolderBytes is the longest name of a folder, well below the 255 bytes that
// file systems allow.
const maxFolderBytes = 100

// reserved are names that Windows keeps for devices, with or without extension.
var reserved = map[string]bool{"con": true, "prn": true, "aux": true, "nul": true, "conin$": true, "conout$": true}

func init() {
	for _, digit := range []string{"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "¹", "²", "³"} {
		reserved["com"+digit], reserved["lpt"+digit] = true, true
	}
}

// names hands out names of folders, each once.
type names struct{ used map[string]bool }

func newNames() *names {
	n := &names{map[string]bool{}}
	for _, own := range []string{csvName, jsonlName, indexName, manifestName(whole)} {
		n.used[folded(own)] = true
	}
	return n
}

// folder gives the safe name, with a number where it was given before. Names
// that differ in case only are one on some file systems.
func (n *names) folder(name string) string {
	safe := safeName(name)
	for k := 1; ; k++ {
		try := safe
		if k > 1 {
			try = fmt.Sprintf("%s-%d", safe, k)
		}
		if key := folded(try); !n.used[key] {
			n.used[key] = true
			return try
		}
	}
}

func folded(s string) string { return strings.ToLower(strings.ToUpper(norm.NFC.String(s))) }

// safeName makes of a jar's name one that every file system takes: no
// separators or signs with a meaning, no control or direction marks, no point or
// blank at its ends, no device of Windows. A long name is cut, and a mark of the
// whole name put behind it.
func safeName(name string) string {
	s := strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError || unicode.Is(unicode.Cf, r) && r != '\u200d': // the joiner within emoji stays
			return -1
		case unicode.IsControl(r) || strings.ContainsRune(`<>:"/\|?*`, r):
			return '-'
		case unicode.IsSpace(r):
			return ' '
		}
		return r
	}, norm.NFC.String(name))
	s = strings.Join(strings.Fields(s), " ")
	s = strings.TrimRight(strings.TrimLeft(s, ". -~=+@\u200d"), ". ")
	if len(s) > maxFolderBytes {
		sum := sha256.Sum256([]byte(name))
		cut := maxFolderBytes
		for !utf8.RuneStart(s[cut]) {
			cut--
		}
		s = strings.TrimRight(s[:cut], ". \u200d") + "~" + hex.EncodeToString(sum[:4])
	}
	if s == "" {
		s = "jar"
	}
	if before, _, _ := strings.Cut(strings.ToLower(s), "."); reserved[strings.TrimRight(before, " ")] || strings.HasPrefix(strings.ToLower(s), "shard-") {
		s = "jar " + s
	}
	return s
}
