package reading_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/reading"
	"mudline/texture"
)

func TestNamed(t *testing.T) {
	class := func(first float64, others ...float64) reading.Class {
		c := reading.Class{System: "usda", Name: "loam", Probability: first}
		for i, p := range others {
			c.Others = append(c.Others, reading.OtherClass{Name: []string{"silt loam", "clay loam", "clay"}[i], Probability: p})
		}
		return c
	}
	for _, c := range []struct {
		class    reading.Class
		names    []string
		together float64
	}{
		{class(0.95, 0.05), []string{"loam"}, 0.95},
		{class(0.67, 0.33), []string{"loam"}, 0.67},
		{class(0.66, 0.34), []string{"loam", "silt loam"}, 1},
		{class(0.4, 0.2, 0.2, 0.2), []string{"loam", "silt loam", "clay loam"}, 0.8},
		{class(0.2, 0.2, 0.2, 0.2), []string{"loam", "silt loam", "clay loam"}, 0.6}, // never more than three
		{class(0.5), []string{"loam"}, 0.5},
	} {
		names, together := c.class.Named()
		assert.Equal(t, c.names, names)
		assert.InDelta(t, c.together, together, 1e-9)
	}
}

// A reading may be by any of the systems there are.
func TestSystemsAreThoseOfTexture(t *testing.T) {
	for _, name := range texture.SystemNames() {
		r := plausible()
		r.System, r.Class.System, r.Hand.Joint.Class.System = name, name, name
		_, err := reading.Decode(encoded(t, r))
		assert.NoError(t, err, name)
	}
}
