package words

import (
	"fmt"
	"runtime"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Shell is a name in a command that a person is told to type: quoted where the shell would
// take it for something else.
func Shell(name, text string) Arg { return Arg{name, Text(ForShell(text))} }

// ShellPath is Shell for a file or folder that stands by itself in a command: one whose
// name begins with a dash would be taken for an option.
func ShellPath(name, path string) Arg {
	if strings.HasPrefix(path, "-") {
		path = "./" + path
	}
	return Shell(name, path)
}

// ForShell quotes a word for the shell of this system, where it must be quoted.
func ForShell(word string) string { return quoteFor(word, runtime.GOOS == "windows") }

// plainInShell are the signs beside letters and digits that mean nothing to a shell.
const plainInShell = "_-+=:,./@%"

// quoteFor quotes by the rules of POSIX (IEEE 1003.1, Shell Command Language, 2.2), with
// $'...' of its edition of 2024 where signs cannot be shown; on Windows in double quotes,
// which no name there holds.
func quoteFor(word string, windows bool) string {
	plain, hidden := word != "", false
	for _, r := range word {
		letter := unicode.IsLetter(r) || unicode.IsMark(r) || unicode.IsDigit(r)
		plain = plain && (letter || strings.ContainsRune(plainInShell, r) || windows && r == '\\')
		hidden = hidden || r == utf8.RuneError || !unicode.IsGraphic(r)
	}
	switch {
	case plain && !hidden:
		return word
	case windows:
		return `"` + word + `"`
	case !hidden:
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	var b strings.Builder
	for i := 0; i < len(word); {
		r, n := utf8.DecodeRuneInString(word[i:])
		switch {
		case r == '\'' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == utf8.RuneError || !unicode.IsGraphic(r):
			for _, c := range []byte(word[i : i+n]) {
				fmt.Fprintf(&b, `\%03o`, c)
			}
		default:
			b.WriteRune(r)
		}
		i += n
	}
	return "$'" + b.String() + "'"
}
