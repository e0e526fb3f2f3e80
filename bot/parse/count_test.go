package parse

import (
	"testing"
	"time"
)

// While bottles are counted, what more is said adds up or ends the sum; nothing of it is
// the same deed twice. With no count going on the same words mean what they always do.
func TestRunningCount(t *testing.T) {
	now := time.Date(2026, 3, 27, 10, 5, 0, 0, time.UTC)
	apple := Batch{N: 3, Name: "apple", Stage: "bottled", VolumeL: 21, BottlesLeft: 12, BottlesMade: 12, Counting: true,
		Recent: []Deed{{What: "bottled", By: "nora", When: now.Add(-5 * time.Minute)}}}
	gorse := Batch{N: 4, Name: "gorse", Stage: "primary", LastSG: 1.040, LastWhen: now.Add(-24 * time.Hour)}
	for _, c := range []struct {
		text    string
		reply   bool
		kind    Kind
		bottles float64
		typ     string
	}{
		{"bottled 14 bottles of apple", false, Event, 14, ""},
		{"apple bottled 14", false, Event, 14, ""},
		{"14", true, Event, 14, ""},
		{"14 bottles", true, Event, 14, ""},
		{"mine 14", true, Event, 14, ""},
		{"apple total 38", false, Event, 38, "total"},
		{"38 bottles in all", false, Event, 38, "total"},
		{"total", true, Event, 12, "total"},
		{"that's all", true, Event, 12, "total"},
		{"2 more", false, Event, 2, ""},
		{"another 6", false, Event, 6, ""},
		{"6 more bottles of apple", false, Event, 6, ""},
		{"and another dozen", false, Event, 12, ""},
		{"two more", false, Event, 2, ""},
	} {
		ctx := Context{Batches: []Batch{apple, gorse}, Active: 3, Group: true, Units: "metric", Now: now, Sender: "tom"}
		ctx.LastEntry = &Last{By: "nora", Batch: "apple", Quantity: "bottles", Unit: "bottle", When: now.Add(-5 * time.Minute)}
		if c.reply {
			ctx.ReplyN, ctx.ReplyTo = 3, "apple: 12 bottles so far"
		}
		in := Message(c.text, ctx)
		if in.Kind != c.kind || len(in.Entries) != 1 || in.Entries[0].Quantity != "bottles" || in.Entries[0].BatchN != 3 ||
			*in.Entries[0].Value != c.bottles || in.Entries[0].Type != c.typ {
			t.Errorf("%q: %+v", c.text, in)
		}
	}
	late := Context{Batches: []Batch{apple, gorse}, Active: 3, Group: true, Units: "metric", Now: now, Sender: "tom",
		LastEntry: &Last{By: "nora", Batch: "apple", Quantity: "bottles", Unit: "bottle", When: now.Add(-3 * time.Hour)}}
	for _, text := range []string{"2 more", "2 more people", "6 more minutes", "another 6?"} {
		if in := Message(text, late); in.Kind != Ignore {
			t.Errorf("%q hours after the count: %+v", text, in)
		}
	}
	apple.Counting = false
	ctx := Context{Batches: []Batch{apple, gorse}, Active: 3, Units: "metric", Now: now, Sender: "tom"}
	if in := Message("bottled 14 bottles of apple", ctx); in.Ask != "duplicate" {
		t.Errorf("once the total is said, more is asked about: %+v", in)
	}
	if in := Message("apple total 38", ctx); in.Kind == Event && in.Entries[0].Quantity == "bottles" {
		t.Errorf("no count goes on: %+v", in)
	}
}
