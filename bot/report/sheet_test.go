package report

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// picture is a PNG of the size the chart package draws.
func picture(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 720, 480))); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func mustSheet(t testing.TB, s *ferment.State, pic []byte, letter bool) document {
	t.Helper()
	var b bytes.Buffer
	if err := sheet(&b, s, pic, house(letter), today, false); err != nil {
		t.Fatal(err)
	}
	return mustRead(t, b.Bytes())
}

// inside checks that every text begins and ends on the paper, and that none is
// set over another.
func inside(t *testing.T, d document) {
	t.Helper()
	type spot struct {
		page int
		x, y float64
	}
	seen := map[spot]string{}
	for _, p := range d.texts {
		if p.x < 5 || p.y < 5 || p.x > d.width-5 || p.y > d.height-5 {
			t.Errorf("%q is set at %.1f, %.1f", p.text, p.x, p.y)
		}
		at := spot{p.page, math.Round(p.x), math.Round(p.y)}
		if other, ok := seen[at]; ok {
			t.Errorf("%q is set over %q", p.text, other)
		}
		seen[at] = p.text
	}
}

func TestSheetHoldsTheRecord(t *testing.T) {
	d := mustSheet(t, damson(), picture(t), false)
	for _, want := range []string{"Damson 26", "batch 4, country, bottled", "K-4711", "L22", "1.058", "racked", "Ana", "egg white",
		"1.5 kg", "sulphites, egg", "Tastes of plum stones", "taken as read", "page 1 of 1", "2 May 2027", "6 Oct 2026 18:00", "11 of 750 ml"} {
		if _, ok := d.has(want); !ok {
			t.Errorf("no %q on the sheet:\n%s", want, d)
		}
	}
	inside(t, d)
	if d.pages != 1 {
		t.Errorf("%d pages", d.pages)
	}
}

// What was typed and what it means stand on one line, typed first. A must at
// 26 °C reads 0.001 to 0.002 low (hydrometer correction tables, from memory).
func TestTypedAndMeant(t *testing.T) {
	g := sg(-0.1, 1.072)
	temp26 := ferment.Entry{Quantity: ferment.QTemp, Value: 26, Has: true, Unit: "C", Type: "sample", At: g.At, Message: 99, Ordinal: 1}
	g.Message = 99
	d := mustSheet(t, folded("x", g, temp26), nil, false)
	temp, ok := d.has("26 °C")
	line := ""
	for _, p := range d.texts {
		if p.y == temp.y {
			line += p.text + "; "
		}
	}
	if a, b := "1.072; 26 °C; 1.073; ", "1.072; 26 °C; 1.074; "; !ok || !strings.Contains(line, a) && !strings.Contains(line, b) {
		t.Errorf("the line reads %q", line)
	}
}

// The sizes of A4 are ISO 216's, of Letter 8.5 × 11 inches (ANSI/ASME Y14.1).
func TestPaper(t *testing.T) {
	for letter, want := range map[bool][2]float64{false: {210, 297}, true: {215.9, 279.4}} {
		d := mustSheet(t, damson(), picture(t), letter)
		if math.Abs(d.width-want[0]) > 0.1 || math.Abs(d.height-want[1]) > 0.1 {
			t.Errorf("letter %v: %.1f × %.1f mm", letter, d.width, d.height)
		}
		inside(t, d)
	}
}

// The graph keeps its shape, 3 to 2, lies inside the margins, and the lists
// begin below it.
func TestPicture(t *testing.T) {
	d := mustSheet(t, damson(), picture(t), false)
	if len(d.images) != 1 {
		t.Fatalf("%d pictures", len(d.images))
	}
	m := d.images[0]
	if x, y, w, h := m[0], m[1], m[2], m[3]; math.Abs(w/h-1.5) > 0.01 || x < 15 || x+w > 195.1 || w < 90 || d.height-y-h < 15 {
		t.Errorf("picture at %v", m)
	}
	if list, ok := d.has("Readings"); !ok || list.y < d.height-m[1] {
		t.Errorf("readings at %v, the picture's foot at %.1f", list, d.height-m[1])
	}
	if err := Sheet(io.Discard, damson(), []byte("GIF89a"), house(false), today); !errors.Is(err, errBadPicture) {
		t.Errorf("a picture that is none: %v", err)
	}
	if d := mustSheet(t, damson(), nil, false); len(d.images) != 0 {
		t.Error("a picture out of nothing")
	}
}

// Two pages hold any batch; what is left out is counted, and first and last stay.
func TestLongBatch(t *testing.T) {
	var es []ferment.Entry
	for i := range 300 {
		es = append(es, sg(float64(i)/4, 1.090-float64(i)*0.0003), did(float64(i)/4+0.1, ferment.DeedStirred),
			word(float64(i)/4, ferment.QNote, fmt.Sprintf("note %d %s", i, strings.Repeat("and so on ", 30))))
	}
	for _, letter := range []bool{false, true} {
		d := mustSheet(t, folded("Long", es...), picture(t), letter)
		if d.pages != 2 {
			t.Errorf("letter %v: %d pages", letter, d.pages)
		}
		for _, want := range []string{"lines left out", "note 0 ", "1.090", "page 2 of 2", "continued"} {
			if _, ok := d.has(want); !ok {
				t.Errorf("letter %v: no %q", letter, want)
			}
		}
		inside(t, d)
	}
}

func TestOddBatches(t *testing.T) {
	hostile := folded("梅酒 \u202e\x00 <b>(x) \\) Tj\nET "+strings.Repeat("W", 400), sg(0, 1.09), did(0.1, ferment.DeedPitched),
		word(1, ferment.QNote, strings.Repeat("مشمش 🍷 ", 200)), word(1, ferment.QNote, strings.Repeat("x", 3000)),
		added(1, "🍯 \xff honey (wild)", 2, "kg"), word(1, ferment.QKitSerial, strings.Repeat("9", 90)))
	for name, s := range map[string]*ferment.State{"empty": {N: 7}, "single": folded("One", sg(0, 1.074)), "hostile": hostile,
		"not finite": {N: 1, Name: "x", ABVKnown: true, ABV: liquid.PercentVol(math.NaN()), SugarKnown: true, SugarLeft: math.Inf(1),
			Readings: []ferment.Reading{{SG: liquid.Gravity(math.NaN()), Counts: true}}}} {
		d := mustSheet(t, s, picture(t), false)
		if d.pages < 1 || d.pages > 2 || len(d.texts) < 4 {
			t.Errorf("%s: %d pages, %d texts", name, d.pages, len(d.texts))
		}
		inside(t, d)
		for _, p := range d.texts {
			if strings.ContainsAny(p.text, "\n\x00\u202e梅🍷") {
				t.Errorf("%s: %q is on the page", name, p.text)
			}
		}
	}
	if d := mustSheet(t, hostile, nil, false); !strings.HasPrefix(d.texts[0].text, "□ <b>(x) \\) Tj ET W") {
		t.Errorf("name %q", d.texts[0].text)
	}
	if err := Sheet(io.Discard, nil, nil, house(false), today); !errors.Is(err, ErrNoBatch) {
		t.Errorf("no batch: %v", err)
	}
}

// The same record gives the same bytes, in which the fonts are embedded.
func TestSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []io.Writer{&a, &b} {
		if err := Sheet(w, damson(), picture(t), house(false), today); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two sheets of one batch differ")
	}
	if bytes.Count(a.Bytes(), []byte("/FontFile2")) != 2 {
		t.Error("the two fonts are not both in the file")
	}
}

func TestShare(t *testing.T) {
	for _, c := range []struct {
		need []int
		room int
		want []int
	}{
		{[]int{3, 4}, 10, []int{3, 4}}, {[]int{30, 2, 30}, 22, []int{10, 2, 10}}, {[]int{5}, 0, []int{0}}, {nil, 5, []int{}},
	} {
		if got := share(c.need, c.room); fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%v in %d: %v", c.need, c.room, got)
		}
	}
	rows := make([]row, 10)
	for i := range rows {
		rows[i] = row{fmt.Sprint(i)}
	}
	if got := fmt.Sprint(shorten(rows, 5)); got != "[[0] [1] [… 6 lines left out here; the book has them] [8] [9]]" {
		t.Errorf("shortened to %s", got)
	}
}

func BenchmarkSheet(b *testing.B) {
	s, pic := damson(), picture(b)
	for b.Loop() {
		if err := Sheet(io.Discard, s, pic, house(false), today); err != nil {
			b.Fatal(err)
		}
	}
}

// A US house reads gallons, ounces and °F, one with a decimal comma commas; what was
// typed stays as it was. 9 L are 2.38 US gal of 3.785411784 L, 1.5 kg are 52.9 oz of
// 28.349523125 g (NIST Handbook 44, appendix C).
func TestUnitsOfTheHouse(t *testing.T) {
	var b bytes.Buffer
	if err := sheet(&b, damson(), nil, house(true), today, false); err != nil {
		t.Fatal(err)
	}
	d := mustRead(t, b.Bytes())
	for _, want := range []string{"2.38 US gal", "3.31 lb (1.5 kg)", "gravity at 68 °F", "1.2 kg", "1.058"} {
		if _, ok := d.has(want); !ok {
			t.Errorf("no %q on the sheet of a US house:\n%s", want, d)
		}
	}
	inside(t, d)
	b.Reset()
	comma := Look{Figures: say.Style{Comma: true}}
	if err := sheet(&b, damson(), nil, comma, today, false); err != nil {
		t.Fatal(err)
	}
	d = mustRead(t, b.Bytes())
	for _, want := range []string{"1,090", "1,5 kg", "9,7 L", "gravity at 20 °C", "1.058"} { // the last as it was typed
		if _, ok := d.has(want); !ok {
			t.Errorf("no %q with a decimal comma:\n%s", want, d)
		}
	}
	if l := LabelText(&ferment.State{N: 1, ABVKnown: true, ABV: 12.72}, comma); l[1] != "about 12,5 % vol" {
		t.Errorf("label %q", l)
	}
}

// A taste and a fault are words, told once, among the notes; what was done with a word
// beside it stays a doing.
func TestTasteIsToldOnce(t *testing.T) {
	base := sg(0, 1.020)
	word := func(deed string, q ferment.Quantity, text string, n int64) ferment.Entry {
		return ferment.Entry{ID: 900 + n, Root: 900 + n, Message: 900 + n, Quantity: q, Deed: deed, Text: text, At: base.At.Add(time.Hour), AuthorName: "Ana"}
	}
	d := mustSheet(t, folded("x", base, word(ferment.DeedTasted, ferment.QNote, "sharp, plummy", 1), word(ferment.DeedFault, ferment.QFault, "struck matches", 2),
		word(ferment.DeedRacked, ferment.QNote, "clear and bright", 3), word(ferment.DeedTasted, ferment.QEvent, "", 4)), nil, false)
	for text, want := range map[string]int{"sharp, plummy": 1, "struck matches": 1, "tasted": 2, "racked": 1, "clear and bright": 1, "fault noted": 0} {
		got := 0
		for _, p := range d.texts {
			got += strings.Count(p.text, text)
		}
		if got != want {
			t.Errorf("%q stands %d times on the sheet, want %d:\n%s", text, got, want, d)
		}
	}
}
