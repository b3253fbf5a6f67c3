package record

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// starterHead begins a new jar.yaml. All lines but the name are commented out, so a
// starter states nothing that nobody wrote. What follows is that of each of Entries.
const starterHead = `# What you know about this jar. Remove the # before a line to state it.
# What you state here wins over what the program sees in the photos.

name: %s

`

const starterHand = `# What your hands find in a moist handful: mudline hand asks all of it and
# writes it here. Leave out what you did not try.
# hand:
#   hands: beginner             # or practised
#   stones-out: yes             # yes or no, so too the next two
#   moistened: yes
#   kneaded: yes
#   smell: earthy               # none, earthy, sour, rotten egg or fuel
#   colour-dry: light brown     # plain words, or as in 10YR 6/3
#   colour-moist: 10YR 3/3
#   grit: some                  # none, some or strong, so too the next two
#   smooth: some
#   sticky: none
#   ball: firm                  # none, weak or firm
#   failure: cracks             # falls apart, cracks or deforms
#   ribbons: [30 mm, 1 1/4 in]  # several if you can; none if none would form

`

// examplePhoto stands for the name of a photo in what the starter has of the photos.
const examplePhoto = "PHOTO"

const starterPhotos = `# What you know about single photos: the time since shaking (61s, 1min, 2h,
# 2d 3h), a box, and lines you place by hand: the row in pixels on the jar's
# front (of the water that of its upper edge on the glass), a height above the
# floor in mm, or none where there is no such line. Lines left out stay where
# the program sees them.
# photos:
#   PHOTO:
#     elapsed: 2h
#     box: [400, 300, 900, 1400]
#     lines:
#       left: 412 px
#       right: 905 px
#       floor: 1285 px
#       sand-top: 24.2 mm
#       silt-top: 31.0 mm
#       deposit-top: 1147 px
#       haze-top: none
#       water: 557 px
`

// Starter is the text of a commented jar.yaml for a jar of that name, with a
// photo's file name as the example.
func Starter(name, photo string) string {
	if photo == "" {
		photo = "plot_2h.jpg"
	}
	if !plainKey.MatchString(photo) {
		photo = quote(photo)
	}
	var b strings.Builder
	fmt.Fprintf(&b, starterHead, quote(name))
	for _, k := range byGroup() {
		b.WriteString(strings.Replace(k.Starter, examplePhoto, photo, 1))
	}
	return b.String()
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
