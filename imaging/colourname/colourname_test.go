package colourname_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging/colour"
	"mudline/imaging/colourname"
)

// Centroids of the ISCC-NBS colour names in the range of soils, as sRGB (Kelly & Judd,
// Color: Universal Language and Dictionary of Names, National Bureau of Standards Special
// Publication 440, 1976; the values from memory). Their 'moderate', 'strong' and 'deep'
// are how vivid a colour is, which is not said here.
var centroids = []struct{ hex, name string }{
	{"79443b", "reddish brown"}, {"3e1d1e", "dark reddish brown"}, {"a87c6d", "light reddish brown"},
	{"674c47", "greyish reddish brown"}, {"43302e", "dark greyish reddish brown"}, {"977f73", "light greyish reddish brown"},
	{"80461b", "brown"}, {"6f4e37", "brown"}, {"422518", "dark brown"}, {"a67b5b", "light brown"},
	{"635147", "greyish brown"}, {"3e322c", "dark greyish brown"}, {"958070", "light greyish brown"},
	{"8e8279", "light brownish grey"}, {"5b504f", "brownish grey"}, {"28201c", "black"},
	{"996515", "yellowish brown"}, {"826644", "yellowish brown"}, {"4b3621", "dark yellowish brown"}, {"c19a6b", "light yellowish brown"},
	{"7e6d5a", "greyish yellowish brown"}, {"483c32", "dark greyish yellowish brown"}, {"ae9b82", "light greyish yellowish brown"},
	{"967117", "olive brown"}, {"6c541e", "olive brown"}, {"3b3121", "dark olive brown"},
	{"665d1e", "olive"}, {"5b5842", "greyish olive"}, {"57554c", "olive grey"}, {"8a8776", "light olive grey"},
	{"222222", "black"}, {"555555", "dark grey"}, {"848482", "grey"}, {"b9b8b5", "light grey"}, {"f2f3f4", "white"},
	{"722f37", "dark red"},
}

func TestNamesOfPublishedCentroids(t *testing.T) {
	for _, c := range centroids {
		assert.Equal(t, c.name, named(t, c.hex), c.hex)
	}
}

// Other centroids of the same dictionary, outside the range of browns: the hue that is named
// there, whatever is said of how light it is. What it calls yellow is 'brownish yellow' of a
// soil, and is light without being called so.
func TestHuesOfPublishedCentroids(t *testing.T) {
	for hex, hue := range map[string]string{
		"536878": "greyish blue", "436b95": "blue", "b4bcc0": "bluish grey", "81878b": "bluish grey", "51585e": "bluish grey",
		"3b7861": "green", "7d8984": "greenish grey", "b2beb5": "greenish grey", "4e5755": "greenish grey",
		"5c504f": "reddish grey", "543d3f": "greyish red", "ab4e52": "red", "841b2d": "red",
		"867e36": "olive", "363527": "greyish olive", "e3a857": "brownish yellow",
		"25241d": "black", "1e2321": "black", "202428": "black", "282022": "black",
	} {
		assert.Contains(t, named(t, hex), hue, hex)
	}
	for _, yellow := range []string{"c9ae5d", "ab9144", "a18f60"} {
		assert.Equal(t, "brownish yellow", named(t, yellow), yellow)
	}
}

// named is the name of an sRGB colour.
func named(t *testing.T, hex string) string {
	var r, g, b uint8
	_, err := fmt.Sscanf(hex, "%02x%02x%02x", &r, &g, &b)
	require.NoError(t, err)
	x, y, z := colour.Lab(float32(r), float32(g), float32(b))
	return colourname.Of([3]float64{float64(x), float64(y), float64(z)}).String()
}
