// Package equations solves systems of linear equations, for the fits of what is seen.
package equations

import "math"

// least is the size of a pivot below which the equations do not fix the answer.
const least = 1e-12

// Solve solves linear equations, the right side as last column, by elimination with the
// largest pivot; the rows are spent. ok is false where they do not fix the answer.
func Solve(a [][]float64) (x []float64, ok bool) {
	n := len(a)
	for i := range n {
		p := i
		for j := i + 1; j < n; j++ {
			if math.Abs(a[j][i]) > math.Abs(a[p][i]) {
				p = j
			}
		}
		a[i], a[p] = a[p], a[i]
		if !(math.Abs(a[i][i]) > least) {
			return nil, false
		}
		for j := i + 1; j < n; j++ {
			f := a[j][i] / a[i][i]
			for k := i; k <= n; k++ {
				a[j][k] -= f * a[i][k]
			}
		}
	}
	x = make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = a[i][n]
		for k := i + 1; k < n; k++ {
			x[i] -= a[i][k] * x[k]
		}
		x[i] /= a[i][i]
	}
	return x, true
}

// Solve3 solves three of them; zeros where they do not fix the answer.
func Solve3(a [3][4]float64) (x [3]float64) {
	got, _ := Solve([][]float64{a[0][:], a[1][:], a[2][:]})
	copy(x[:], got)
	return x
}
