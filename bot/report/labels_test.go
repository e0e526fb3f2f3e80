package report

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

// The lines are those of the trade's page: name, year, alcohol about, taste,
// allergens, bottling, home made, number.
func TestLabelText(t *testing.T) {
	s := &ferment.State{N: 4, Name: "Damson", Began: after(0), ABVKnown: true, ABV: 12.72, Bottled: after(200),
		SugarKnown: true, SugarLeft: 3, Allergens: []string{"sulphites", "egg"}}
	want := []string{"Damson", "2026", "about 12.5 % vol, dry", "contains sulphites, egg", "bottled 21 Apr 2027", "home made, not for sale", "batch 4"}
	if got := LabelText(s, house(false)); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if got := LabelText(&ferment.State{N: 9}, house(false)); !slices.Equal(got, []string{"Batch 9", "contains sulphites", "home made, not for sale", "batch 9"}) {
		t.Errorf("nothing known: %q", got)
	}
	if got := LabelText(nil, house(false)); got != nil {
		t.Errorf("no batch: %q", got)
	}
	if LabelText(damson(), house(false))[0] != "Damson 26" {
		t.Error("name")
	}
}

// To the nearest half: 12.74 is 12.5, 12.75 is 13.0.
func TestHalves(t *testing.T) {
	for v, want := range map[float64]string{12.74: "12.5", 12.75: "13.0", 12.25: "12.5", 12.249: "12.0", 0: "0.0"} {
		if got := house(false).halves(liquid.PercentVol(v)); got != want {
			t.Errorf("%v: %s, want %s", v, got, want)
		}
	}
}

func TestTaste(t *testing.T) {
	for want, s := range map[string]*ferment.State{
		"sweet": {Sweetened: after(1)}, "dry": {Stop: ferment.Stop{Verdict: ferment.StopDry}},
		"": {SugarKnown: true, SugarLeft: 60}, // still at work
	} {
		if got := taste(s); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Sulphites go unnamed only after a test below 10 mg/L (Regulation (EU)
// 1169/2011, annex II) that no sulphite followed.
func TestSulphites(t *testing.T) {
	test := func(mg float64, at time.Time) *ferment.Measure { return &ferment.Measure{Value: mg, At: at} }
	for i, c := range []struct {
		s     ferment.State
		named bool
	}{
		{ferment.State{}, true},
		{ferment.State{TotalSO2: test(10, after(9))}, true},
		{ferment.State{TotalSO2: test(9.9, after(9))}, false},
		{ferment.State{TotalSO2: test(5, after(9)), Sulphited: after(10)}, true},
		{ferment.State{TotalSO2: test(5, after(9)), Sulphited: after(8)}, false},
	} {
		if got := slices.Contains(contains(&c.s), "sulphites"); got != c.named {
			t.Errorf("case %d: named %v", i, got)
		}
	}
}

func mustLabels(t *testing.T, s *ferment.State, letter bool) document {
	t.Helper()
	var b bytes.Buffer
	if err := labels(&b, s, house(letter), false); err != nil {
		t.Fatal(err)
	}
	return mustRead(t, b.Bytes())
}

// Eight labels on a page of either paper, each with its own warnings.
func TestLabels(t *testing.T) {
	for _, letter := range []bool{false, true} {
		d := mustLabels(t, damson(), letter)
		names, warned := 0, 0
		for _, p := range d.texts {
			if p.text == "Damson 26" {
				names++
			}
			if p.text == "contains sulphites, egg" {
				warned++
			}
		}
		if names != 8 || warned != 8 || d.pages != 1 {
			t.Errorf("letter %v: %d names, %d warnings, %d pages", letter, names, warned, d.pages)
		}
		inside(t, d)
	}
}

// No allergen is cut off, however many there are and however long the name is,
// and nothing leaves its label.
func TestCrowdedLabel(t *testing.T) {
	s := damson()
	s.Name = strings.Repeat("damson and greengage ", 3) + "梅"
	s.Allergens = []string{"sulphites", "egg", "milk", "fish", "shellfish", "gelatine", "nuts", "gluten"}
	d := mustLabels(t, s, false)
	one := ""
	for _, p := range d.texts {
		if p.x < d.width/2 && p.y < (d.height-240)/2+labelHeight {
			one += p.text + " "
			if p.y > (d.height-240)/2+labelHeight-2 || p.size < 6 {
				t.Errorf("%q at %.1f in %.1f pt", p.text, p.y, p.size)
			}
		}
	}
	for _, a := range append(s.Allergens, "not for sale", "batch 4") {
		if !strings.Contains(one, a) {
			t.Errorf("no %s on %q", a, one)
		}
	}
}

func TestLabelErrors(t *testing.T) {
	if err := Labels(io.Discard, nil, house(false)); !errors.Is(err, ErrNoBatch) {
		t.Errorf("no batch: %v", err)
	}
	var a, b bytes.Buffer
	if err := errors.Join(Labels(&a, &ferment.State{N: 1}, house(true)), Labels(&b, &ferment.State{N: 1}, house(true))); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("%v; the same labels in %d and %d bytes", err, a.Len(), b.Len())
	}
}
