package chart

import (
	"image/color"
	"sync"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/font/liberation"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// Edges of the plot in pixels from the lower left of the picture. Above it lie
// the title and as many lanes of words as are used, below it dates and
// temperatures.
const (
	left    = 74
	right   = Width - 18
	bottom  = 66
	ceiling = Height - 44 // where there are no words
	lane    = 22          // height of a lane of words
)

// Sizes of letters in pixels: a phone shows the picture at half its size, and
// the smallest must still be read there.
const (
	big   = 23
	mid   = 20
	small = 18
)

// Greys. None is lighter than what a cheap printer still shows.
var (
	black = color.Gray{0}
	dark  = color.Gray{70}
	grey  = color.Gray{120}
	white = color.Gray{255}
)

// typeset makes letters into shapes. Its fonts are parsed once; the cache locks
// by itself.
var typeset = sync.OnceValue(func() text.Handler {
	return text.Plain{Fonts: font.NewCache(liberation.Collection())}
})

// frame is the sheet that a picture is drawn on. One point is one pixel, and y
// grows upwards.
type frame struct {
	canvas *vgimg.Canvas
	draw.Canvas
	x, y   span
	xs, ys []tick
	flags  []flag
	late   []doing
	top    float64
}

// newFrame takes a white sheet and lays the words first: their lanes say how high
// the plot may reach.
func newFrame(p *picture) *frame {
	c := vgimg.NewWith(vgimg.UseWH(Width, Height), vgimg.UseDPI(72), vgimg.UseBackgroundColor(color.White))
	f := &frame{canvas: c, Canvas: draw.New(c), x: p.x, y: p.y, xs: p.xs, ys: p.ys, top: ceiling}
	if p.single() {
		f.flags, f.late = lay(p.curves[0].doings(p.look.Zone), f.px, right)
	}
	for _, fl := range f.flags {
		f.top = min(f.top, ceiling-lane*float64(fl.lane+1))
	}
	return f
}

// px is a day in pixels.
func (f *frame) px(day float64) float64 {
	return left + (day-f.x.low)/(f.x.high-f.x.low)*(right-left)
}

// py is a gravity in pixels.
func (f *frame) py(sg float64) float64 {
	return bottom + (sg-f.y.low)/(f.y.high-f.y.low)*(f.top-bottom)
}

// pen is a line style; dashes are in pixels, ink first.
func pen(c color.Color, width float64, dashes ...float64) draw.LineStyle {
	sty := draw.LineStyle{Color: c, Width: vg.Length(width)}
	for _, d := range dashes {
		sty.Dashes = append(sty.Dashes, vg.Length(d))
	}
	return sty
}

// line draws a straight line between two places in pixels.
func (f *frame) line(sty draw.LineStyle, x0, y0, x1, y1 float64) {
	f.StrokeLine2(sty, vg.Length(x0), vg.Length(y0), vg.Length(x1), vg.Length(y1))
}

// lettering returns how text of a size is set: ax and ay shift it by that part of
// its own width and height.
func lettering(size, ax, ay float64) draw.TextStyle {
	return draw.TextStyle{Color: black, Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Length(size)},
		XAlign: text.XAlignment(ax), YAlign: text.YAlignment(ay), Handler: typeset()}
}

// width is that of a text in pixels.
func width(size float64, s string) float64 { return float64(lettering(size, 0, 0).Width(s)) }

// put sets text with its left end, middle or right end (ax 0, -0.5, -1) at x and
// its foot on y.
func (f *frame) put(size, ax, x, y float64, s string) {
	f.FillText(lettering(size, ax, 0), vg.Point{X: vg.Length(x), Y: vg.Length(y)}, s)
}

// title sets the heading, and right of it what lies beyond the dates.
func (f *frame) title(s string) {
	f.put(big, 0, 12, Height-28, s)
	f.lateWord(s)
}

// axes draws the two axes and their figures. The figure of a date that would run
// over the edge is pushed back in.
func (f *frame) axes() {
	sty := pen(black, 1.5)
	f.line(sty, left, bottom, right, bottom)
	f.line(sty, left, bottom, left, f.top)
	for _, t := range f.ys {
		y := f.py(t.at)
		f.line(sty, left-6, y, left, y)
		f.put(mid, -1, left-9, y-7, t.text)
	}
	for _, t := range f.xs {
		x := f.px(t.at)
		f.line(sty, x, bottom-6, x, bottom)
		half := width(small, t.text) / 2
		f.put(small, -0.5, min(x, Width-2-half), bottom-24, t.text)
	}
}

// caption says, below the figures, what the axis counts.
func (f *frame) caption(s string) {
	f.put(small, -0.5, (left+right)/2, 14, s)
}

// thresholds draws thin lines across with their number where the curves and the
// stalks leave room, from the left on; the lower of two that lie close is named below.
func (f *frame) thresholds(ts []tick, p *picture) {
	ink := f.ink(p)
	for _, fl := range f.flags {
		ink = append(ink, box{fl.x - 2, bottom, fl.x + 2, ceiling})
	}
	for i, t := range ts {
		y := f.py(t.at)
		if t.at < f.y.low || t.at > f.y.high {
			continue
		}
		f.line(pen(grey, 1), left, y, right, y)
		at := y + 4
		if i+1 < len(ts) && f.py(ts[i+1].at)-y < small+4 && y-bottom > small+2 {
			at = y - small + 1
		}
		x, w := float64(left+8), width(small, t.text)
		for at0 := x; at0+w < right-8; at0 += 8 {
			if !covered(box{at0, at - below, at0 + w, at + small}, ink) {
				x = at0
				break
			}
		}
		f.put(small, 0, x, at, t.text)
	}
}

// thresholds of a picture, from low to high: 1.000, and where all that are drawn
// may be racked.
func (p *picture) thresholds() []tick {
	ts := []tick{{1, "1.000"}}
	rack, shared := p.curves[0].state.Plan.RackAt, true
	for _, c := range p.curves {
		shared = shared && c.state.Plan.RackAt == rack
	}
	switch {
	case !plausible(rack) || !shared: // one line would be wrong for the others
	case rack > 1.0005:
		ts = append(ts, tick{rack, "rack at " + gravity(rack)})
	case rack < 0.9995:
		ts = append([]tick{{rack, "rack at " + gravity(rack)}}, ts...)
	default:
		ts[0].text = "rack at 1.000"
	}
	for i := range ts {
		ts[i].text = p.look.decimal(ts[i].text)
	}
	return ts
}
