package jarnet

import (
	"encoding/binary"
	"fmt"
	"math"
)

// Pack writes the weights: for each layer, for each of its outputs, a scale
// (float32, little endian) and its weights as signed bytes in its units, then
// all its biases as float32.
func (n *Net) Pack() []byte {
	var out []byte
	n.each(func(w []float32, rows int, bias []float32) {
		per := len(w) / rows
		for r := range rows {
			row := w[r*per : (r+1)*per]
			top := float32(0)
			for _, v := range row {
				top = max(top, v, -v)
			}
			scale := max(top/127, 1e-12)
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(scale))
			for _, v := range row {
				out = append(out, byte(int8(math.Round(float64(v/scale)))))
			}
		}
		for _, v := range bias {
			out = binary.LittleEndian.AppendUint32(out, math.Float32bits(v))
		}
	})
	return out
}

// Unpack reads what Pack wrote. The error says that the size is wrong.
func (n *Net) Unpack(data []byte) error {
	want := 0
	n.each(func(w []float32, rows int, bias []float32) { want += len(w) + 4*rows + 4*len(bias) })
	if len(data) != want {
		return fmt.Errorf("the weights are %d bytes, not %d: they belong to another network", len(data), want)
	}
	n.each(func(w []float32, rows int, bias []float32) {
		per := len(w) / rows
		for r := range rows {
			scale := math.Float32frombits(binary.LittleEndian.Uint32(data))
			for i, b := range data[4:][:per] {
				w[r*per+i] = float32(int8(b)) * scale
			}
			data = data[4+per:]
		}
		for i := range bias {
			bias[i] = math.Float32frombits(binary.LittleEndian.Uint32(data[4*i:]))
		}
		data = data[4*len(bias):]
	})
	return nil
}

// each visits the layers in a fixed order: weights, number of outputs, biases.
func (n *Net) each(visit func(w []float32, rows int, bias []float32)) {
	for _, c := range n.Convs() {
		visit(c.W, c.Out, c.B)
	}
	visit(n.Hidden.W, n.Hidden.Out, n.Hidden.B)
	visit(n.Out.W, n.Out.Out, n.Out.B)
}
