package forecast

import (
	"cmp"
	"slices"
)

// weighted is a value and how much it counts.
type weighted struct{ x, w float64 }

// sortWeighted puts them in order and returns their whole weight.
func sortWeighted(xs []weighted) float64 {
	slices.SortFunc(xs, func(a, b weighted) int { return cmp.Compare(a.x, b.x) })
	sum := 0.0
	for _, v := range xs {
		sum += v.w
	}
	return sum
}

// quantile is the value below which the share p of the whole weight lies. xs is in
// order and not empty; between the middles of two weights it runs straight.
func quantile(xs []weighted, whole, p float64) float64 {
	// The weight of each value is thought to lie half on either side of it, which
	// makes a weight of two the same as the value twice.
	want, before := p*whole, 0.0
	for i, v := range xs {
		mid := before + v.w/2
		if mid >= want {
			if i == 0 {
				return v.x
			}
			u := xs[i-1]
			f := (want - (before - u.w/2)) / (v.w/2 + u.w/2)
			return u.x + f*(v.x-u.x)
		}
		before += v.w
	}
	return xs[len(xs)-1].x
}

// spread gives the 10, 50 and 90 % quantiles of xs, which it puts in order.
func spread(xs []weighted) (low, median, high float64) {
	whole := sortWeighted(xs)
	return quantile(xs, whole, 0.1), quantile(xs, whole, 0.5), quantile(xs, whole, 0.9)
}
