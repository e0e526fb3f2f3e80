package forecast

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func TestClean(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	cases := []struct {
		name    string
		og      float64
		in      []Reading
		day, sg []float64
		start   float64
		assumed bool
	}{
		{"out of order", 0, []Reading{{4, 1.040}, {0, 1.090}, {2, 1.070}}, []float64{0, 2, 4}, []float64{1.090, 1.070, 1.040}, 1.090, false},
		{"the last of the must is the start", 0, []Reading{{-2, 1.060}, {-0.5, 1.085}, {2, 1.070}}, []float64{0, 2}, []float64{1.085, 1.070}, 1.085, false},
		{"a stated start wins", 1.092, []Reading{{-0.5, 1.085}, {2, 1.070}}, []float64{0, 2}, []float64{1.092, 1.070}, 1.092, false},
		{"five hours after the pitch is still must", 0, []Reading{{5.0 / 24, 1.084}, {2, 1.070}}, []float64{0, 2}, []float64{1.084, 1.070}, 1.084, false},
		{"unless it shows a fall", 0, []Reading{{-1, 1.090}, {5.0 / 24, 1.086}}, []float64{0, 5.0 / 24}, []float64{1.090, 1.086}, 1.090, false},
		{"nobody read the must", 0, []Reading{{3, 1.060}, {5, 1.040}}, []float64{3, 5}, []float64{1.060, 1.040}, 1.088, true},
		{"nor was it weak", 0, []Reading{{1, 1.100}}, []float64{1}, []float64{1.100}, 1.105, true},
		{"an hour apart is one sitting", 0, []Reading{{0, 1.090}, {2, 1.070}, {2 + 1.0/24, 1.072}}, []float64{0, 2}, []float64{1.090, 1.071}, 1.090, false},
		{"a repair in the same sitting", 0, []Reading{{0, 1.090}, {2, 1.007}, {2 + 1.0/24, 1.070}}, []float64{0, 2}, []float64{1.090, 1.070}, 1.090, false},
		{"no gravities at all", 0, []Reading{{0, 1.090}, {1, 0}, {2, 1.5}, {nan, 1.05}, {3, nan}, {inf, 1.05}, {4, -inf}, {1e6, 1.05}}, []float64{0}, []float64{1.090}, 1.090, false},
		{"nothing", 0, nil, nil, nil, 0, false},
		{"a start alone", 1.080, nil, []float64{0}, []float64{1.080}, 1.080, false},
	}
	for _, c := range cases {
		s, err := clean(Input{OG: c.og, Readings: c.in})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		want := series{c.day, c.sg, c.start, c.assumed}
		if diff := cmp.Diff(want, s, cmp.AllowUnexported(series{}), cmpopts.EquateApprox(0, 1e-12), cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func TestCleanRefuses(t *testing.T) {
	for _, og := range []float64{math.Nextafter(MinOG, 0), math.Nextafter(MaxOG, 2), -1, math.NaN(), math.Inf(1)} {
		if _, err := clean(Input{OG: og, Readings: []Reading{{2, 1.020}}}); !errors.Is(err, ErrOG) {
			t.Errorf("original gravity %v: %v, want ErrOG", og, err)
		}
	}
	for _, og := range []float64{MinOG, MaxOG} {
		if _, err := clean(Input{OG: og, Readings: []Reading{{2, 1.020}}}); err != nil {
			t.Errorf("original gravity %v at the limit: %v", og, err)
		}
	}
}

// TestThin: a long record keeps its start, its newest readings and its order.
func TestThin(t *testing.T) {
	var in []Reading
	for i := range 100 {
		in = append(in, Reading{float64(i), 1.090 - 0.0009*float64(i)})
	}
	s, err := clean(Input{Readings: in})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.day) > mostReadings || s.day[0] != 0 {
		t.Errorf("%d readings from day %v, want at most %d from day 0", len(s.day), s.day[0], mostReadings)
	}
	for i := range newestKept {
		if got, want := s.day[len(s.day)-1-i], float64(99-i); got != want {
			t.Errorf("newest but %d is of day %v, want %v", i, got, want)
		}
	}
	for i := 1; i < len(s.day); i++ {
		if s.day[i] <= s.day[i-1] || s.sg[i] >= s.sg[i-1] {
			t.Errorf("out of order at %d", i)
		}
	}
}
