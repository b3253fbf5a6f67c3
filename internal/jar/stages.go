package jar

import (
	"image"

	"mudline/imaging"
	"mudline/imaging/jarfind"
	"mudline/imaging/sheetmark"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/layers"
)

// A photo goes through the pipeline in stages, each a type of its own that holds those
// before it: Opened, timed, located, framed, seen, shot. What a stage holds is whole once
// it is made, and no later one changes it.

// source is what every stage knows of a photo.
type source struct {
	file   string
	photo  *imaging.Photo
	sheets []*sheetmark.Sheet // those seen in the photo
	marks  int                // of sheets, as many as were read
}

// Opened is one photo decoded and looked at: the costly part of a reading. A
// front end keeps it while what is stated of the jar changes.
type Opened struct {
	source
	box      image.Rectangle // drawn round the jar, in working pixels; empty for none
	sighting *jarfind.Sighting
}

// timed is a photo whose time since shaking is known.
type timed struct {
	*Opened
	elapsed record.Elapsed
}

// located is a photo in which the jar was found. It lets go of the sighting, whose
// pictures are no longer needed.
type located struct {
	source
	elapsed record.Elapsed
	found   *jarfind.Placement // as the picture shows it
}

// framed is a photo whose jar stands in the frame that heights are told in.
type framed struct {
	located
	back   *sheetBehind       // the sheet behind the jar; nil for none
	place  *jarfind.Placement // with what was stated
	frame  imaging.Frame      // working pixels, height 1 at the water surface
	stated []layers.Line      // lines a person placed in this photo
}

// seen is a photo whose layers were looked for.
type seen struct {
	framed
	shown   shown // lines as the picture shows them
	outline outline
}

// shot is a photo read: its lines with what was stated of them.
type shot struct {
	seen
	layers  layers.Reading
	gaveWay []words.Message // lines found that contradict stated ones
}
