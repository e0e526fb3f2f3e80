package chart

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

func mustDraw(t testing.TB, s ...Series) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := PNG(&b, s, Look{}); err != nil {
		t.Fatal(err)
	}
	m, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// ink is the share of a rectangle that is not white. Its corners are in the
// picture's own pixels, y downwards.
func ink(m image.Image, r image.Rectangle) float64 {
	n := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if color.GrayModel.Convert(m.At(x, y)).(color.Gray).Y < 200 {
				n++
			}
		}
	}
	return float64(n) / float64(r.Dx()*r.Dy())
}

func square(x, y, half float64) image.Rectangle {
	return image.Rect(int(x-half), int(Height-y-half), int(x+half)+1, int(Height-y+half)+1)
}

// 720 px wide, and readable without colour.
func TestSizeAndGreys(t *testing.T) {
	m := mustDraw(t, Series{damson(), nil})
	if m.Bounds() != image.Rect(0, 0, 720, 480) {
		t.Errorf("size %v", m.Bounds())
	}
	if m.ColorModel() != color.GrayModel {
		t.Error("not in greys")
	}
}

func TestSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []io.Writer{&a, &b} {
		if err := PNG(w, []Series{{young(), ahead(4)}}, Look{}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two pictures of one batch differ")
	}
}

func TestNothing(t *testing.T) {
	nan := &ferment.State{Readings: []ferment.Reading{{SG: liquid.Gravity(math.NaN()), Counts: true, At: yeast},
		{SG: liquid.Gravity(math.Inf(1)), Counts: true, At: yeast}, {SG: 1.05, At: yeast}}}
	for name, s := range map[string][]Series{"none": nil, "nil state": {{}}, "no reading": {{State: demo("x", nil, nil, nil)}}, "nothing finite": {{State: nan}}} {
		var b bytes.Buffer
		if err := PNG(&b, s, Look{}); !errors.Is(err, ErrNothing) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
}

// Each reading that counts has a ring at its place: dark around, white in it but
// for the error bar, wherever on the sheet that is.
func TestRings(t *testing.T) {
	s := damson()
	m := mustDraw(t, Series{s, nil})
	p, err := plan([]Series{{s, nil}}, Look{})
	if err != nil {
		t.Fatal(err)
	}
	f := newFrame(p)
	for _, q := range p.curves[0].points {
		x, y := f.px(q.day), f.py(q.sg)
		all, core := ink(m, square(x, y, ringRadius+1)), ink(m, square(x+4, y+2, 0))
		if all < 0.15 || all > 0.7 || core > 0 {
			t.Errorf("day %.1f, %.3f: ink %.2f around, %.2f inside", q.day, q.sg, all, core)
		}
	}
}

func TestOddBatches(t *testing.T) {
	far := demo("far", []float64{0, 36500}, []float64{1.09, 0.99}, nil)
	many := make([]float64, 500)
	sgs := make([]float64, 500)
	for i := range many {
		many[i], sgs[i] = float64(i)/20, 1.09-float64(i)*0.0002
	}
	nan := math.NaN()
	for name, s := range map[string][]Series{
		"single":          {{demo("one", []float64{0}, []float64{1.074}, nil), nil}},
		"same instant":    {{demo("two", []float64{0, 0}, []float64{1.074, 1.072}, nil), nil}},
		"a century":       {{far, nil}},
		"500 readings":    {{demo("many", many, sgs, nil), nil}},
		"flat":            {{demo("flat", []float64{0, 1}, []float64{1, 1}, nil), nil}},
		"low":             {{demo("low", []float64{0, 9}, []float64{1.05, 0.97}, nil), nil}},
		"strong":          {{demo("syrup", []float64{0}, []float64{1.16}, nil), nil}},
		"band of nothing": {{young(), &Band{}}},
		"band of NaN": {{young(), &Band{At: []time.Time{after(5), after(6)}, Low: []float64{nan, 1}, Mid: []float64{1, nan},
			High: []float64{1, 1}}}},
		"ragged band":      {{young(), &Band{At: []time.Time{after(5), after(6)}, Low: []float64{1}}}},
		"backward band":    {{young(), &Band{At: []time.Time{after(6), after(5)}, Low: []float64{1, 1}, Mid: []float64{1, 1}, High: []float64{1.1, 1.1}}}},
		"six side by side": {{damson(), nil}, {young(), nil}, {far, nil}, {damson(), nil}, {damson(), nil}, {damson(), nil}},
	} {
		m := mustDraw(t, s...)
		if got := ink(m, m.Bounds()); got < 0.01 || got > 0.3 {
			t.Errorf("%s: ink %.3f of the sheet", name, got)
		}
	}
}

// A hatch is thin lines: it inks a part of the band, never most of it.
func TestHatch(t *testing.T) {
	s := []Series{{young(), ahead(4)}}
	p, err := plan(s, Look{})
	if err != nil {
		t.Fatal(err)
	}
	f := newFrame(p)
	inside := square(f.px(9), f.py(1.004), 25)
	with, without := ink(mustDraw(t, s...), inside), ink(mustDraw(t, Series{young(), nil}), inside)
	if with < without+0.05 || with > 0.4 {
		t.Errorf("ink %.2f in the band, %.2f without it", with, without)
	}
}

// Curves side by side begin on the day of the yeast, whatever the year, and no
// two share ring and dash.
func TestSideBySide(t *testing.T) {
	old := demoAt("elder 24", yeast.AddDate(-2, 0, 0), []float64{0, 5, 12}, []float64{1.08, 1.04, 0.998}, nil)
	p, err := plan([]Series{{damson(), nil}, {State: &ferment.State{}}, {old, nil}}, Look{})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.curves) != 2 || math.Abs(p.curves[1].points[1].day-5) > 1e-9 || p.xs[0].text != "0" && p.xs[1].text != "0" {
		t.Errorf("curves %d, second at day %v, ticks %v", len(p.curves), p.curves[1].points, p.xs)
	}
	seen := map[string]bool{}
	for _, s := range styles {
		k := string(rune('0'+s.sides)) + "/" + string(rune('0'+int(s.turn*4))) + "/" + string(rune('0'+len(s.dashes)))
		if seen[k] {
			t.Errorf("style %s twice", k)
		}
		seen[k] = true
	}
}

// elders are two invented years of one wine, the newer one slower.
func elders() []Series {
	a := demoAt("elder 25", yeast.AddDate(-1, 0, 0), []float64{0, 1, 4, 9, 20}, []float64{1.085, 1.080, 1.048, 1.012, 0.996}, nil)
	b := demo("elder 26", []float64{0, 2, 5, 10, 18}, []float64{1.092, 1.082, 1.060, 1.035, 1.022}, nil)
	return []Series{{a, nil}, {b, nil}}
}

// Years side by side are told apart without colour: each has a mark of its own, and
// its name where its curve ends. The line of racking stands only where it is one for
// all.
func TestYearsReadable(t *testing.T) {
	s := elders()
	p, err := plan(s, Look{})
	if err != nil {
		t.Fatal(err)
	}
	if h := p.heading(); h != "elder 25, elder 26: gravity at 20 °C" {
		t.Errorf("headed %q", h)
	}
	f, m := newFrame(p), mustDraw(t, s...)
	for i, c := range p.curves {
		end := c.last()
		at := f.beside(end, width(small, c.name), nil, f.ink(p))
		if at.x0 < f.px(end.day) || math.Abs(at.y0+below+small/3-f.py(end.sg)) > ringRadius {
			t.Errorf("%s ends at %.0f, %.0f and is named at %v", c.name, f.px(end.day), f.py(end.sg), at)
		}
		letters := image.Rect(int(at.x0), Height-int(at.y1), int(at.x1), Height-int(at.y0))
		if got := ink(m, letters); got < 0.08 {
			t.Errorf("no name beside curve %d: ink %.2f", i, got)
		}
	}
	if got := len(p.thresholds()); got != 2 {
		t.Errorf("%d lines for two batches racked at the same gravity", got)
	}
	s[1].State.Plan.RackAt = 1.020
	if p, err = plan(s, Look{}); err != nil || len(p.thresholds()) != 1 {
		t.Errorf("%v, %v: lines for two batches racked at different gravities", p.thresholds(), err)
	}
}

// Two batches of one name get their year; of one year, their number.
func TestTellApart(t *testing.T) {
	a, b := elders()[0], elders()[1]
	a.State.Name, b.State.Name = "elder", "Elder"
	p, err := plan([]Series{a, b}, Look{})
	if err != nil || p.curves[0].name != "elder 2025" || p.curves[1].name != "Elder 2026" {
		t.Errorf("%v, %v", p.curves, err)
	}
	b.State.N = 7
	if p, err = plan([]Series{b, b}, Look{}); err != nil || p.curves[0].name != "Elder #7" {
		t.Errorf("%v, %v", p.curves, err)
	}
}

// A house's own marks: 20 °C is 68 °F, and a decimal comma goes through all figures.
func TestLook(t *testing.T) {
	p, err := plan([]Series{{damson(), nil}}, Look{Fahrenheit: true, Comma: true})
	if err != nil {
		t.Fatal(err)
	}
	if h := p.heading(); h != "Damson 26: gravity at 68 °F" {
		t.Errorf("headed %q", h)
	}
	for _, tick := range append(p.ys, p.thresholds()...) {
		if strings.Contains(tick.text, ".") {
			t.Errorf("figure %q", tick.text)
		}
	}
	if l := Text([]Series{{damson(), nil}}, Look{Comma: true}, 41); !strings.HasPrefix(l[1], "1,090|") {
		t.Errorf("%q", l)
	}
}

// A household waits for the picture: 50 ms are allowed.
func BenchmarkPNG(b *testing.B) {
	s := []Series{{young(), ahead(4)}}
	for b.Loop() {
		if err := PNG(io.Discard, s, Look{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNGYears(b *testing.B) {
	s := elders()
	for b.Loop() {
		if err := PNG(io.Discard, s, Look{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNGFour(b *testing.B) {
	s := []Series{{damson(), nil}, {young(), nil}, {damson(), nil}, {young(), nil}}
	for b.Loop() {
		if err := PNG(io.Discard, s, Look{}); err != nil {
			b.Fatal(err)
		}
	}
}
