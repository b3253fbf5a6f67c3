package sheetmark

import "math"

// Vector is a place or direction before the camera: x to the right, y down, z away
// from it, in millimetres or of length 1.
type Vector struct{ X, Y, Z float64 }

// Plus is the sum.
func (a Vector) Plus(b Vector) Vector { return Vector{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Minus is the difference.
func (a Vector) Minus(b Vector) Vector { return Vector{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Times is a multiple.
func (a Vector) Times(k float64) Vector { return Vector{k * a.X, k * a.Y, k * a.Z} }

// Dot is the inner product.
func (a Vector) Dot(b Vector) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross is the outer product.
func (a Vector) Cross(b Vector) Vector {
	return Vector{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Len is the length.
func (a Vector) Len() float64 { return math.Sqrt(a.Dot(a)) }

// Unit is the direction of a vector that is not 0.
func (a Vector) Unit() Vector { return a.Times(1 / a.Len()) }

// turnedBy turns a about the axis w by as many radians as w is long (Rodrigues).
func (a Vector) turnedBy(w Vector) Vector {
	angle := w.Len()
	if angle < 1e-12 {
		return a.Plus(w.Cross(a))
	}
	k := w.Times(1 / angle)
	s, c := math.Sincos(angle)
	return a.Times(c).Plus(k.Cross(a).Times(s)).Plus(k.Times(k.Dot(a) * (1 - c)))
}
