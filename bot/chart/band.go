package chart

import "math"

// hatchGap is the distance of the slanted lines of a band, in pixels along x.
const hatchGap = 11

// hatch draws the forecast as slanted lines between its bounds, which stay
// readable through a copy, with the median dotted.
func (f *frame) hatch(b []bandPoint) {
	if len(b) < 2 {
		return
	}
	from, to := f.px(b[0].day), f.px(b[len(b)-1].day)
	n := int(math.Ceil(to - from))
	low, high := make([]float64, n+1), make([]float64, n+1)
	k := 0
	for i := range low { // one column a pixel
		day := f.x.low + (from+float64(i)-left)/(right-left)*(f.x.high-f.x.low)
		for k < len(b)-2 && b[k+1].day < day {
			k++
		}
		t := math.Min(1, math.Max(0, (day-b[k].day)/(b[k+1].day-b[k].day)))
		low[i] = f.py(b[k].low + t*(b[k+1].low-b[k].low))
		high[i] = f.py(b[k].high + t*(b[k+1].high-b[k].high))
	}
	height := int(f.top) - bottom
	for c := -height; c < n; c += hatchGap {
		f.slant(from, c, low, high)
	}
	f.edges(b)
}

// slant draws those parts of one slanted line that lie between the bounds; it
// crosses the foot of the plot c columns from the band's first.
func (f *frame) slant(from float64, c int, low, high []float64) {
	begin := -1
	for i := max(c, 0); i <= len(low); i++ {
		y := float64(bottom + i - c)
		inside := i < len(low) && y >= low[i] && y <= high[i]
		if inside && begin < 0 {
			begin = i
		}
		if !inside && begin >= 0 {
			f.line(pen(grey, 1), from+float64(begin), float64(bottom+begin-c), from+float64(i-1), float64(bottom+i-1-c))
			begin = -1
		}
	}
}

// edges draws the bounds thin and the median dotted.
func (f *frame) edges(b []bandPoint) {
	for i := 1; i < len(b); i++ {
		x0, x1 := f.px(b[i-1].day), f.px(b[i].day)
		f.line(pen(grey, 1), x0, f.py(b[i-1].low), x1, f.py(b[i].low))
		f.line(pen(grey, 1), x0, f.py(b[i-1].high), x1, f.py(b[i].high))
	}
	f.median(b)
}

// median dots the expected curve. The dots are set by hand, a pixel distance
// apart: a dash pattern would begin anew at each point of a fine band.
func (f *frame) median(b []bandPoint) {
	const gap = 7
	left := 0.0 // still to go to the next dot
	for i := 1; i < len(b); i++ {
		x0, y0, x1, y1 := f.px(b[i-1].day), f.py(b[i-1].mid), f.px(b[i].day), f.py(b[i].mid)
		length := math.Hypot(x1-x0, y1-y0)
		for ; left < length; left += gap {
			t := left / length
			x, y := x0+t*(x1-x0), y0+t*(y1-y0)
			f.line(pen(black, 2.5), x-1.25, y, x+1.25, y)
		}
		left -= length
	}
}
