package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"mustbook/bot/letters"
)

// box is a stretch of the picture in pixels.
type box struct{ x0, y0, x1, y1 float64 }

// covers reports whether two boxes share any place.
func (b box) covers(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }

// below is how far letters reach below their foot, in pixels.
const below = 4

// markRoom is what a curve's mark takes before its name.
const markRoom = 2*ringRadius + 6

// names writes each curve's name beside its end, at the height where it covers no
// other name, and no ring and no line if that can be had. A name that had to move
// away from its curve carries the curve's mark, else it would seem another's.
func (f *frame) names(p *picture) {
	taken, drawn := []box{}, f.ink(p)
	for i, c := range p.curves {
		name, end := letters.Printable(c.name, 16), c.last()
		at, x := f.beside(end, width(small, name), taken, drawn), 0.0
		if math.Abs(at.y0+below+small/3-f.py(end.sg)) > ringRadius {
			x = markRoom
			at = f.beside(end, x+width(small, name), taken, drawn)
		}
		taken = append(taken, at)
		f.halo(small, 0, at.x0+x, at.y0+below, name)
		if x > 0 {
			f.ring(vg.Point{X: vg.Length(at.x0 + ringRadius), Y: vg.Length(at.y0 + below + small/3)}, styles[i], ringRadius-1)
		}
	}
}

// beside finds the place of a name of a width by the end of a curve.
func (f *frame) beside(end point, w float64, taken, drawn []box) box {
	const gap, step = ringRadius + 7, 6
	x := math.Min(f.px(end.day)+gap, Width-4-w)
	y := f.py(end.sg) - small/3 - below
	// The first place free of names serves where the curves cover everything.
	fallback := box{x, y, x + w, y + below + small}
	found := false
	for i := range 40 {
		dy := float64((i + 1) / 2 * step)
		if i%2 == 0 {
			dy = -dy
		}
		b := box{x, y + dy, x + w, y + dy + below + small}
		if b.y0 < bottom+2 || b.y1 > ceiling || covered(b, taken) {
			continue
		}
		if !covered(b, drawn) {
			return b
		}
		if !found {
			fallback, found = b, true
		}
	}
	return fallback
}

// covered reports whether a box touches one of others.
func covered(b box, by []box) bool {
	for _, o := range by {
		if b.covers(o) {
			return true
		}
	}
	return false
}

// ink lists what the curves cover: their rings, their lines in small pieces, and
// their bands.
func (f *frame) ink(p *picture) []box {
	var out []box
	for _, c := range p.curves {
		for i := 1; i < len(c.band); i++ {
			a, b := c.band[i-1], c.band[i]
			out = append(out, box{f.px(a.day), f.py(min(a.low, b.low)), f.px(b.day), f.py(max(a.high, b.high))})
		}
		for i, q := range c.points {
			x, y := f.px(q.day), f.py(q.sg)
			out = append(out, box{x - ringRadius, y - ringRadius, x + ringRadius, y + ringRadius})
			if i == 0 {
				continue
			}
			x0, y0 := f.px(c.points[i-1].day), f.py(c.points[i-1].sg)
			n := math.Min(200, math.Ceil(math.Hypot(x-x0, y-y0)/4))
			for k := 0.0; k < n; k++ {
				a, b := x0+(x-x0)*k/n, y0+(y-y0)*k/n
				out = append(out, box{a - 1, b - 1, a + 1, b + 1})
			}
		}
	}
	return out
}
