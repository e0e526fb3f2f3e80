package forecast

import "math"

// square is a symmetric matrix of the parameters, or its lower Cholesky factor.
type square [dim][dim]float64

// cholesky returns L with L·Lᵀ = a, and false where a is not positive definite.
func (a *square) cholesky() (l square, ok bool) {
	// The negated comparison below refuses NaN as well.
	for i := range dim {
		for j := 0; j <= i; j++ {
			sum := a[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i != j {
				l[i][j] = sum / l[j][j]
				continue
			}
			if !(sum > 0) || !finite(sum) {
				return l, false
			}
			l[i][i] = math.Sqrt(sum)
		}
	}
	return l, true
}

// forward solves L·x = b for a lower factor L.
func (l *square) forward(b params) params {
	for i := range dim {
		for j := range i {
			b[i] -= l[i][j] * b[j]
		}
		b[i] /= l[i][i]
	}
	return b
}

// backward solves Lᵀ·x = b.
func (l *square) backward(b params) params {
	for i := dim - 1; i >= 0; i-- {
		for j := i + 1; j < dim; j++ {
			b[i] -= l[j][i] * b[j]
		}
		b[i] /= l[i][i]
	}
	return b
}

// times is L·x.
func (l *square) times(x *params) params {
	var y params
	for i := range dim {
		for j := 0; j <= i; j++ {
			y[i] += l[i][j] * x[j]
		}
	}
	return y
}

// inverse is (L·Lᵀ)⁻¹, column by column; it is symmetric, so columns are rows.
func (l *square) inverse() square {
	var inv square
	for i := range dim {
		var unit params
		unit[i] = 1
		inv[i] = l.backward(l.forward(unit))
	}
	return inv
}

// logDet is ln det L.
func (l *square) logDet() float64 {
	sum := 0.0
	for i := range dim {
		sum += math.Log(l[i][i])
	}
	return sum
}
