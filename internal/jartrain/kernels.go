package main

// plan is the shape of a convolution: see kernels.h.
type plan struct {
	pw, in, w, h, out, stride, taps int
}

// at is where the pixel of a tap begins in the input.
func (p *plan) at(x, y, tap int) int {
	if p.taps == 1 {
		return (p.stride*y*p.pw + p.stride*x) * p.in
	}
	return ((p.stride*y+tap/3)*p.pw + p.stride*x + tap%3) * p.in
}

// forwardGo is convForward in Go: slower, and what the other is checked against.
func forwardGo(p plan, in, w, b, out []float32, leak float32) {
	for y := range p.h {
		for x := range p.w {
			o := out[(y*p.w+x)*p.out:][:p.out]
			copy(o, b)
			for k := range p.taps {
				for i, v := range in[p.at(x, y, k):][:p.in] {
					for c, r := range w[(k*p.in+i)*p.out:][:p.out] {
						o[c] += v * r
					}
				}
			}
			for c, v := range o {
				if v < 0 {
					o[c] = leak * v
				}
			}
		}
	}
}

// backwardGo is convBackward in Go.
func backwardGo(p plan, in, wt, dout, dw, db, din []float32) {
	for y := range p.h {
		for x := range p.w {
			d := dout[(y*p.w+x)*p.out:][:p.out]
			for c, v := range d {
				db[c] += v
			}
			for k := range p.taps {
				at := p.at(x, y, k)
				for i, v := range in[at:][:p.in] {
					g := dw[(k*p.in+i)*p.out:][:p.out]
					for c, dv := range d {
						g[c] += v * dv
					}
				}
				q := din[at:][:p.in]
				for c, dv := range d {
					for i, r := range wt[(k*p.out+c)*p.in:][:p.in] {
						q[i] += dv * r
					}
				}
			}
		}
	}
}
