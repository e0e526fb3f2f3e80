package chart

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"mustbook/ferment"
	"mustbook/ferment/liquid"
)

func TestText(t *testing.T) {
	for _, width := range []int{-1, 0, 25, 33, 41, 200} {
		lines := Text([]Series{{damson(), nil}}, Look{}, width)
		rings := 0
		for _, l := range lines {
			if n := utf8.RuneCountInString(l); n > 41 || width >= 20 && n > width {
				t.Errorf("width %d: %d letters in %q", width, n, l)
			}
			rings += strings.Count(strings.TrimLeft(l[min(6, len(l)):], " "), "o")
		}
		if rings < 5 || len(lines) < 8 || len(lines) > 16 {
			t.Errorf("width %d: %d rings in %d lines", width, rings, len(lines))
		}
	}
}

// A must of 1.090 stands in the row of 1.090, one of 1.050 five rows lower in the
// same picture: rows are 0.010 apart.
func TestTextRows(t *testing.T) {
	lines := Text([]Series{{demo("x", []float64{0, 4}, []float64{1.090, 1.050}, nil), nil}}, Look{}, 41)
	for _, want := range []string{"1.090|", "1.050|"} {
		found := false
		for _, l := range lines[1:] {
			found = found || strings.HasPrefix(l, want) && strings.Contains(l, "o")
		}
		if !found {
			t.Errorf("no reading in the row %s of\n%s", want, strings.Join(lines, "\n"))
		}
	}
}

func TestTextOfNothing(t *testing.T) {
	for _, s := range []*ferment.State{nil, {}, {Readings: []ferment.Reading{{SG: liquid.Gravity(math.NaN()), Counts: true}}}} {
		if got := Text([]Series{{s, nil}}, Look{}, 41); len(got) != 1 || !strings.HasPrefix(got[0], "No gravity") {
			t.Errorf("%q", got)
		}
	}
	if got := Text([]Series{{demo("梅\n梅", []float64{0}, []float64{1.074}, nil), nil}}, Look{}, 20); len(got) < 8 || strings.Contains(got[0], "梅") {
		t.Errorf("%q", got)
	}
}

// Two years in characters: each line of the legend has its mark, and the newer one's
// readings bear it.
func TestTextBeside(t *testing.T) {
	lines := Text(elders(), Look{}, 41)
	all := strings.Join(lines, "\n")
	if lines[1] != "o elder 25" || lines[2] != "x elder 26" || strings.Count(all, "x")-2 < 4 || strings.Contains(all, ":") {
		t.Error(all)
	}
}
