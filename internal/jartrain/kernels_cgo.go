//go:build cgo

package main

// #cgo CFLAGS: -O3
// #include "kernels.h"
import "C"

import "unsafe"

func ptr(v []float32) *C.float { return (*C.float)(unsafe.Pointer(unsafe.SliceData(v))) }

func forward(p plan, in, w, b, out []float32, leak float32) {
	C.convForward(ptr(in), C.int(p.pw), C.int(p.in), ptr(w), ptr(b),
		ptr(out), C.int(p.w), C.int(p.h), C.int(p.out), C.int(p.stride), C.int(p.taps), C.float(leak))
}

func backward(p plan, in, wt, dout, dw, db, din []float32) {
	C.convBackward(ptr(in), C.int(p.pw), C.int(p.in), ptr(wt), ptr(dout),
		C.int(p.w), C.int(p.h), C.int(p.out), C.int(p.stride), C.int(p.taps), ptr(dw), ptr(db), ptr(din))
}
