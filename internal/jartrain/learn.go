package main

import "mudline/imaging/jarnet"

// learner runs the network forward and backward over samples and gathers the
// gradients of its weights. Planes lie pixel by pixel, channels side by side, so
// that the C compiler can use wide registers.
type learner struct {
	net    *jarnet.Net
	grad   *jarnet.Net
	layers []*layer // as Net.Convs
}

// layer is one convolution with its weights rearranged, see kernels.h, and what
// the last forward pass left.
type layer struct {
	c                *jarnet.Conv
	pw, w, h         int // width of the input as stored, size of the output
	rim              int
	weights, turned  []float32
	dw, db           []float32
	input, act, dpad []float32
}

// sizes are how often the picture is halved at the output of each convolution.
var sizes = [...]int{1, 1, 2, 2, 3, 3, 3, 2, 2, 1, 1}

// The layers of the way up, by their place in Net.Convs.
const (
	lift1 = iota + 6
	mix1
	lift2
	mix2
	heads
)

func newLearner(n *jarnet.Net) *learner {
	l := &learner{net: n, grad: jarnet.New()}
	for i, c := range n.Convs() {
		y := &layer{c: c}
		y.w, y.h = jarnet.Grid(sizes[i])
		w, h := y.w*c.Stride, y.h*c.Stride
		y.pw = w
		if c.Taps == 9 {
			y.rim, y.pw, h = 1, w+3, h+3
		}
		y.weights, y.turned = make([]float32, len(c.W)), make([]float32, len(c.W))
		y.dw, y.db = make([]float32, len(c.W)), make([]float32, c.Out)
		y.input, y.dpad = make([]float32, y.pw*h*c.In), make([]float32, y.pw*h*c.In)
		y.act = make([]float32, y.w*y.h*c.Out)
		l.layers = append(l.layers, y)
	}
	return l
}

// begin takes over the network's weights and forgets the gradients.
func (l *learner) begin() {
	for _, y := range l.layers {
		c := y.c
		for o := range c.Out {
			for k := range c.In {
				for t := range c.Taps {
					v := c.W[(o*c.In+k)*c.Taps+t]
					y.weights[(t*c.In+k)*c.Out+o] = v
					y.turned[(t*c.Out+o)*c.In+k] = v
				}
			}
		}
		clear(y.dw)
		clear(y.db)
	}
	for _, p := range l.grad.Parts() {
		clear(p)
	}
}

// gradients gives what was gathered, in the network's own order.
func (l *learner) gradients() *jarnet.Net {
	for i, g := range l.grad.Convs() {
		y := l.layers[i]
		for o := range g.Out {
			for k := range g.In {
				for t := range g.Taps {
					g.W[(o*g.In+k)*g.Taps+t] = y.dw[(t*g.In+k)*g.Out+o]
				}
			}
		}
		copy(g.B, y.db)
	}
	return l.grad
}

// plan is the layer's shape.
func (y *layer) plan() plan {
	return plan{pw: y.pw, in: y.c.In, w: y.w, h: y.h, out: y.c.Out, stride: y.c.Stride, taps: y.c.Taps}
}

// forward runs one layer on pixels and gives its output's.
func (y *layer) forward(px []float32) []float32 {
	c := y.c
	w, h := y.w*c.Stride, y.h*c.Stride
	for r := range h {
		copy(y.input[((r+y.rim)*y.pw+y.rim)*c.In:], px[r*w*c.In:][:w*c.In])
	}
	leak := float32(jarnet.Leak)
	if c.Linear {
		leak = 1
	}
	forward(y.plan(), y.input, y.weights, c.B, y.act, leak)
	return y.act
}

// backward adds the gradients of a layer for that of its output, and gives that
// of its input.
func (y *layer) backward(d []float32) []float32 {
	c := y.c
	if !c.Linear {
		unrectify(d, y.act)
	}
	clear(y.dpad)
	backward(y.plan(), y.input, y.turned, d, y.dw, y.db, y.dpad)
	w, h := y.w*c.Stride, y.h*c.Stride
	out := make([]float32, w*h*c.In)
	for r := range h {
		copy(out[r*w*c.In:][:w*c.In], y.dpad[((r+y.rim)*y.pw+y.rim)*c.In:])
	}
	return out
}

// learn adds a sample's gradients and gives its loss.
func (l *learner) learn(s *sample) float64 {
	x := pixels(s.patch[:], jarnet.Channels)
	for i := range 6 {
		x = l.layers[i].forward(x)
	}
	coarse := planes(x, 32)
	hidden := l.net.Hidden.Run(coarse)
	jarnet.Rectify(hidden)
	odds := l.net.Out.Run(hidden)[0]
	sum1 := added(l.layers[3].act, l.layers[lift1].forward(x), 24, 5, 7)
	m1 := l.layers[mix1].forward(sum1)
	sum2 := added(l.layers[1].act, l.layers[lift2].forward(m1), 16, 10, 14)
	m2 := l.layers[mix2].forward(sum2)
	head := planes(l.layers[heads].forward(m2), jarnet.HeadPlanes)

	value, dOdds, dHead := loss(jarnet.Read(odds, head), s)

	d2 := l.layers[mix2].backward(l.layers[heads].backward(pixels(dHead, jarnet.HeadPlanes)))
	d1 := l.layers[mix1].backward(l.layers[lift2].backward(gathered(d2, 16, 10, 14)))
	d := l.layers[lift1].backward(gathered(d1, 24, 5, 7))
	dh := denseBack(&l.net.Out, &l.grad.Out, hidden, []float32{dOdds})
	unrectify(dh, hidden)
	add(d, pixels(denseBack(&l.net.Hidden, &l.grad.Hidden, coarse, dh), 32))
	for i := 5; i >= 0; i-- {
		switch i {
		case 3:
			add(d, d1)
		case 1:
			add(d, d2)
		}
		d = l.layers[i].backward(d)
	}
	return value
}

// added is the sum of pixels and those of half their size, w x h, lifted.
func added(px, small []float32, ch, w, h int) []float32 {
	out := append([]float32(nil), px...)
	for r := range 2 * h {
		for c := range 2 * w {
			to := out[(r*2*w+c)*ch:][:ch]
			for k, v := range small[(r/2*w+c/2)*ch:][:ch] {
				to[k] += v
			}
		}
	}
	return out
}

// gathered adds up the gradients of four pixels for the one they were lifted from.
func gathered(d []float32, ch, w, h int) []float32 {
	out := make([]float32, w*h*ch)
	for r := range 2 * h {
		for c := range 2 * w {
			to := out[(r/2*w+c/2)*ch:][:ch]
			for k, v := range d[(r*2*w+c)*ch:][:ch] {
				to[k] += v
			}
		}
	}
	return out
}

func add(to, x []float32) {
	for i, v := range x {
		to[i] += v
	}
}

// planes and pixels turn values pixel by pixel into planes and back.
func planes(px []float32, ch int) []float32 {
	n := len(px) / ch
	out := make([]float32, len(px))
	for i := range n {
		for c := range ch {
			out[c*n+i] = px[i*ch+c]
		}
	}
	return out
}

func pixels(pl []float32, ch int) []float32 {
	n := len(pl) / ch
	out := make([]float32, len(pl))
	for i := range n {
		for c := range ch {
			out[i*ch+c] = pl[c*n+i]
		}
	}
	return out
}

func unrectify(d, act []float32) {
	for i, a := range act {
		if a < 0 {
			d[i] *= jarnet.Leak
		}
	}
}

func denseBack(d, g *jarnet.Dense, x, dout []float32) []float32 {
	dx := make([]float32, d.In)
	for o, v := range dout {
		g.B[o] += v
		w, gw := d.W[o*d.In:(o+1)*d.In], g.W[o*d.In:(o+1)*d.In]
		for i := range dx {
			gw[i] += v * x[i]
			dx[i] += v * w[i]
		}
	}
	return dx
}
