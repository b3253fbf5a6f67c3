//go:build opencv

// Package engine gives the image engine the program was built with: pure Go,
// or OpenCV with the build tag opencv.
package engine

import (
	"mudline/imaging"
	"mudline/imaging/opencv"
)

// Default is the image engine this program was built with.
func Default() imaging.Engine { return opencv.Engine{} }
