package chart

import (
	"errors"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io"
	"strings"
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

// Look is how a household reads figures; the zero value is UTC, °C and a decimal
// point. Gravities are those at 20 °C, which is 68 °F, in either.
type Look struct {
	Zone       *time.Location // nil: UTC
	Fahrenheit bool
	Comma      bool // decimal comma
}

// decimal gives a figure the house's decimal mark.
func (l Look) decimal(s string) string {
	if l.Comma {
		return strings.ReplaceAll(s, ".", ",")
	}
	return s
}

// at20 names the temperature that gravities are brought to.
func (l Look) at20() string {
	if l.Fahrenheit {
		return "at 68 °F"
	}
	return "at 20 °C"
}

// Most is how many curves can be told apart by dash and ring.
const Most = 4

// PNG draws one batch, or up to four side by side, and writes the picture.
// Readings that do not count, and those outside 0.8 to 1.6, are not drawn.
// Of more than four batches the first four that have readings are drawn.
// It returns ErrNothing where none has a reading, else the writer's errors.
func PNG(w io.Writer, s []Series, look Look) error {
	p, err := plan(s, look)
	if err != nil {
		return err
	}
	f := newFrame(p)
	f.title(p.heading())
	f.axes()
	f.thresholds(p.thresholds(), p)
	for i, c := range p.curves {
		f.hatch(c.band)
		f.trace(c, styles[i])
	}
	if p.single() {
		f.stalks(p)
		f.temperatures(p)
	} else {
		f.caption("days since the yeast went in")
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
	look   Look
	x, y   span
	xs, ys []tick
}

// single reports a picture of one batch, with dates instead of days.
func (p *picture) single() bool { return len(p.curves) == 1 }

// heading is what the picture shows: the batch, or all of them as long as there is
// room for their names.
func (p *picture) heading() string {
	tail := ": gravity " + p.look.at20()
	if p.single() {
		return p.curves[0].name + tail
	}
	var names []string
	for _, c := range p.curves {
		names = append(names, c.name)
	}
	if t := strings.Join(names, ", ") + tail; 12+width(big, t) < right {
		return t
	}
	return "Gravity " + p.look.at20() + ", side by side"
}

// plan settles what is drawn and both axes. Batches without a reading are passed
// over, so that a new year beside two old ones is no error. Where one is left it
// is drawn like a single one, with its dates.
func plan(s []Series, look Look) (*picture, error) {
	if look.Zone == nil {
		look.Zone = time.UTC
	}
	p := &picture{look: look}
	drawn := 0
	for _, one := range s {
		if hasReadings(one.State) {
			drawn++
		}
	}
	for _, one := range s {
		if hasReadings(one.State) && len(p.curves) < Most {
			p.curves = append(p.curves, newCurve(one, look.Zone, drawn > 1))
		}
	}
	if len(p.curves) == 0 {
		return nil, ErrNothing
	}
	p.tellApart()
	p.x, p.y = spanX(p.curves), spanY(p.curves)
	if p.single() {
		p.xs = dates(p.x, p.curves[0].origin)
	} else {
		p.xs = days(p.x)
	}
	p.ys = gravities(p.y)
	for i := range p.ys {
		p.ys[i].text = look.decimal(p.ys[i].text)
	}
	return p, nil
}

// tellApart gives batches of the same name their year, and where that is the same
// too their number.
func (p *picture) tellApart() {
	alike := func(i int, key func(curve) string) bool {
		n := 0
		for _, c := range p.curves {
			if strings.EqualFold(key(c), key(p.curves[i])) {
				n++
			}
		}
		return n > 1
	}
	name := func(c curve) string { return c.name }
	dated := func(c curve) string { return c.name + c.origin.In(p.look.Zone).Format(" 2006") }
	fresh := make([]string, len(p.curves))
	for i, c := range p.curves {
		switch {
		case !alike(i, name):
			fresh[i] = c.name
		case !alike(i, dated):
			fresh[i] = dated(c)
		default:
			fresh[i] = fmt.Sprintf("%s #%d", c.name, c.state.N)
		}
	}
	for i := range fresh {
		p.curves[i].name = fresh[i]
	}
}
