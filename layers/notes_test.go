package layers

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Tables and pictures show two standard deviations; a note on the same line must too.
func TestAFaintTopIsToldAsInTheTable(t *testing.T) {
	notes := NotesOn(Reading{DepositTop: &Boundary{HeightMM: 45, SDMM: 1.8}}, Depth{MM: 130}, false)
	require.Equal(t, NoteFaintTop, notes[0].Code)
	assert.Contains(t, notes[0].Text.String(), "45.0 mm, give or take 3.6 mm")
}
