package texture

import "math"

const dim = unknownCount

// matrix is a square matrix over the unknowns.
type matrix [dim][dim]float64

// cholesky factors the symmetric a in place (lower triangle); false when it is
// not positive definite.
func (a *matrix) cholesky() bool {
	for i := range dim {
		for j := 0; j <= i; j++ {
			s := a[i][j]
			for k := range j {
				s -= a[i][k] * a[j][k]
			}
			if i != j {
				a[i][j] = s / a[j][j]
				continue
			}
			if !(s > 1e-12) {
				return false
			}
			a[i][i] = math.Sqrt(s)
		}
	}
	return true
}

// solveLower solves L x = b in place, L the factor in a.
func (a *matrix) solveLower(b *unknowns) {
	for i := range dim {
		s := b[i]
		for k := range i {
			s -= a[i][k] * b[k]
		}
		b[i] = s / a[i][i]
	}
}

// solveUpper solves L' x = b in place.
func (a *matrix) solveUpper(b *unknowns) {
	for i := dim - 1; i >= 0; i-- {
		s := b[i]
		for k := i + 1; k < dim; k++ {
			s -= a[k][i] * b[k]
		}
		b[i] = s / a[i][i]
	}
}

// eigen turns the symmetric a diagonal by Jacobi's rotations and returns the
// eigenvalues and, as columns, the eigenvectors.
func (a *matrix) eigen() (values unknowns, vectors matrix) {
	for i := range dim {
		vectors[i][i] = 1
	}
	for range 12 {
		off := 0.0
		for p := range dim {
			for q := p + 1; q < dim; q++ {
				off += a[p][q] * a[p][q]
				a.rotate(&vectors, p, q)
			}
		}
		if off < 1e-14 {
			break
		}
	}
	for i := range dim {
		values[i] = a[i][i]
	}
	return values, vectors
}

// rotate makes a[p][q] zero.
func (a *matrix) rotate(v *matrix, p, q int) {
	if math.Abs(a[p][q]) < 1e-12 {
		return
	}
	theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	s := t * c
	for k := range dim {
		x, y := a[k][p], a[k][q]
		a[k][p], a[k][q] = c*x-s*y, s*x+c*y
	}
	for k := range dim {
		x, y := a[p][k], a[q][k]
		a[p][k], a[q][k] = c*x-s*y, s*x+c*y
		x, y = v[k][p], v[k][q]
		v[k][p], v[k][q] = c*x-s*y, s*x+c*y
	}
}
