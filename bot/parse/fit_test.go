package parse

import (
	"math"
	"testing"
	"time"
)

// TestMisfit: a rise over 0.002, a fall over 0.040 a day, and the wrong side of a
// later reading do not fit (the contract's figures).
func TestMisfit(t *testing.T) {
	b := gorse
	day := 24 * time.Hour
	for _, c := range []struct {
		sg   float64
		at   time.Time
		want string
	}{
		{1.043, b.LastWhen.Add(day), ""}, {1.044, b.LastWhen.Add(day), "rise"},
		{1.001, b.LastWhen.Add(day), ""}, {1.000, b.LastWhen.Add(day), "fall"},
		{1.000, b.LastWhen.Add(2 * day), ""}, {1.001, b.LastWhen.Add(time.Hour), ""},
		{1.060, b.LastWhen.Add(-day), ""}, {1.030, b.LastWhen.Add(-day), "fall"}, {1.091, b.LastWhen.Add(-day), "rise"},
	} {
		if got := b.misfit(Reading{SG: c.sg}, c.at, nil); got != c.want {
			t.Errorf("%.3f at %s: %q, want %q", c.sg, c.at, got, c.want)
		}
	}
	must := Batch{Stage: "must"}
	for sg, want := range map[float64]string{1.030: "", 1.029: "plausible", 1.170: "", 1.171: "plausible"} {
		if got := must.misfit(Reading{SG: sg}, may5, nil); got != want {
			t.Errorf("must at %.3f: %q, want %q", sg, got, want)
		}
	}
}

// TestComparedAt20: a dry wine of 12.5 % reads 0.0014 low at 25 °C and 0.0011 high at
// 15 °C (common corrections, computed from published densities). Typed, 0.999 after
// 0.996 is a rise; at 20 °C the two agree within 0.001.
func TestComparedAt20(t *testing.T) {
	warm, cool := 25.0, 15.0
	b := Batch{N: 1, Name: "sloe", Stage: "ageing", OG: 1.090, Pitched: at("2026-01-03T12:00"), LastSG: 0.996, LastTempC: &warm, LastWhen: at("2026-05-01T12:00")}
	if got := b.misfit(Reading{SG: 0.999}, may5, nil); got != "rise" {
		t.Errorf("as typed: %q, want a rise", got)
	}
	if got := b.misfit(Reading{SG: 0.999, TempC: &cool}, may5, nil); got != "" {
		t.Errorf("at 20 °C: %q, want none", got)
	}
	ctx := Context{Batches: []Batch{b}, Active: 1, Now: may5, Units: "metric"}
	if in := Message("0.999 15c", ctx); in.Kind != Readings {
		t.Errorf("message with its temperature: %s %s", in.Kind, in.Ask)
	}
	if in := Message("0.999", ctx); in.Ask != "rise" {
		t.Errorf("message without: %s %s", in.Kind, in.Ask)
	}
}

// TestSlipsOfFingers: each kind of slip that the contract names, and no other.
func TestSlipsOfFingers(t *testing.T) {
	has := func(typed string, want float64) bool {
		n, ok := parseNumber(typed)
		if !ok {
			t.Fatal(typed)
		}
		for _, v := range slips(n) {
			if math.Abs(v-want) < 1e-9 {
				return true
			}
		}
		return false
	}
	for typed, want := range map[string]float64{"10.48": 1.048, "104.8": 1.048, "1.48": 1.048, "1.408": 1.048, "48": 1.048, "0.48": 1.048, "8": 1.008, "1480": 1.048, "9.98": 0.998} {
		if !has(typed, want) {
			t.Errorf("%s: %.3f is not among its slips", typed, want)
		}
	}
	for typed, want := range map[string]float64{"5.72": 1.048, "1.84": 1.048, "4.81": 1.048} {
		if has(typed, want) {
			t.Errorf("%s: %.3f needs more than one slip", typed, want)
		}
	}
}

// TestLimitsOfGravity: the edges of stored, asked and refused.
func TestLimitsOfGravity(t *testing.T) {
	free := Context{Batches: []Batch{{N: 1, Name: "gorse", Stage: "ageing"}}, Active: 1, Now: may5, Units: "metric"}
	for typed, want := range map[string]string{"0.988": "readings", "0.987": "plausible", "0.975": "plausible", "0.974": "reject", "1.170": "readings", "1.171": "plausible", "1.200": "plausible", "1.201": "reject"} {
		in := Message("sg "+typed, free)
		got := string(in.Kind)
		if in.Kind == Ask {
			got = in.Ask
		}
		if got != want && !(want == "reject" && got == "magnitude") { // without a reading any slip may fit
			t.Errorf("%s: %s, want %s", typed, got, want)
		}
	}
}
