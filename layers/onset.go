package layers

import "math"

// onsetShare is how much of the whole change counts as its beginning. Cameras
// store colour at half the resolution of lightness, which smears it a little
// upwards, so the very first trace is not taken.
const onsetShare = 0.15

// onsetReach is how thick a film can hide in the change, as a share of the
// water depth; a thicker one makes a line of its own.
const onsetReach = 0.018

// onset looks for where the change that culminates in line l begins, coming
// from above: the first level from which on the colour stays away from that of
// the mud.
func (p *photo) onset(l *line) (float64, bool) {
	h := p.s.Water.MM
	ch := p.k.changeFrom(l.z+0.045*h, l.z+0.02*h, l.z+0.045*h, l.z-0.03*h, 0.002*h, p.buf)
	var sd [3]float64
	n := 0
	for i, z := range ch.z {
		if z < l.z+onsetReach*h {
			break
		}
		n++
		for c := range 3 {
			sd[c] += sq(ch.v[i][c])
		}
	}
	if n < 4 {
		return 0, false
	}
	end := ch.v[len(ch.v)-1]
	full := 0.0
	for c := range 3 {
		sd[c] = max(0.12, math.Sqrt(sd[c]/float64(n)))
		full += sq(end[c] / sd[c])
	}
	full = math.Sqrt(full)
	limit := max(3.5, onsetShare*full)
	for i := range ch.z {
		if ch.z[i] > l.z+onsetReach*h {
			continue
		}
		ok := true
		for j := i; j < min(i+3, len(ch.z)) && ok; j++ {
			d := 0.0
			for c := range 3 {
				d += sq(ch.v[j][c] / sd[c])
			}
			ok = math.Sqrt(d) > limit
		}
		if ok {
			return ch.z[i] + 0.001*h, true
		}
	}
	return 0, false
}
