package parse

import (
	"strings"
	"testing"
)

// TestExplainWords: each word is told with what it was taken for, and the end says
// what is stored, how the batch was found, and why something was asked or ignored.
func TestExplainWords(t *testing.T) {
	cs := contexts()
	for _, c := range []struct {
		ctx, text string
		want      []string
	}{
		{"gorse", "1.031 yesterday at 8pm 19c", []string{"1.031 sg: 1.031", "yesterday time: 2026-05-04T20:00", "at with it", "19 temp: 19 C", "= readings", "stored: gorse sg 1.031 sg 2026-05-04T20:00", "batch: it was spoken of last"}},
		{"two", "gestern damson abgezogen", []string{"gestern time: 2026-05-04", "damson batch: damson", "abgezogen deed: racked (de)", "= event racked", "batch: it is named"}},
		{"gorse", "will rack on friday", []string{"will plan", "rack plan: racked", "= event note", "why: a plan, not a deed"}},
		{"gorse", "1.301", []string{"= ask magnitude", "offer: 1.031", "why: 1.301 is one slip away from a value that fits"}},
		{"gorse", "strainned it", []string{"strainned deed: strained with a slip", "it small word: it", "= event strained"}},
		{"group", "train 1032 is late", []string{"train another topic", "= ignore", "why: it speaks of something else"}},
		{"two", "racked it", []string{"= ask which_batch", "held: event racked now", "offer: gorse", "offer: damson", "why: no batch is named, active or the only one that fits"}},
		{"gorse", "xyzzy 1.031", []string{"xyzzy -: unknown"}},
		{"gorse", "oh 1.031", []string{"oh -: a sound"}},
	} {
		ctx := cs[c.ctx]
		ctx.Explain = true
		got := map[string]bool{}
		for _, l := range Explain(Message(c.text, ctx), c.text) {
			got[strings.Join(strings.Fields(l), " ")] = true
		}
		for _, w := range c.want {
			if !got[w] {
				t.Errorf("%q: no line %q in %v", c.text, w, got)
			}
		}
	}
}
