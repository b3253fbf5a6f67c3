//go:build !cgo

package main

func forward(p plan, in, w, b, out []float32, leak float32) { forwardGo(p, in, w, b, out, leak) }

func backward(p plan, in, wt, dout, dw, db, din []float32) { backwardGo(p, in, wt, dout, dw, db, din) }
