package parse

import (
	"strconv"
	"strings"
	"testing"
)

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
	sugared := gorse
	grams := 400.0
	sugared.Recent = []Deed{{What: "addition sugar", By: "Nora", When: at("2026-05-01T15:00"), Value: &grams, Unit: "g"}}
	cs["sugared"] = Context{Batches: []Batch{sugared}, Active: 2, Now: may5, Sender: "Mo", Units: "metric"}
	two := cs["two"]
	own, other := 1.041, 1.012
	two.LastEntry = &Last{By: "Nora", Batch: "damson", Quantity: "sg", Value: &other, Unit: "sg", When: at("2026-05-05T19:20")}
	two.OwnEntry = &Last{By: "Mo", Batch: "gorse", Quantity: "sg", Value: &own, Unit: "sg", When: at("2026-05-05T19:00")}
	cs["theirs"] = two
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
		{"two", "racked it", "both", "event", "gorse event null null"},
		{"sugared", "added sugar", "the same dose", "correction", "gorse addition 400 g"},
		{"sugared", "added honey", "the same dose", "ignore", ""}, // none of it went in before
		{"theirs", "undo", "mine, not his", "correction", ""},
		{"theirs", "undo", "his", "correction", ""},
		{"theirs", "no, 1.039", "mine", "correction", "gorse sg 1.039 sg @2026-05-05T19:00"},
		{"theirs", "no, 1.010", "hers", "correction", "damson sg 1.01 sg @2026-05-05T19:20"},
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

// TestWhose: "mine" is the sender's own newest entry, also where somebody else logged
// since; without such a word the newest is asked about.
func TestWhose(t *testing.T) {
	own, other := 1.041, 1.012
	ctx := contexts()["two"]
	ctx.Sender = "Mo"
	ctx.LastEntry = &Last{By: "Nora", Batch: "damson", Quantity: "sg", Value: &other, Unit: "sg", When: at("2026-05-05T19:20")}
	ctx.OwnEntry = &Last{By: "Mo", Batch: "gorse", Quantity: "sg", Value: &own, Unit: "sg", When: at("2026-05-05T19:00")}
	for text, want := range map[string]string{
		"undo":                        "ask undo_whose  ",
		"undo mine":                   "correction  mine ",
		"undo mine, not hers":         "correction  mine ",
		"take back my last one":       "correction  mine ",
		"no, mine was 1.039":          "correction  mine gorse sg 1.039 sg @2026-05-05T19:00",
		"my last one should be 1.039": "correction  mine gorse sg 1.039 sg @2026-05-05T19:00",
		"sorry, mine was yesterday":   "correction  mine gorse sg 1.041 sg @2026-05-04",
		"mine was the damson, sorry":  "correction  mine damson sg 1.041 sg @2026-05-05T19:00",
		"no, 1.011":                   "ask correct_whose  ",
	} {
		in := Message(text, ctx)
		got := string(in.Kind) + " " + in.Ask + " " + in.Whose + " "
		if in.Kind == Correction {
			got = string(in.Kind) + "  " + in.Whose + " "
		}
		if len(in.Entries) > 0 {
			got += shown(in.Entries[0], "")
		}
		if got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	ctx.OwnEntry = nil // nothing of one's own to repair
	if p, ctx := pending(t, "undo", ctx); len(p.Options) != 1 {
		t.Errorf("offers %+v", p.Options)
	} else if in := Message("mine, not hers", ctx); in.Ask != "correct_what" {
		t.Errorf("mine, but there is none: %+v", in)
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

// TestChoose: label, beginning, number, "the other one", both.
func TestChoose(t *testing.T) {
	p := Pending{Ask: "which_batch", Options: []Option{{Label: "gorse", Entries: []Entry{{BatchN: 2}}}, {Label: "damson", Entries: []Entry{{BatchN: 3}}}}}
	for text, want := range map[string]string{"gorse": "2", "Damson!": "3", "dam": "3", "#3": "3", "the other one": "3", "the first": "2", "second one": "3", "both": "2 3", "in both, please": "2 3", "Both please.": "2 3", "all": "2 3", "plum": "", "": "", "o": ""} {
		got := ""
		if o, ok := Choose(text, p); ok {
			for _, e := range o.Entries {
				got += " " + strconv.Itoa(e.BatchN)
			}
		}
		if strings.TrimSpace(got) != want {
			t.Errorf("%q: batches %q, want %q", text, got, want)
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
