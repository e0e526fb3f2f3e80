package chart

import (
	"errors"
	"image"
	"image/draw"
	"image/png"
	"io"
	"time"

	"mustbook/ferment"
)

// Size of a picture in pixels.
const (
	Width  = 720
	Height = 480
)

// ErrNothing is returned where no batch has a gravity that counts.
var ErrNothing = errors.New("no gravity to draw yet")

// Band is the gravity to expect (SG at 20 °C): the slices run in parallel and in
// order of time. Points that are not finite are left out, and so is what one
// slice has more than another.
type Band struct {
	At             []time.Time
	Low, Mid, High []float64
}

// Series is one batch to draw. Band may be nil; State may not.
type Series struct {
	State *ferment.State
	Band  *Band
}

// most is how many curves can be told apart by dash and ring.
const most = 4

// PNG draws one batch, or up to four side by side, and writes the picture.
// Readings that do not count, and those outside 0.8 to 1.6, are not drawn.
// Of more than four batches the first four that have readings are drawn.
// It returns ErrNothing where none has a reading, else the writer's errors.
func PNG(w io.Writer, s []Series, zone *time.Location) error {
	p, err := plan(s, zone)
	if err != nil {
		return err
	}
	f := newFrame(p)
	if p.single() {
		f.title(p.curves[0].name + ": gravity at 20 °C")
	} else {
		f.title("Gravity at 20 °C by day since the yeast")
	}
	f.axes()
	f.thresholds(p.thresholds())
	for i, c := range p.curves {
		f.hatch(c.band)
		f.trace(c, styles[i])
	}
	if p.single() {
		f.stalks(p)
		f.temperatures(p)
	} else {
		f.names(p)
	}
	return encode(w, f.canvas.Image())
}

// encode writes a picture in shades of grey: a third of the bytes of colour, on a
// connection that may be a cellar's.
func encode(w io.Writer, src image.Image) error {
	grey := image.NewGray(src.Bounds())
	draw.Draw(grey, grey.Bounds(), src, src.Bounds().Min, draw.Src)
	return png.Encode(w, grey)
}

// picture is what is going to be drawn, before any pixel.
type picture struct {
	curves []curve
	zone   *time.Location
	x, y   span
	xs, ys []tick
}

// single reports a picture of one batch, with dates instead of days.
func (p *picture) single() bool { return len(p.curves) == 1 }

// plan settles what is drawn and both axes. Batches without a reading are passed
// over, so that a new year beside two old ones is no error. Where one is left it
// is drawn like a single one, with its dates.
func plan(s []Series, zone *time.Location) (*picture, error) {
	if zone == nil {
		zone = time.UTC
	}
	p := &picture{zone: zone}
	drawn := 0
	for _, one := range s {
		if hasReadings(one.State) {
			drawn++
		}
	}
	for _, one := range s {
		if hasReadings(one.State) && len(p.curves) < most {
			p.curves = append(p.curves, newCurve(one, zone, drawn > 1))
		}
	}
	if len(p.curves) == 0 {
		return nil, ErrNothing
	}
	p.x, p.y = spanX(p.curves), spanY(p.curves)
	if p.single() {
		p.xs = dates(p.x, p.curves[0].origin)
	} else {
		p.xs = days(p.x)
	}
	p.ys = gravities(p.y)
	return p, nil
}
