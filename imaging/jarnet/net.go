// Package jarnet is a small convolutional network that looks at one place in a
// picture where a jar may stand: is it a jar, upright and whole, and where are its
// sides, its floor and the water's surface?
//
// It sees a Patch: the place cut out so that the proposed sides and floor are
// always at the same columns and rows, however large the jar is in the picture.
// The weights are fitted by internal/jartrain to rendered jars, with other
// backgrounds, light and things pasted round them, and to pictures without a
// jar; they are embedded as bytes. Inference is plain Go.
package jarnet

// Size of a patch and of what it shows, in half widths of the proposed jar.
const (
	PatchW   = 40 // columns
	PatchH   = 56 // rows, the highest first
	Channels = 4  // L*, a*, b* and whether the place lies in the picture

	USpan = 1.6                // columns run from -USpan to +USpan
	Below = 0.6                // rows end this far under the floor
	CellV = 0.1                // height of a row
	CellU = 2 * USpan / PatchW // width of a column
)

// Patch holds Channels planes of PatchH rows of PatchW values. L* is given as
// (L*-50)/25, a* and b* divided by 20, the last plane is 1 in the picture and 0
// outside, where the colours are 0.
type Patch [Channels * PatchW * PatchH]float32

// HeadPlanes is how many planes tell of places, see Verdict.
const HeadPlanes = 8

// Net is the network. Six convolutions, the first, third and fifth of which halve
// the picture, lead down to a coarse view; what was seen there is carried back up
// and added to the finer views, from which the sides and the floor are told.
type Net struct {
	Down         [6]Conv
	Lift1, Lift2 Conv // carry the coarser view up to that of Down[3], Down[1]
	Mix1, Mix2   Conv // after it was added
	Heads        Conv // by place: left, right, floor, water, two planes each
	Hidden, Out  Dense
}

// New gives the network's shape with all weights zero.
func New() *Net {
	n := &Net{
		Lift1: newConv(32, 24, 1, 1, true), Mix1: newConv(24, 24, 1, 9, false),
		Lift2: newConv(24, 16, 1, 1, true), Mix2: newConv(16, 16, 1, 9, false),
		Heads:  newConv(16, HeadPlanes, 1, 1, true),
		Hidden: newDense(32*5*7, 24), Out: newDense(24, 1),
	}
	for i, c := range [6][3]int{{Channels, 12, 2}, {12, 16, 1}, {16, 24, 2}, {24, 24, 1}, {24, 32, 2}, {32, 32, 1}} {
		n.Down[i] = newConv(c[0], c[1], c[2], 9, false)
	}
	return n
}

// Convs lists the convolutions, in a fixed order.
func (n *Net) Convs() []*Conv {
	var out []*Conv
	for i := range n.Down {
		out = append(out, &n.Down[i])
	}
	return append(out, &n.Lift1, &n.Mix1, &n.Lift2, &n.Mix2, &n.Heads)
}

// Parts lists all weights, in a fixed order.
func (n *Net) Parts() [][]float32 {
	var out [][]float32
	for _, c := range n.Convs() {
		out = append(out, c.W, c.B)
	}
	return append(out, n.Hidden.W, n.Hidden.B, n.Out.W, n.Out.B)
}

// Judge runs the network on a patch.
func (n *Net) Judge(p *Patch) *Verdict {
	var view [6][]float32
	x := p[:]
	for i := range n.Down {
		w, h := Grid((i + 1) / 2)
		x = n.Down[i].Run(x, w, h)
		view[i] = x
	}
	hidden := n.Hidden.Run(x)
	Rectify(hidden)
	odds := n.Out.Run(hidden)[0]

	addLifted(view[3], n.Lift1.Run(view[5], 5, 7), 5, 7)
	x = n.Mix1.Run(view[3], 10, 14)
	addLifted(view[1], n.Lift2.Run(x, 10, 14), 10, 14)
	x = n.Heads.Run(n.Mix2.Run(view[1], 20, 28), 20, 28)
	return Read(odds, x)
}

// Grid is the width and height of the picture halved k times.
func Grid(k int) (w, h int) { return PatchW >> k, PatchH >> k }

// addLifted adds to planes those of half their width and height, w x h.
func addLifted(to, x []float32, w, h int) {
	for k := range len(x) / (w * h) {
		for r := range 2 * h {
			row := to[(k*2*h+r)*2*w:][:2*w]
			for c, v := range x[(k*h+r/2)*w:][:w] {
				row[2*c] += v
				row[2*c+1] += v
			}
		}
	}
}
