package sheetmark

import "math"

// What is known of a camera beforehand: the spread of the focal length, as a natural
// logarithm, where the file tells it and where it does not, of the distortion, and of
// where the axis meets the picture, as shares of its diagonal: near the middle, unless
// the picture was cropped. The 35 mm equivalent is rounded and means the diagonal with
// some makers and the long side with others (4 % apart at 4:3); telephones' main lenses
// lie about 26 mm. spreadSD is by how many pixels ink may look wider than it is, by
// blur and by the printer.
const (
	statedFocalSD = 0.03
	unknownFocal  = 0.35
	distortionSD  = 0.015
	axisSD        = 0.006
	croppedSD     = 0.15
	spreadSD      = 1.0
)

// Lens is what is known of the camera beforehand.
type Lens struct {
	// Focal is the likely focal length in pixels.
	Focal float64
	// Stated says whether the photo's file tells it.
	Stated bool
	// Mid is the middle of the picture, and Cropped that the axis may meet it elsewhere.
	Mid     Point
	Cropped bool
}

// axisSD is how far from Mid the axis may meet the picture, in pixels.
func (l Lens) axisSD() float64 {
	share := axisSD
	if l.Cropped {
		share = croppedSD
	}
	return share * 2 * math.Hypot(l.Mid.X, l.Mid.Y)
}

// focalSD is how far the focal length may be from Focal, as a natural logarithm.
func (l Lens) focalSD() float64 {
	if l.Stated && !l.Cropped { // what the file tells is of the whole picture
		return statedFocalSD
	}
	return unknownFocal
}

// LensOf is what a photo's file tells of its lens: focal35MM is the focal length in
// terms of 35 mm film, by the diagonal (CIPA DC-008), 0 if unknown; width and height
// are of the picture.
func LensOf(focal35MM float64, width, height int) Lens {
	const film, usual = 43.267, 26.0
	l := Lens{Mid: Point{float64(width) / 2, float64(height) / 2}, Stated: focal35MM >= 10}
	if !l.Stated {
		focal35MM = usual
	}
	l.Focal = focal35MM / film * math.Hypot(float64(width), float64(height))
	return l
}
