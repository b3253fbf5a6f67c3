package equations_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"mudline/internal/equations"
)

// Solved by hand: x=1, y=-2, z=3; the first pivot is zero.
func TestSolve3(t *testing.T) {
	x := equations.Solve3([3][4]float64{{0, 2, 1, -1}, {1, 1, 1, 2}, {2, -1, 3, 13}})
	assert.InDeltaSlice(t, []float64{1, -2, 3}, x[:], 1e-12)
	assert.Equal(t, [3]float64{}, equations.Solve3([3][4]float64{}), "no solution, no panic")
	_, ok := equations.Solve([][]float64{{1, 2, 3}, {2, 4, 6}})
	assert.False(t, ok, "one equation twice")
}

func TestSolveAgainstGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		a, m, b := make([][]float64, n), mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			a[i] = rapid.SliceOfN(rapid.Float64Range(-10, 10), n+1, n+1).Draw(t, "row")
			a[i][(i+1)%n] += 100 // well conditioned, but not in its order
			m.SetRow(i, a[i][:n])
			b.SetVec(i, a[i][n])
		}
		var want mat.VecDense
		require.NoError(t, want.SolveVec(m, b))
		got, ok := equations.Solve(a)
		require.True(t, ok)
		for i := range got {
			assert.InDelta(t, want.AtVec(i), got[i], 1e-9)
		}
	})
}
