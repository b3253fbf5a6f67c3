package jarnet

// Leak is the slope of the rectifier below zero.
const Leak = 0.1

// Conv is a convolution by 3 x 3 (Taps 9), the rim padded by zeros, or by single
// pixels (Taps 1). A leaky rectifier follows unless it is Linear.
type Conv struct {
	In, Out, Stride, Taps int
	Linear                bool
	W                     []float32 // [out][in][taps]
	B                     []float32
}

func newConv(in, out, stride, taps int, linear bool) Conv {
	return Conv{In: in, Out: out, Stride: stride, Taps: taps, Linear: linear, W: make([]float32, in*out*taps), B: make([]float32, out)}
}

// Run convolves planes of h rows of w values.
func (c *Conv) Run(x []float32, w, h int) []float32 {
	var out []float32
	if c.Taps == 1 {
		out = c.runSingle(x, w*h)
	} else {
		out = c.runPadded(pad(x, c.In, w, h), w+3, h+3, w/c.Stride, h/c.Stride)
	}
	if !c.Linear {
		Rectify(out)
	}
	return out
}

func (c *Conv) runSingle(x []float32, n int) []float32 {
	out := make([]float32, c.Out*n)
	for o := range c.Out {
		plane := out[o*n : (o+1)*n]
		for i := range plane {
			plane[i] = c.B[o]
		}
		for k := range c.In {
			w, from := c.W[o*c.In+k], x[k*n:(k+1)*n]
			for i, v := range from[:len(plane)] {
				plane[i] += w * v
			}
		}
	}
	return out
}

// pad puts planes of h rows of w values into planes with a rim of one zero, and
// one more column and row so that rows of strided windows stay inside.
func pad(x []float32, planes, w, h int) []float32 {
	pw, ph := w+3, h+3
	out := make([]float32, planes*pw*ph)
	for k := range planes {
		for y := range h {
			copy(out[(k*ph+y+1)*pw+1:][:w], x[(k*h+y)*w:][:w])
		}
	}
	return out
}

// runPadded convolves padded planes; two outputs at a time, so that what is read
// serves both. All convolutions have an even number of outputs.
func (c *Conv) runPadded(in []float32, pw, ph, w, h int) []float32 {
	out := make([]float32, c.Out*w*h)
	for o := 0; o < c.Out; o += 2 {
		first, second := out[o*w*h:(o+1)*w*h], out[(o+1)*w*h:(o+2)*w*h]
		for i := range first {
			first[i], second[i] = c.B[o], c.B[o+1]
		}
		for i := range c.In {
			k, l := (*[9]float32)(c.W[(o*c.In+i)*9:]), (*[9]float32)(c.W[((o+1)*c.In+i)*9:])
			from := in[i*pw*ph:]
			for y := range h {
				a := from[c.Stride*y*pw:]
				p, q := first[y*w:(y+1)*w], second[y*w:(y+1)*w]
				if c.Stride == 1 {
					addRows(p, q, a, a[pw:], a[2*pw:], k, l)
				} else {
					addHalved(p, q, a, a[pw:], a[2*pw:], k, l)
				}
			}
		}
	}
	return out
}

// addRows adds the three by three windows' sums, weighted by k and by l, along
// two rows.
func addRows(p, q, a, b, c []float32, k, l *[9]float32) {
	n := len(p)
	a0, a1, b0, b1, c0, c1 := a[0], a[1], b[0], b[1], c[0], c[1]
	q, a, b, c = q[:n], a[2:], b[2:], c[2:]
	a, b, c = a[:n], b[:n], c[:n]
	for x := range p {
		a2, b2, c2 := a[x], b[x], c[x]
		p[x] += (k[0]*a0 + k[1]*a1 + k[2]*a2) + (k[3]*b0 + k[4]*b1 + k[5]*b2) + (k[6]*c0 + k[7]*c1 + k[8]*c2)
		q[x] += (l[0]*a0 + l[1]*a1 + l[2]*a2) + (l[3]*b0 + l[4]*b1 + l[5]*b2) + (l[6]*c0 + l[7]*c1 + l[8]*c2)
		a0, a1, b0, b1, c0, c1 = a1, a2, b1, b2, c1, c2
	}
}

// addHalved is addRows with every second window.
func addHalved(p, q, a, b, c []float32, k, l *[9]float32) {
	n := len(p)
	q, a, b, c = q[:n], a[:2*n+1], b[:2*n+1], c[:2*n+1]
	for x := range p {
		i := 2 * x
		u, v, w := a[i:i+3:i+3], b[i:i+3:i+3], c[i:i+3:i+3]
		p[x] += (k[0]*u[0] + k[1]*u[1] + k[2]*u[2]) + (k[3]*v[0] + k[4]*v[1] + k[5]*v[2]) + (k[6]*w[0] + k[7]*w[1] + k[8]*w[2])
		q[x] += (l[0]*u[0] + l[1]*u[1] + l[2]*u[2]) + (l[3]*v[0] + l[4]*v[1] + l[5]*v[2]) + (l[6]*w[0] + l[7]*w[1] + l[8]*w[2])
	}
}

// Rectify applies the leaky rectifier in place.
func Rectify(x []float32) {
	for i, v := range x {
		if v < 0 {
			x[i] = Leak * v
		}
	}
}

// Dense is a layer of weighted sums.
type Dense struct {
	In, Out int
	W       []float32 // [out][in]
	B       []float32
}

func newDense(in, out int) Dense {
	return Dense{In: in, Out: out, W: make([]float32, in*out), B: make([]float32, out)}
}

// Run gives the weighted sums of x.
func (d *Dense) Run(x []float32) []float32 {
	out := make([]float32, d.Out)
	for o := range out {
		w := d.W[o*d.In : (o+1)*d.In]
		var sum [4]float32
		for i, v := range x[:len(w)] {
			sum[i&3] += w[i] * v
		}
		out[o] = sum[0] + sum[1] + sum[2] + sum[3] + d.B[o]
	}
	return out
}
