package parse

import "testing"

// pending makes the question that a message leads to, as the bot would keep it.
func pending(t *testing.T, text string, ctx Context) (Pending, Context) {
	t.Helper()
	in := Message(text, ctx)
	if in.Kind != Ask {
		t.Fatalf("%q: %s, want a question", text, in.Kind)
	}
	held := in.Held
	if in.Ask == "amount" {
		held = in.Entries
	}
	p := Pending{Ask: in.Ask, Held: held, Options: in.Options, Batch: in.Batch}
	ctx.Pending = &p
	return p, ctx
}

// TestAnswers: the answer to a question completes what was held, nothing is typed again.
func TestAnswers(t *testing.T) {
	dup := gorse
	dup.Recent = []Deed{{What: "nutrient", By: "Nora", When: at("2026-05-05T15:00")}}
	cs := contexts()
	cs["dup"] = Context{Batches: []Batch{dup}, Active: 2, Now: may5, Sender: "Mo", Units: "metric"}
	for _, c := range []struct{ ctx, asked, answer, kind, entries string }{
		{"gorse", "added sugar", "500 g", "correction", "gorse addition 500 g"},
		{"gorse", "sulphite in", "1/4 tsp", "correction", "gorse addition 0.25 tsp"},
		{"two", "racked it", "damson", "event", "damson event null null"},
		{"two", "racked it", "#3", "event", "damson event null null"},
		{"two", "racked it", "dam", "event", "damson event null null"},
		{"two", "1.012 19c", "the other one", "readings", "damson sg 1.012 sg"},
		{"two", "plum 1.030", "gorse", "readings", "gorse sg 1.03 sg"},
		{"gorse", "1.060", "keep", "readings", "gorse sg 1.06 sg"},
		{"gorse", "1.060", "yes", "readings", "gorse sg 1.06 sg"},
		{"gorse", "1.060", "1.030", "readings", "gorse sg 1.03 sg"},
		{"gorse", "1.0", "1.030", "readings", "gorse sg 1.03 sg"},
		{"gorse", "1.03 or 1.04?", "1.040", "readings", "gorse sg 1.04 sg"},
		{"gorse", "sg 1.32", "1.032", "readings", "gorse sg 1.032 sg"},
		{"gorse", "1.032 66", "F", "readings", "gorse temp 66 F"},
		{"gorse", "1.032 66", "fahrenheit", "readings", "gorse temp 66 F"},
		{"gorse", "1.032 66", "66 °F", "readings", "gorse temp 66 F"},
		{"gorse", "added 2 gal water", "imperial", "event", "gorse addition 2 imp gal"},
		{"gorse", "added 2 gal water", "us", "event", "gorse addition 2 US gal"},
		{"gorse", "ta 1.7", "g/l", "readings", "gorse ta 1.7 g/L"},
		{"gorse", "1.030 last week", "sunday", "readings", "gorse sg 1.03 sg @2026-05-03"},
		{"dup", "3 g nutrient in", "second dose", "event", "gorse addition 3 g"},
		{"dup", "3 g nutrient in", "both", "event", "gorse addition 3 g"},
		{"dup", "3 g nutrient in", "same one", "ignore", ""},
		{"none", "new plum 2 gal", "us gal", "new_batch", "plum new_batch null null"},
		{"gorse", "1.060", "racked it", "event", "gorse event null null"}, // no answer: read as itself
	} {
		_, ctx := pending(t, c.asked, cs[c.ctx])
		in := Message(c.answer, ctx)
		got := ""
		if len(in.Entries) > 0 {
			got = shown(in.Entries[0], "")
		}
		if string(in.Kind) != c.kind || got != c.entries {
			t.Errorf("%q, then %q: %s %s [%s], want %s [%s]", c.asked, c.answer, in.Kind, in.Ask, got, c.kind, c.entries)
		}
	}
}

// TestKeepHolds: a question that holds back an entry can be answered by keeping it.
func TestKeepHolds(t *testing.T) {
	cs := contexts()
	for text, ask := range map[string]string{"1.060": "rise", "0.991 on monday": "fall", "0.985": "plausible", "1.0": "digits", "ph 33": "magnitude", "pitched": "duplicate", "1.030 last week": "date", "ta 1.7": "unit", "added 2 gal water": "gallon"} {
		in := Message(text, cs["gorse"])
		if in.Kind != Ask || in.Ask != ask || len(in.Held) == 0 {
			t.Errorf("%q: %s %s, %d held; want %s with something to keep", text, in.Kind, in.Ask, len(in.Held), ask)
		}
	}
}

// TestMatchOption: label, beginning, number, "the other one".
func TestMatchOption(t *testing.T) {
	p := Pending{Ask: "which_batch", Options: []Option{{Label: "gorse", Entries: []Entry{{BatchN: 2}}}, {Label: "damson", Entries: []Entry{{BatchN: 3}}}}}
	for text, want := range map[string]int{"gorse": 0, "Damson!": 1, "dam": 1, "#3": 1, "the other one": 1, "plum": -1, "": -1, "o": -1} {
		i, ok := MatchOption(text, p)
		if !ok {
			i = -1
		}
		if i != want {
			t.Errorf("%q: option %d, want %d", text, i, want)
		}
	}
}

// TestConfirmPage: a pasted page is one question that holds all its entries.
func TestConfirmPage(t *testing.T) {
	page := "29 apr 1.088\n30 apr 1.080\n1 may 1.068\n2 may 1.055\n4 may 1.036\n5 may 1.031"
	in := Message(page, contexts()["gorse"])
	if in.Ask != "confirm" || len(in.Held) != 6 || in.Args["count"] != 6 || in.Args["first"] != "29 apr 1.088" || in.Args["last"] != "5 may 1.031" {
		t.Errorf("%+v", in)
	}
}
