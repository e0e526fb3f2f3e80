package liquid

import "math"

// maxSteps bounds the work of bracketed. Bisection alone needs 50 steps for the
// widest bracket in this package, and Newton rarely takes five.
const maxSteps = 100

// root finds x between low and high where f is zero, to a step below eps. f
// returns its value and its slope and must rise or fall throughout; the two ends
// must enclose the root, else ok is false.
//
// Mostly Newton's method alone arrives in three or four steps. Where it leaves the
// bracket or is slow, bracketed does it.
func root(low, high, guess, eps float64, f func(x float64) (y, slope float64)) (x float64, ok bool) {
	x = guess
	for range newtonSteps {
		if !(x > low && x < high) { // NaN too
			break
		}
		y, slope := f(x)
		step := y / slope
		x -= step
		if math.Abs(step) < eps && x > low && x < high {
			return x, true
		}
	}
	return bracketed(low, high, guess, eps, f)
}

// newtonSteps is how many steps Newton's method is left alone.
const newtonSteps = 6

// bracketed is Newton's method kept inside a bracket (Press et al., Numerical Recipes,
// 2nd ed. 1992, section 9.4): a step that leaves the bracket, or does not halve
// the one before the last, is replaced by bisection, so that it always ends.
func bracketed(low, high, guess, eps float64, f func(x float64) (y, slope float64)) (x float64, ok bool) {
	yLow, _ := f(low)
	yHigh, _ := f(high)
	switch {
	case yLow == 0:
		return low, true
	case yHigh == 0:
		return high, true
	case !(yLow*yHigh < 0): // NaN too
		return 0, false
	}
	if yLow > 0 {
		low, high = high, low // so that f(low) < 0
	}
	x = guess
	if x <= math.Min(low, high) || x >= math.Max(low, high) {
		x = (low + high) / 2
	}
	step, before := math.Abs(high-low), math.Abs(high-low)
	for range maxSteps {
		y, slope := f(x)
		if y == 0 {
			return x, true
		}
		if y < 0 {
			low = x
		} else {
			high = x
		}
		next := x - y/slope
		inside := next > math.Min(low, high) && next < math.Max(low, high)
		if !inside || math.Abs(next-x) > before/2 {
			next = (low + high) / 2
		}
		before, step = step, math.Abs(next-x)
		x = next
		if step < eps {
			return x, true
		}
	}
	return x, true
}

// horner evaluates c[0]·x + c[1]·x² + … and its slope.
func horner(c []float64, x float64) (y, slope float64) {
	for i := len(c) - 1; i >= 0; i-- {
		slope = slope*x + y
		y = y*x + c[i]
	}
	return y * x, slope*x + y
}
