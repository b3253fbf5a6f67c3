package imaging_test

import (
	"testing"

	"mudline/imaging"
	"mudline/imaging/enginetest"
)

func TestPureGo(t *testing.T) { enginetest.Run(t, imaging.PureGo{}) }
