package record

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
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

# The water's temperature. Left out, 20 C is assumed.
# temp: 20 C
# temp: 68 F

# When you set the jar down after shaking: needed where the time of a photo
# comes from the camera's clock and not from its name. Seconds help.
# shaken: 2026-06-05 11:38:20
# shaken: 2026-06-05T11:38:20+02:00

# Class system: usda, canadian or international.
# system: usda

# A box round the jar in every photo, if the jar is not found by itself:
# left, top, right, bottom in pixels of the upright full-size photo.
# box: [400, 300, 900, 1400]

`

const starterPhotos = `# What you know about single photos: the time since shaking (61s, 1min, 2h,
# 2d 3h), a box, and lines you place by hand: the row in pixels on the jar's
# front, or a height above the floor in mm.
# photos:
#   %s:
#     elapsed: 2h
#     box: [400, 300, 900, 1400]
#     lines:
#       floor: 1285 px
#       sand-top: 24.2 mm
#       silt-top: 31.0 mm
#       deposit-top: 1147 px
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

// quote writes a YAML string that no reader takes for anything else.
func quote(s string) string {
	r := strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", " ", "\r", " ", "\t", " ")
	return `"` + r.Replace(s) + `"`
}

// ErrExists says that a record is there already; it is never overwritten.
var ErrExists = errors.New("there already; it was not touched")

// WriteStarter writes a commented jar.yaml into a folder that exists and gives
// its path. It appears whole or not at all, and never replaces a file.
func WriteStarter(folder, name, photo string) (path string, err error) {
	path = filepath.Join(folder, FileName)
	if _, err := os.Lstat(path); err == nil {
		return "", fmt.Errorf("%s is %w", path, ErrExists)
	}
	tmp, err := os.CreateTemp(folder, ".jar-*.yaml")
	if err != nil {
		return "", fmt.Errorf("cannot write into %s: %w", folder, err)
	}
	defer os.Remove(tmp.Name())
	_, err = tmp.WriteString(Starter(name, photo))
	if err = errors.Join(err, tmp.Chmod(0o644), tmp.Sync(), tmp.Close()); err != nil {
		return "", fmt.Errorf("cannot write %s: %w", path, err)
	}
	// A hard link, unlike a rename, fails where the name is taken meanwhile.
	if err := os.Link(tmp.Name(), path); errors.Is(err, fs.ErrExist) {
		return "", fmt.Errorf("%s is %w", path, ErrExists)
	} else if err == nil {
		return path, nil
	}
	// Some memory cards know no links.
	if err := os.Rename(tmp.Name(), path); err != nil {
		return "", fmt.Errorf("cannot write %s: %w", path, err)
	}
	return path, nil
}
