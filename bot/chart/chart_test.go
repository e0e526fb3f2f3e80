package chart

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

func mustDraw(t testing.TB, s ...Series) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := PNG(&b, s, time.UTC); err != nil {
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
		if err := PNG(w, []Series{{young(), ahead(4)}}, nil); err != nil {
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
		if err := PNG(&b, s, nil); !errors.Is(err, ErrNothing) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
	}
}

// Each reading that counts has a ring at its place: dark around, white in it but
// for the error bar, wherever on the sheet that is.
func TestRings(t *testing.T) {
	s := damson()
	m := mustDraw(t, Series{s, nil})
	p, err := plan([]Series{{s, nil}}, nil)
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
	p, err := plan(s, nil)
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
	p, err := plan([]Series{{damson(), nil}, {State: &ferment.State{}}, {old, nil}}, nil)
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

// A household waits for the picture: 50 ms are allowed.
func BenchmarkPNG(b *testing.B) {
	s := []Series{{young(), ahead(4)}}
	for b.Loop() {
		if err := PNG(io.Discard, s, time.UTC); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPNGFour(b *testing.B) {
	s := []Series{{damson(), nil}, {young(), nil}, {damson(), nil}, {young(), nil}}
	for b.Loop() {
		if err := PNG(io.Discard, s, time.UTC); err != nil {
			b.Fatal(err)
		}
	}
}
