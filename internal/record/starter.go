package record

import (
	"embed"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"mudline/internal/words"
)

// starters are the texts of a new jar.yaml by language. All lines but the name are
// commented out, so a starter states nothing that nobody wrote.
//
//go:embed starter
var starters embed.FS

// What stands in a starter for the jar's name and for the name of a photo.
const (
	ownName      = "NAME"
	examplePhoto = "PHOTO"
)

// Starter is the text of a commented jar.yaml for a jar of that name, with a photo's file
// name as the example. Its keys and values are the same in every language.
func Starter(l *words.Language, name, photo string) string {
	if photo == "" {
		photo = "plot_2h.jpg"
	}
	if !plainKey.MatchString(photo) {
		photo = quote(photo)
	}
	text, err := starters.ReadFile("starter/" + l.Tag() + ".yaml")
	if err != nil {
		panic(err) // built in
	}
	return strings.NewReplacer(ownName, quote(name), examplePhoto, photo).Replace(string(text))
}

// plainKey is a file name that needs no quotes in YAML.
var plainKey = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_.-]*$`)

// Key writes a file's name as a key of jar.yaml, to be shown to a person.
func Key(file string) string {
	if shownKey.MatchString(file) {
		return file
	}
	if strings.ContainsFunc(file, func(r rune) bool { return !unicode.IsGraphic(r) }) {
		return strconv.Quote(file) // YAML reads its escapes
	}
	return "'" + strings.ReplaceAll(file, "'", "''") + "'"
}

// shownKey is a file name that this program reads as a key without quotes.
var shownKey = regexp.MustCompile(`^[\pL\d._-]+$`)

// quote writes a YAML string that no reader takes for anything else.
func quote(s string) string {
	r := strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", " ", "\r", " ", "\t", " ")
	return `"` + r.Replace(s) + `"`
}
