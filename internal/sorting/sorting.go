// Package sorting tells which photos are of which jar where no folder and no name does: by
// the printed sheet behind the jar, by the rounds in which the photos were taken, and by
// their looks. It knows of pictures and times alone, so that a page can use it too.
package sorting

import (
	"regexp"
	"strings"
	"time"

	"mudline/imaging"
	"mudline/internal/words"
)

// Shot is a photo with what may tell its jar; the picture itself is not kept.
type Shot struct {
	// Path names the photo.
	Path string
	// Taken is the camera's clock; zero when unknown.
	Taken time.Time
	look  *look    // nil where the picture cannot be opened
	sheet *printed // the sheet behind the jar; nil without one
}

// ShotOf looks at an open photo.
func ShotOf(path string, p *imaging.Photo) Shot {
	l := lookOf(p.Picture)
	return Shot{Path: path, Taken: p.Taken, look: &l, sheet: sheetIn(p)}
}

// Group is the photos of one jar.
type Group struct {
	// Why says what they were put together by.
	Why words.Message `json:"why"`
	// Name is that of the jar; empty where nothing tells it.
	Name   string   `json:"name,omitempty"`
	Photos []string `json:"photos"`
}

// Left is a photo in no group, and why; Nearest is a grouped one that it resembles, if any.
type Left struct {
	Path    string
	Said    words.Message
	Nearest string
}

// Sorted is how photos are sorted; Notes say what else was found.
type Sorted struct {
	Groups []Group
	Left   []Left
	Notes  []words.Message
}

// ByRounds and ByLooks say that jars were told apart without names.
var (
	ByRounds = words.Say("sorting.rounds")
	ByLooks  = words.Say("sorting.looks")
)

// Sort sorts photos into jars. What nothing tells for sure is left: a wrong photo among a
// jar's would give a wrong reading.
func Sort(shots []Shot) (out Sorted) {
	out.Groups, shots, out.Notes = sheetGroups(shots)
	in := map[int]bool{}
	for _, c := range clusters(shots) {
		g := Group{Why: c.why}
		for _, m := range c.members {
			g.Photos = append(g.Photos, shots[m].Path)
			in[m] = true
		}
		out.Groups = append(out.Groups, g)
	}
	for i := range shots {
		if !in[i] {
			out.Left = append(out.Left, left(shots, i, in))
		}
	}
	return out
}

// left says of a photo why it is in no group.
func left(shots []Shot, i int, in map[int]bool) Left {
	l := Left{Path: shots[i].Path, Said: words.Say("sorting.unsorted")}
	if shots[i].Taken.IsZero() {
		l.Said = words.Say("sorting.unsorted-untimed")
	}
	nearest := float64(oneJar)
	for k := range shots {
		if !in[k] {
			continue
		}
		if d := shots[i].look.apart(shots[k].look); d < nearest {
			nearest, l.Nearest = d, shots[k].Path
		}
	}
	return l
}

// letterNumber is a number that stands apart from the word before it.
var letterNumber = regexp.MustCompile(`(\pL) ([0-9])`)

// Key is the same for names of jars that differ in case or separators only: plot7, Plot-7
// and "plot 7".
func Key(name string) string {
	parts := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" _-", r) })
	return letterNumber.ReplaceAllString(strings.Join(parts, " "), "$1$2")
}
