package chart

import (
	"math/rand"
	"slices"
	"testing"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"

	"mustbook/bot/letters"
	"mustbook/ferment"
)

// However doings fall, no word covers a word and no stalk runs through one.
func TestWordsKeepApart(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	var names []string
	for n := range ranks {
		names = append(names, n)
	}
	for range 200 {
		var ds []doing
		for range 1 + rnd.Intn(14) {
			n := names[rnd.Intn(len(names))]
			ds = append(ds, doing{day: rnd.Float64() * 600, word: n, rank: ranks[n]})
		}
		flags, _ := lay(ds, func(d float64) float64 { return left + d }, right)
		if len(flags) == 0 {
			t.Fatal("nothing laid")
		}
		for i, a := range flags {
			if a.a < 0 || a.b > Width {
				t.Errorf("%q runs off the sheet: %v to %v", a.doing.word, a.a, a.b)
			}
			for j, b := range flags {
				if i != j && a.lane == b.lane && a.a < b.b && b.a < a.b {
					t.Errorf("%q covers %q", a.doing.word, b.doing.word)
				}
				if i != j && a.lane >= b.lane && b.a < a.x && a.x < b.b {
					t.Errorf("the stalk of %q runs through %q", a.doing.word, b.doing.word)
				}
			}
		}
	}
}

// Stirring is not drawn, two rackings of a day are one word, the yeast is kept
// where room is short.
func TestWhichDoings(t *testing.T) {
	s := demo("x", []float64{0, 1, 2}, []float64{1.09, 1.08, 1.07},
		map[float64]string{0.5: ferment.DeedStirred, 1: ferment.DeedRacked, 1.01: ferment.DeedRacked})
	p, err := plan([]Series{{s, nil}}, Look{})
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	for _, d := range p.curves[0].doings(nil) {
		count[d.word]++
	}
	if count["stirred"] != 0 || count["racked"] != 1 || count["pitched"] != 1 {
		t.Errorf("doings %v", count)
	}
}

// Every letter that is let through has a shape in the font; so have the marker
// and the arrow.
func TestFontHasLetters(t *testing.T) {
	cache := typeset().(text.Plain).Fonts
	face := cache.Lookup(font.Font{Typeface: "Liberation", Variant: "Sans"}, small)
	for r := rune(0); r < 0x3000; r++ {
		if !letters.Has(r) && r != letters.Missing && r != '→' {
			continue
		}
		if g, err := face.Face.GlyphIndex(nil, r); err != nil || g == 0 {
			t.Errorf("no shape for %U %c", r, r)
		}
	}
}

// Four names at the ends of four like curves do not cover each other.
func TestNamesKeepApart(t *testing.T) {
	p, err := plan([]Series{{damson(), nil}, {damson(), nil}, {damson(), nil}, {damson(), nil}}, Look{})
	if err != nil {
		t.Fatal(err)
	}
	f := newFrame(p)
	var taken []box
	for _, c := range p.curves {
		b := f.beside(c.last(), 90, taken, f.ink(p))
		if covered(b, taken) || b.x1 > Width || b.y0 < bottom {
			t.Errorf("name at %v, others at %v", b, taken)
		}
		taken = append(taken, b)
	}
}

// A row of temperatures takes the ferment's own, and does not mix in the room's.
func TestDegrees(t *testing.T) {
	s := young()
	s.Temps = append(s.Temps, ferment.Temperature{At: after(1), C: 9, From: "room"})
	p, err := plan([]Series{{s, nil}}, Look{})
	if err != nil {
		t.Fatal(err)
	}
	ds, of := p.curves[0].degrees()
	if of != "must" || len(ds) != 5 {
		t.Errorf("%d temperatures of the %s", len(ds), of)
	}
	p.curves[0].state.Temps = s.Temps[len(s.Temps)-1:]
	if ds, of = p.curves[0].degrees(); of != "room" || len(ds) != 1 {
		t.Errorf("%d temperatures of the %s", len(ds), of)
	}
}

// Sugar that went in the day before the first reading stands on the sheet; fruit
// bought a month before it does not.
func TestEarlyDoings(t *testing.T) {
	s := young()
	s.Additions = append(s.Additions, ferment.Addition{Material: "sugar", At: after(-1)}, ferment.Addition{Material: "fruit", At: after(-30)})
	p, err := plan([]Series{{s, nil}}, Look{})
	if err != nil {
		t.Fatal(err)
	}
	var words []string
	for _, fl := range newFrame(p).flags {
		words = append(words, fl.doing.word)
		if fl.x < left {
			t.Errorf("%q stands left of the axis", fl.doing.word)
		}
	}
	if !slices.Contains(words, "+ sugar") || slices.Contains(words, "+ fruit") {
		t.Errorf("words %q", words)
	}
}
