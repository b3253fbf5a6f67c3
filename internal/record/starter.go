package record

import (
	"fmt"
	"regexp"
	"strings"
)

// starterHead explains every key that holds for the whole jar. All lines but
// the name are commented out, so a starter states nothing that nobody wrote.
const starterHead = `# What you know about this jar. Remove the # before a line to state it.
# What you state here wins over what the program sees in the photos.

name: %s

# From the jar's inner floor to the water surface, in mm or inches.
# Measure it: percentages come without it, but less surely.
# water-depth: 130 mm
# water-depth: 5 1/8 in

# Only where a printed sheet stands behind the jar: how long its line of 100 mm is
# on paper. Left out, it is taken as 100 mm.
# sheet-line: 97 mm

# The water's temperature. Left out, 20 C is assumed.
# temp: 20 C
# temp: 68 F

# When you set the jar down after shaking: needed where the time of a photo
# comes from the camera's clock and not from its name. Seconds help.
# shaken: 2026-06-05 11:38:20
# shaken: 2026-06-05T11:38:20+02:00

# How you prepared the jar; each makes the percentages surer. Whether you put in
# powdered dishwasher detergent, for how long you shook, what the dry soil
# weighed, and whether stones were picked out (else their share of the weight).
# dispersant: yes
# shaken-for: 10 min
# dry-soil: 250 g
# stones: out
# stones: 8 %%

# Class system: usda, canadian, england-wales, international, australian,
# german or european. Each has its own limit between silt and sand.
# system: usda

# What your hands find in a moist handful: mudline hand asks all of it and
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

# What the answers for watering are reckoned with, and organic matter the
# percentages too: in percent by weight; what grows there, how deep it roots, and how much water it uses a day.
# organic-matter: 3 %%
# crop: tomato
# rooting-depth: 300 mm
# daily-use: 5 mm

# A box round the jar in every photo, if the jar is not found by itself:
# left, top, right, bottom in pixels of the upright full-size photo.
# box: [400, 300, 900, 1400]

`

const starterPhotos = `# What you know about single photos: the time since shaking (61s, 1min, 2h,
# 2d 3h), a box, and lines you place by hand: the row in pixels on the jar's
# front (of the water that of its upper edge on the glass), a height above the
# floor in mm, or none where there is no such line. Lines left out stay where
# the program sees them.
# photos:
#   %s:
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
	return fmt.Sprintf(starterHead, quote(name)) + fmt.Sprintf(starterPhotos, photo)
}

// plainKey is a file name that needs no quotes in YAML.
var plainKey = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_.-]*$`)

// Key writes a file's name as a key of jar.yaml, to be shown to a person.
func Key(file string) string {
	if shownKey.MatchString(file) {
		return file
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
