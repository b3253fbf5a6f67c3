package appearance

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/imaging/colour"
)

// straight is a jar 500 pixels of water deep and 200 wide, seen level: 5 radii of water.
var straight = imaging.Frame{Floor: imaging.Point{X: 300, Y: 700}, Water: imaging.Point{X: 300, Y: 200}, HalfWidthFloor: 100, HalfWidthWater: 100}

type rgb [3]uint8

var (
	room  = rgb{170, 175, 190}
	brown = rgb{110, 80, 55}
	lid   = rgb{190, 40, 45}
)

// painted is a picture by the place in it: u in half widths of the jar, h in shares of the
// depth.
func painted(of func(u, h float64) rgb) *image.RGBA {
	pic := image.NewRGBA(image.Rect(0, 0, 600, 800))
	for y := range 800 {
		for x := range 600 {
			c := of((float64(x)+0.5-300)/100, (700-float64(y)-0.5)/500)
			pic.SetRGBA(x, y, color.RGBA{c[0], c[1], c[2], 255})
		}
	}
	return pic
}

func light(c rgb) (l [3]float64) {
	for k, v := range c {
		l[k] = colour.LightOf(v)
	}
	return l
}

// jarOf is a jar of lower soil, water or mud, empty glass and a lid in a room.
func jarOf(soil, water, glass, cap rgb) *image.RGBA {
	return painted(func(u, h float64) rgb {
		switch {
		case math.Abs(u) > 1 || h < 0 || h > 1.22:
			return room
		case h > 1.12:
			return cap
		case h > 1:
			return glass
		case h > 0.2:
			return water
		}
		return soil
	})
}

// A jar is seen through where its water has the colours of the room beside it, also where
// those change from height to height; mud is not, and where nothing stands beside the jar
// nobody knows.
func TestSeenThrough(t *testing.T) {
	assert.True(t, SeenThrough(jarOf(brown, room, room, lid), straight))
	assert.False(t, SeenThrough(jarOf(brown, brown, room, lid), straight))
	stripes := func(h float64) rgb { return rgb{uint8(90 + 140*math.Abs(math.Sin(7*h))), 120, 130} }
	assert.True(t, SeenThrough(painted(func(_, h float64) rgb { return stripes(h) }), straight))
	oneSide := painted(func(u, h float64) rgb {
		if u > 1.1 {
			return lid // a book to the right
		}
		return stripes(h)
	})
	assert.True(t, SeenThrough(oneSide, straight), "one side is enough")
	third := painted(func(u, h float64) rgb {
		if math.Abs(u) < 1 && h > 0.62 { // less than half of the heights looked at
			return brown
		}
		return room
	})
	assert.True(t, SeenThrough(third, straight), "at most heights")
	wide := straight
	wide.HalfWidthFloor, wide.HalfWidthWater = 290, 290
	assert.False(t, SeenThrough(jarOf(brown, room, room, lid), wide), "it fills the picture")
}

// The middle of the glass is told by its median: no spot or highlight moves it.
func TestMiddleOfTheGlass(t *testing.T) {
	pic := painted(func(u, h float64) rgb {
		switch {
		case math.Abs(u) > 0.55:
			return room
		case u > 0.1 && u < 0.3:
			return rgb{255, 255, 255}
		case h > 0.3 && h < 0.5:
			return brown
		}
		return lid
	})
	got, ok := Middle(pic, straight, 0.31, 0.49)
	require.True(t, ok)
	assert.Equal(t, light(brown), got)
	got, ok = Middle(pic, straight, 0.51, 0.6)
	require.True(t, ok)
	assert.Equal(t, light(lid), got)
	_, ok = Middle(pic, straight, 2, 2.1)
	assert.False(t, ok, "above the picture")
}

// The front is the mean light of 0.8 half widths to either side of where it faces, held
// within 0.3 of the middle and 0.9 of the rim.
func TestFrontIsAMeanAboutWhereItFaces(t *testing.T) {
	dark, bright := rgb{60, 60, 60}, rgb{200, 200, 200}
	pic := painted(func(u, _ float64) rgb {
		if u < 0 {
			return dark
		}
		return bright
	})
	share := func(facing float64) float64 { // of the bright half
		got, blown, ok := Front(pic, straight, 0.3, 0.5, facing)
		require.True(t, ok)
		assert.False(t, blown)
		return (got[0] - light(dark)[0]) / (light(bright)[0] - light(dark)[0])
	}
	for facing, want := range map[float64]float64{0: 0.8 / 1.6, 0.2: 0.9 / 1.5, -0.2: 0.6 / 1.5, 0.3: 0.9 / 1.4, 2: 0.9 / 1.4, -2: 0.5 / 1.4} {
		assert.InDelta(t, want, share(facing), 0.035, "facing %g", facing)
	}
	_, blown, ok := Front(painted(func(_, _ float64) rgb { return rgb{253, 200, 200} }), straight, 0.3, 0.5, 0)
	assert.True(t, blown && ok)
	_, blown, ok = Front(painted(func(_, _ float64) rgb { return rgb{252, 252, 252} }), straight, 0.3, 0.5, 0)
	assert.True(t, !blown && ok)
	_, _, ok = Front(pic, straight, 2, 2.1, 0)
	assert.False(t, ok)
}

// Purple is not moved by a white balance that raises red and lowers blue by one factor,
// warm by twice its logarithm, neither by brightness (but for the stray light).
func TestTintsByTheirLogarithms(t *testing.T) {
	a := tintOf([3]float64{0.4, 0.3, 0.2})
	b := tintOf([3]float64{0.4 * 1.3, 0.3, 0.2 / 1.3})
	assert.InDelta(t, a.purple, b.purple, 0.01)
	assert.InDelta(t, a.warm+2*math.Log(1.3), b.warm, 0.02)
	c := tintOf([3]float64{0.8, 0.6, 0.4})
	assert.InDelta(t, a.purple, c.purple, 0.01)
	assert.InDelta(t, a.warm, c.warm, 0.01)
	assert.InDelta(t, math.Log(0.4*0.2/0.09), a.purple, 0.01)
	assert.Equal(t, tint{}, tintOf([3]float64{}), "black has none")

	// A difference that the light explains does not count, either way round.
	warm := tint{warm: 2 * warmSD}
	assert.InDelta(t, 2, tint{}.apart(warm, 0), 1e-12)
	assert.InDelta(t, 0, tint{}.apart(warm, 2*warmSD), 1e-12)
	assert.InDelta(t, 0, tint{}.apart(warm, 3*warmSD), 1e-12)
	assert.InDelta(t, 1, tint{}.apart(warm, warmSD), 1e-12)
	assert.InDelta(t, 2, tint{}.apart(warm, -warmSD), 1e-12, "light of the other kind explains none of it")
	assert.InDelta(t, 1, warm.apart(tint{}, -warmSD), 1e-12)
	assert.InDelta(t, 5, tint{purple: 3 * purpleSD}.apart(tint{warm: 4 * warmSD}, 0), 1e-12)
	l := Appearance{soil: warm, room: warm}
	what, _ := l.Unlike(Appearance{soil: tint{warm: -2 * warmSD}, room: tint{warm: -2 * warmSD}})
	assert.Equal(t, NoSign, what, "four spreads, all of them the light's")
	what, _ = l.Unlike(Appearance{soil: tint{warm: -2 * warmSD}, room: warm})
	assert.Equal(t, OtherSoil, what)
}

// What is painted comes back: soil, room, mud where there is mud, and the lid.
func TestAppearanceOfAPaintedJar(t *testing.T) {
	const radii = 5
	mud := rgb{140, 105, 70}
	near := func(want rgb, got tint) {
		w := tintOf(light(want))
		assert.InDelta(t, w.purple, got.purple, 1e-9)
		assert.InDelta(t, w.warm, got.warm, 1e-9)
	}
	l := Of(jarOf(brown, mud, room, lid), straight, radii, nil, true)
	near(brown, l.soil)
	near(room, l.room)
	if assert.NotNil(t, l.mud) {
		near(mud, *l.mud)
	}
	solid := 0
	for i, b := range l.lid {
		h := (radii + lidFrom + float64(i)*bandStep) / radii
		if b.solid {
			solid++
			assert.True(t, h > 1.11 && h < 1.23, "a band at %g", h)
			near(lid, b.colour)
		}
	}
	assert.InDelta(t, 0.10*radii/bandStep, solid, 2, "the lid is 0.1 of the depth high")

	assert.Nil(t, Of(jarOf(brown, mud, room, lid), straight, radii, nil, false).mud, "not asked for")
	assert.Nil(t, Of(jarOf(brown, room, room, lid), straight, radii, nil, true).mud, "clear water")
	uneven := painted(func(u, h float64) rgb {
		if math.Abs(u) < 1 && h < 1 {
			if h > 0.5 {
				return mud
			}
			return rgb{70, 45, 25}
		}
		return room
	})
	assert.Nil(t, Of(uneven, straight, radii, nil, true).mud, "not of one colour")

	// Another lamp, and the white that puts it right.
	gains := [3]float64{1.2, 1, 0.7}
	lit := Of(jarOf(brown, mud, room, lid), straight, radii, func(c [3]float64) [3]float64 {
		return [3]float64{c[0] * gains[0], c[1] * gains[1], c[2] * gains[2]}
	}, true)
	assert.InDelta(t, l.soil.warm+math.Log(1.2/0.7), lit.soil.warm, 0.05)

	// A lid of two colours from side to side, one as what is beside it, and none.
	for name, c := range map[string]func(u float64) rgb{
		"striped":       func(u float64) rgb { return map[bool]rgb{true: lid, false: {40, 60, 190}}[u < -0.2] },
		"like the wall": func(float64) rgb { return rgb{172, 176, 188} },
	} {
		pic := painted(func(u, h float64) rgb {
			if math.Abs(u) < 1 && h > 1.06 && h < 1.2 {
				return c(u)
			}
			return room
		})
		for _, b := range Of(pic, straight, radii, nil, false).lid {
			assert.False(t, b.solid, name)
		}
	}
}
