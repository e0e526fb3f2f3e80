package chart

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// doubt is what a reader of a hydrometer may be off by, SG (common practice, no source).
const doubt = 0.001

// style tells curves apart without colour: sides of the ring and dashes.
type style struct {
	sides  int // 0: a round ring
	turn   float64
	dashes []float64
}

// styles of up to four curves; a single one has the first.
var styles = [Most]style{
	{sides: 0},
	{sides: 4, turn: math.Pi / 4, dashes: []float64{12, 6}},
	{sides: 3, turn: math.Pi / 2, dashes: []float64{3, 5}},
	{sides: 4, dashes: []float64{14, 5, 3, 5}},
}

// ringRadius in pixels: large enough that its shape is seen at half size.
const ringRadius = 7

// trace draws a curve: lines between readings, then rings over them.
func (f *frame) trace(c curve, sty style) {
	var pts []vg.Point
	for _, p := range c.points {
		pts = append(pts, vg.Point{X: vg.Length(f.px(p.day)), Y: vg.Length(f.py(p.sg))})
	}
	if len(pts) > 1 {
		f.StrokeLines(pen(dark, 1.6, sty.dashes...), pts)
	}
	for i, p := range c.points {
		f.ring(pts[i], sty, ringRadius)
		f.bar(float64(pts[i].X), f.py(p.sg-doubt), f.py(p.sg+doubt))
	}
}

// ring draws an open ring; its middle is white, so that the line ends at it.
func (f *frame) ring(at vg.Point, sty style, radius float64) {
	path := outline(at, radius, sty)
	f.SetColor(white)
	f.Fill(path)
	f.SetLineStyle(pen(black, 2))
	f.Stroke(path)
}

// outline is a ring's path: a circle, or a figure of so many sides.
func outline(at vg.Point, radius float64, sty style) vg.Path {
	var p vg.Path
	if sty.sides == 0 {
		p.Move(vg.Point{X: at.X + vg.Length(radius), Y: at.Y})
		p.Arc(at, vg.Length(radius), 0, 2*math.Pi)
		p.Close()
		return p
	}
	radius *= 1.25 // corners reach further than a circle of the same look
	for i := range sty.sides {
		sin, cos := math.Sincos(sty.turn + 2*math.Pi*float64(i)/float64(sty.sides))
		q := vg.Point{X: at.X + vg.Length(radius*cos), Y: at.Y + vg.Length(radius*sin)}
		if i == 0 {
			p.Move(q)
		} else {
			p.Line(q)
		}
	}
	p.Close()
	return p
}

// bar draws an error bar with its two ends.
func (f *frame) bar(x, low, high float64) {
	const half = 3
	sty := pen(black, 1)
	f.line(sty, x, low, x, high)
	f.line(sty, x-half, low, x+half, low)
	f.line(sty, x-half, high, x+half, high)
}

// halo sets text on a patch of white, so that a line behind it does not cross it.
func (f *frame) halo(size, ax, x, y float64, s string) {
	w := width(size, s)
	x0 := x + ax*w
	f.FillPolygon(white, []vg.Point{
		{X: vg.Length(x0 - 2), Y: vg.Length(y - 4)}, {X: vg.Length(x0 + w + 2), Y: vg.Length(y - 4)},
		{X: vg.Length(x0 + w + 2), Y: vg.Length(y + size - 3)}, {X: vg.Length(x0 - 2), Y: vg.Length(y + size - 3)},
	})
	f.put(size, ax, x, y, s)
}

// gravity renders a gravity to the thousandth.
func gravity(sg float64) string { return strconv.FormatFloat(sg, 'f', 3, 64) }
