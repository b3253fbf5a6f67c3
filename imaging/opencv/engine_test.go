//go:build opencv

package opencv_test

import (
	"testing"

	"mudline/imaging/enginetest"
	"mudline/imaging/opencv"
)

func TestOpenCV(t *testing.T) { enginetest.Run(t, opencv.Engine{}) }
