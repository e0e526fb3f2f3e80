package parse

import (
	"strings"
	"testing"
	"time"
)

// TestEveryTextEverywhere: each text of the corpus in contexts that it was not written for,
// whole and by halves, also as the answer to a question. Whatever it means there, it is
// one of the eight kinds, stores nothing where nothing is for the book, and a gravity that
// is stored is one.
func TestEveryTextEverywhere(t *testing.T) {
	cs := contexts()
	sg := 1.032
	asked := cs["two"]
	held := []Entry{{Quantity: "sg", Value: &sg, Unit: "sg", Typed: "1.032"}}
	asked.Pending = &Pending{Ask: "which_batch", Held: held, Options: []Option{{Label: "gorse", Entries: held}, {Label: "damson", Entries: held}}}
	amount := cs["gorse"]
	amount.Pending = &Pending{Ask: "amount", Held: []Entry{{Quantity: "addition", Material: "sugar", Deed: "addition"}}}
	run := []Context{cs["gorse"], cs["two"], cs["group"], cs["none"], asked, amount}
	kinds := map[Kind]bool{Readings: true, Event: true, NewBatch: true, Correction: true, Question: true, Ask: true, Reject: true, Ignore: true}
	n := 0
	for _, cases := range readCorpus(t, "dev*-*.jsonl") {
		for i := range cases {
			_, text, _, err := DecodeLine(cases[i].In, 1, time.Time{})
			if err != nil {
				t.Fatal(err)
			}
			half := text
			if w := strings.Fields(text); len(w) > 1 {
				half = strings.Join(w[len(w)/2:], " ")
			}
			for k, ctx := range run {
				said := text
				if (i+k)%2 == 0 {
					said = half
				}
				in := Message(said, ctx)
				n++
				if !kinds[in.Kind] || (in.Kind == Ignore || in.Kind == Reject) && len(in.Entries) > 0 {
					t.Errorf("%q: %q with %d entries", said, in.Kind, len(in.Entries))
				}
				for _, e := range in.Entries {
					if e.Quantity == "sg" && (e.Value == nil || *e.Value < storeLow-tiny || *e.Value > storeHigh+tiny) {
						t.Errorf("%q stores %+v", said, e)
					}
				}
			}
		}
	}
	if n < 20000 {
		t.Errorf("only %d", n)
	}
}
