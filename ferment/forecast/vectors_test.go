package forecast

import (
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"
)

// vector is one case made with an independent implementation of the method in
// another language; its quantiles are converged (testdata/curves/README.md).
type vector struct {
	Theta     *params
	Days      []float64 `json:"thermal_days"`
	SG        []float64
	Cross1010 float64 `json:"cross_1010"`
	Cross1000 float64 `json:"cross_1000"`
	Coleman   *struct {
		S0, N0, T, X0 float64
		Lag           float64 `json:"lag_h"`
		BetaInt       float64 `json:"beta_int"`
		Hours, S      []float64
	}
	Posterior map[string]json.RawMessage
}

// posteriorCase is the posterior of a vector. It has both "t", days, and "T", °C,
// which the decoder of structs cannot tell apart; all are at 20 °C.
type posteriorCase struct {
	t, y   []float64
	sig    float64
	best   params
	result map[string]struct {
		Q      [3]float64 `json:"q10_50_90"`
		PNever float64    `json:"p_never"`
	}
}

func mustVectors(t testing.TB) []vector {
	t.Helper()
	data, err := os.ReadFile("../../testdata/curves/forecast_test_vectors.json")
	if err != nil {
		t.Fatal(err)
	}
	var vs []vector
	if err := json.Unmarshal(data, &vs); err != nil {
		t.Fatal(err)
	}
	return vs
}

func mustPosteriors(t testing.TB) []posteriorCase {
	t.Helper()
	var cases []posteriorCase
	for _, v := range mustVectors(t) {
		if v.Posterior == nil {
			continue
		}
		var c posteriorCase
		for key, into := range map[string]any{"t": &c.t, "y": &c.y, "sig": &c.sig, "map": &c.best, "result": &c.result} {
			if err := json.Unmarshal(v.Posterior[key], into); err != nil {
				t.Fatal(key, err)
			}
		}
		cases = append(cases, c)
	}
	if len(cases) != 4 {
		t.Fatalf("%d posterior vectors, want 4", len(cases))
	}
	return cases
}

// prepare puts a case before the usual prior, at 20 °C, where days are thermal.
func (c posteriorCase) prepare() (prior, observations) {
	s := series{day: c.t, sg: c.y, og: c.y[0]}
	return usual.forBatch(s, false), observations{c.t, c.y, c.sig}
}

func TestCurveVectors(t *testing.T) {
	checked := 0
	for _, v := range mustVectors(t) {
		if v.Theta == nil {
			continue
		}
		var c curve
		c.set(v.Theta)
		got := make([]float64, len(v.Days))
		c.fill(v.Days, got)
		for i, want := range v.SG {
			checked++
			if math.Abs(got[i]-want) > 0.51e-6 {
				t.Errorf("%v: day %v: %.7f, want %.6f", v.Theta, v.Days[i], got[i], want)
			}
		}
		for target, want := range map[float64]float64{1.010: v.Cross1010, 1.000: v.Cross1000} {
			if got, ok := c.reach(target); !ok || math.Abs(got-want) > 0.51e-4 {
				t.Errorf("%v: %v reached at %.5f, %v, want %.4f", v.Theta, target, got, ok, want)
			}
		}
	}
	if checked != 40 {
		t.Errorf("%d gravities checked, want 40", checked)
	}
}

func TestMostProbableVectors(t *testing.T) {
	for _, c := range mustPosteriors(t) {
		p, obs := c.prepare()
		z := fit(&p, obs).z
		for i, got := range p.params(&z) {
			if math.Abs(got-c.best[i]) > 0.001 {
				t.Errorf("%d readings: parameter %d is %.4f, want %.4f", len(c.t), i, got, c.best[i])
			}
		}
	}
}

// TestQuantileVectors holds the method to 0.1 day with many draws, and the draws in
// use to a fifth of the width of the vector's interval.
func TestQuantileVectors(t *testing.T) {
	for _, n := range []int{drawCount, 150_000} {
		for _, c := range mustPosteriors(t) {
			p, obs := c.prepare()
			post := sample(p, obs, n)
			clk := newClock(Input{Temps: []Temperature{{0, 20, Must}}}, 0)
			for key, want := range c.result {
				target, err := strconv.ParseFloat(key, 64)
				if err != nil {
					t.Fatal(err)
				}
				xs := newCrossing(target, 0, clk)
				post.each(xs.add)
				x := xs.result()
				tolerance := 0.1
				if n == drawCount {
					tolerance = (want.Q[2] - want.Q[0]) / 5
				}
				got := [3]float64{x.Low, x.Median, x.High}
				for i := range got {
					if math.Abs(got[i]-want.Q[i]) > tolerance {
						t.Errorf("%d draws, %d readings, %s: %.2f, want %.2f", n, len(c.t), key, got, want.Q)
					}
				}
				if math.Abs(x.PNever-want.PNever) > 0.02 {
					t.Errorf("%d draws, %d readings, %s: never %.3f, want %.3f", n, len(c.t), key, x.PNever, want.PNever)
				}
				t.Logf("n %6d k %d %s: %.2f / %.2f never %.3f / %.3f ess %.0f", n, len(c.t), key, got, want.Q, x.PNever, want.PNever, post.ess)
			}
		}
	}
}
