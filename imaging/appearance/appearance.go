// Package appearance reads colours off a jar whose place in a photo is known: whether
// two photos show one jar, whether it is seen through, what colour its layers have.
package appearance

import (
	"image"
	"math"
	"slices"

	"mudline/imaging"
	"mudline/imaging/colour"
)

// Whether all photos show one jar is judged by what neither time nor light
// changes much: the colour of the lowest soil, which lies there from the first
// minute on, of the mud and of the lid. Different light is the usual case, so
// only what is plain is refused: a mud or a lid of another colour, or two signs
// together. Where the lowest soil alone differs, as it may in hard sun or where
// coarse grains lie before dark gaps, a person is told and the photos are read.
// Two jars of like soil and like lids are not told apart: a line that does not
// fit is reported later all the same.

// tint is a colour without its brightness, as natural logarithms of ratios of
// linear light. Purple, ln(R B/G^2), hardly changes with the light, which
// varies from yellow to blue: a white balance that raises red by a factor and
// lowers blue by the same leaves it alone. Warm, ln(R/B), does change.
type tint struct{ purple, warm float64 }

// The spread of tints of one soil between photos. On rendered jars purple
// differed by 0.05 in the median and 0.24 at most between photos of one jar,
// warm by 0.11 and 0.68, much of it explained by the light on what stands
// beside the jar; the worst by far was hard sun against shade.
const (
	purpleSD = 0.11
	warmSD   = 0.40
	// farTints is from which distance, in these spreads, two tints differ, and
	// plainTints from which they are plainly of different things: between photos
	// of one rendered jar (39 jars) the soil differed by 4.2 at most, the mud by
	// 2.0, the lid by 0.4.
	farTints   = 3.0
	plainTints = 4.0
	plainSoil  = 4.5
)

// apart is the distance of two tints in the spreads of one thing's tint. light
// is how much warmer the light of o is than that of t, if it is that: a
// difference it would explain does not count.
func (t tint) apart(o tint, light float64) float64 {
	warm := o.warm - t.warm
	between := min(max(warm, min(light, 0)), max(light, 0)) // what light explains
	return math.Hypot((t.purple-o.purple)/purpleSD, (warm-between)/warmSD)
}

// mostLight is the most by which warm may change with the light.
const mostLight = 1.4

// Appearance is what tells one jar from another in one photo.
type Appearance struct {
	soil tint
	room tint   // beside the jar
	mud  *tint  // nil where the water is not plainly muddy
	lid  []band // by height above the water, see lidFrom
}

// band is the colour across the jar at one height.
type band struct {
	colour tint
	solid  bool // one colour from side to side, and another than beside the jar
}

// Heights in outer radii of the glass: where the lowest soil is sampled, above
// the floor, and where a lid is looked for, above the water.
const (
	soilFrom, soilTo = 0.04, 0.12
	lidFrom, lidTo   = 0.15, 1.20
	bandStep         = 0.04
	lidBands         = 5 // so many in a row make a lid
)

// Of reads the appearance of a jar off an upright picture. waterRadii is the height
// of the water line in outer radii of the glass, at the frame's height 1. white turns the
// linear light of a pixel into that under a white lamp; nil where nothing tells. With
// muddy the water is looked at for mud.
func Of(pic *image.RGBA, frame imaging.Frame, waterRadii float64, white func([3]float64) [3]float64, muddy bool) Appearance {
	v := front{pic: pic, frame: frame, scale: 1 / waterRadii, white: white}
	l := Appearance{soil: tintOf(v.mean(soilFrom, soilTo)), room: tintOf(v.beside())}
	if muddy {
		l.mud = v.mud(waterRadii)
	}
	for r := waterRadii + lidFrom; r < waterRadii+lidTo; r += bandStep {
		l.lid = append(l.lid, v.band(r))
	}
	return l
}

// Sign is what shows that two photos may be of two jars.
type Sign int

// The signs, the one that is named first first.
const (
	NoSign Sign = iota
	OtherSoil
	OtherMud
	OtherLid
)

// Unlike gives the first sign that two appearances may be of two jars, and whether it
// is plain that they are.
func (l Appearance) Unlike(o Appearance) (what Sign, plain bool) {
	light := min(max(o.room.warm-l.room.warm, -mostLight), mostLight)
	signs := 0
	add := func(apart, plainly float64, sign Sign) {
		if apart > farTints {
			signs++
			plain = plain || apart > plainly
			if what == NoSign {
				what = sign
			}
		}
	}
	add(l.soil.apart(o.soil, light), plainSoil, OtherSoil)
	if l.mud != nil && o.mud != nil {
		add(l.mud.apart(*o.mud, light), plainTints, OtherMud)
	}
	add(l.lidApart(o, light), farTints, OtherLid)
	return what, plain || signs > 1
}

// lidApart is how far the lids of two appearances are apart at least over lidBands
// bands in a row; 0 where no lid is seen in both.
func (l Appearance) lidApart(o Appearance, light float64) (most float64) {
	for i := 0; i+lidBands <= min(len(l.lid), len(o.lid)); i++ {
		least := math.Inf(1)
		for j := i; j < i+lidBands; j++ {
			a, b := l.lid[j], o.lid[j]
			if !a.solid || !b.solid {
				least = 0
				break
			}
			least = min(least, a.colour.apart(b.colour, light))
		}
		most = max(most, least)
	}
	return most
}

// front reads colours off the front of a jar. Heights are in outer radii.
type front struct {
	pic   *image.RGBA
	frame imaging.Frame
	scale float64                     // heights of the frame to one radius
	white func([3]float64) [3]float64 // nil: colours as photographed
}

// across gives the linear light at n places between u0 and u1 at height r, and
// false where part of it lies outside the picture.
func (v front) across(r, u0, u1 float64, n int) ([][3]float64, bool) {
	h := r * v.scale
	if 1+v.frame.Keystone()*h < 0.3 {
		return nil, false
	}
	out := make([][3]float64, 0, n)
	for i := range n {
		p := v.frame.At(u0+(u1-u0)*(float64(i)+0.5)/float64(n), h)
		at := image.Pt(int(math.Floor(p.X)), int(math.Floor(p.Y)))
		if !at.In(v.pic.Rect) {
			return nil, false
		}
		c := v.pic.RGBAAt(at.X, at.Y)
		light := [3]float64{colour.LightOf(c.R), colour.LightOf(c.G), colour.LightOf(c.B)}
		if v.white != nil {
			light = v.white(light)
		}
		out = append(out, light)
	}
	return out, true
}

// median is the median of each channel.
func median(v [][3]float64) (m [3]float64) {
	one := make([]float64, len(v))
	for k := range 3 {
		for i := range v {
			one[i] = v[i][k]
		}
		slices.Sort(one)
		m[k] = one[len(one)/2]
	}
	return m
}

// mean is the mean over heights of the medians across the front.
func (v front) mean(from, to float64) (m [3]float64) {
	n := 0.0
	for r := from; r <= to; r += bandStep / 4 {
		if row, ok := v.across(r, -0.7, 0.7, 21); ok {
			c := median(row)
			for k := range 3 {
				m[k] += c[k]
			}
			n++
		}
	}
	for k := range 3 {
		m[k] /= max(n, 1)
	}
	return m
}

// beside is the median of what stands beside the jar.
func (v front) beside() [3]float64 {
	var all [][3]float64
	for h := 0.1; h < 1.2; h += 0.05 {
		for _, u := range []float64{-2.2, 1.25} {
			if row, ok := v.across(h/v.scale, u, u+0.95, 15); ok {
				all = append(all, row...)
			}
		}
	}
	if len(all) == 0 {
		return [3]float64{}
	}
	return median(all)
}

// Muddy water is of one colour from low to high, and another than what is seen
// through the empty glass above it, or quite another than what stands beside the
// jar. CIELAB units.
const (
	mudEven        = 12.0 // the horizon of the room, mirrored in the glass, makes up to 9
	mudStand       = 12.0
	mudStandBeside = 18.0
)

// mud is the tint of the water, nil where it is not plainly muddy. Its upper
// part, which clears first, is left out.
func (v front) mud(water float64) *tint {
	deep := v.mean(0.45*water, 0.70*water)
	for _, z := range []float64{0.40, 0.55, 0.70} {
		if distance(v.mean(z*water, (z+0.05)*water), deep) > mudEven {
			return nil
		}
	}
	if distance(v.mean(1.04*water, 1.10*water), deep) < mudStand && distance(v.beside(), deep) < mudStandBeside {
		return nil
	}
	t := tintOf(deep)
	return &t
}

// How much a lid may vary from side to side, and must differ from what is seen
// beside it, in CIELAB units.
const (
	lidEven  = 1.0
	lidStand = 14.0
)

// band looks at one height for a lid.
func (v front) band(r float64) (b band) {
	row, ok := v.across(r, -0.7, 0.7, 21)
	left, okLeft := v.across(r, -1.7, -1.3, 5)
	right, okRight := v.across(r, 1.3, 1.7, 5)
	if !ok || !okLeft || !okRight {
		return b
	}
	mid := median(row)
	b.colour = tintOf(mid)
	even := b.colour.apart(tintOf(median(row[:7])), 0) < lidEven && b.colour.apart(tintOf(median(row[14:])), 0) < lidEven
	b.solid = even && distance(median(left), mid) > lidStand && distance(median(right), mid) > lidStand
	return b
}

// distance is the CIELAB distance (CIE76) of two colours in linear light.
func distance(a, b [3]float64) float64 { return colour.Distance(lab(a), lab(b)) }

// lab is linear light as CIELAB.
func lab(c [3]float64) [3]float64 {
	l, a, b := colour.Lab(float32(colour.Level(c[0])), float32(colour.Level(c[1])), float32(colour.Level(c[2])))
	return [3]float64{float64(l), float64(a), float64(b)}
}

// tintOf is the tint of linear light. Black has none: it counts as grey.
func tintOf(c [3]float64) tint {
	const haze = 0.004 // of stray light, keeps the dark from having any tint at all
	r, g, b := math.Log(c[0]+haze), math.Log(c[1]+haze), math.Log(c[2]+haze)
	return tint{r + b - 2*g, r - b}
}
