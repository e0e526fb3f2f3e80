package parse

import (
	"testing"
	"time"
)

// What is said of an instrument, and with which a gravity was read.
func TestInstrumentWords(t *testing.T) {
	now := time.Date(2026, 5, 3, 10, 0, 0, 0, time.UTC)
	ctx := Context{Batches: []Batch{{N: 1, Name: "gorse", Stage: "primary", LastSG: 1.070, LastWhen: now.Add(-24 * time.Hour)}}, Active: 1,
		Units: "metric", Now: now, Sender: "nora", Instruments: []string{"long", "tom"}}
	for text, want := range map[string]string{
		"1.048 at 21c with the long one":    "long",
		"1.048 21c long hydrometer":         "long",
		"1.048 21c hydrometer short":        "short",
		"gorse 1.048 using the long one":    "long",
		"tom's hydrometer says 1.048":       "tom",
		"the hydrometer reads 1.048":        "",
		"my hydrometer 1.048":               "",
		"1.048 at 21c":                      "",
		"1.048, it took a long time to sit": "",
		"refractometer 12 brix":             "refractometer",
	} {
		in := Message(text, ctx)
		if len(in.Entries) == 0 || in.Entries[0].Instrument != want {
			t.Errorf("%q: %s %+v, want instrument %q", text, in.Kind, in.Entries, want)
		}
	}
	for text, want := range map[string]map[string]any{
		"the small hydrometer is 60f":              {"instrument": "small", "value": 60.0, "unit": "F"},
		"hydrometer long 20c":                      {"instrument": "long", "value": 20.0, "unit": "C"},
		"hydrometer 60f for all":                   {"value": 60.0, "unit": "F", "all": true},
		"my hydrometer is the long one":            {"instrument": "long"},
		"thermometer reads 1 in ice water":         {"value": 1.0, "unit": "C"},
		"thermometer shows 34f in ice water":       {"value": 2.0, "unit": "F"},
		"the thermometer reads 2 high for all":     {"value": 2.0, "unit": "C", "all": true},
		"our thermometer is 1 too low, all summer": {"value": -1.0, "unit": "C"},
	} {
		in := Message(text, ctx)
		if in.Kind != Question || len(in.Args) != len(want) {
			t.Errorf("%q: %s %s %v, want %v", text, in.Kind, in.Topic, in.Args, want)
			continue
		}
		for k, v := range want {
			if in.Args[k] != v {
				t.Errorf("%q: %s is %v, want %v", text, k, in.Args[k], v)
			}
		}
	}
}
