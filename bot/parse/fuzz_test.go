package parse

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"
)

// crashed are texts that fuzzing found to stumble over.
var crashed = []string{",0A0"}

// seed adds the table's messages.
func seed(f *testing.F) {
	for _, text := range crashed {
		f.Add(text)
	}
	for _, r := range readRows(f) {
		f.Add(r.text)
	}
}

// FuzzMessage: no panic, every number finite, the output is JSON, and the same
// text gives the same intent.
func FuzzMessage(f *testing.F) {
	seed(f)
	cs := contexts()
	f.Fuzz(func(t *testing.T, text string) {
		for name, ctx := range cs {
			ctx.Explain = true
			in := Message(text, ctx)
			for _, e := range append(append([]Entry(nil), in.Entries...), in.Held...) {
				if e.Value != nil && (math.IsNaN(*e.Value) || math.IsInf(*e.Value, 0) || math.Abs(*e.Value) > 1e18) {
					t.Fatalf("%s %q: value %v", name, text, *e.Value)
				}
			}
			a := in.AppendJSON(nil, "x")
			if !json.Valid(a) {
				t.Fatalf("%s %q: no JSON: %s", name, text, a)
			}
			if b := Message(text, ctx).AppendJSON(nil, "x"); string(a) != string(b) {
				t.Fatalf("%s %q: %s, then %s", name, text, a, b)
			}
			if in.Kind == Ask && in.Ask == "rise" && len(in.Held) == 0 {
				t.Fatalf("%s %q: nothing to keep", name, text)
			}
			Explain(in, text)
		}
	})
}

// FuzzDate: what is stored is never in the future, whatever the words.
func FuzzDate(f *testing.F) {
	for _, s := range []string{"yesterday", "sunday 9am", "3 may", "12/5", "2 days ago", "29 february", "30.2.", "half past seven"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, words string) {
		in := Message(words+" gorse 1.030", contexts()["gorse"])
		for _, e := range in.Entries {
			if !e.When.Now() && e.When.At.After(may5.Add(11*time.Minute)) {
				t.Fatalf("%q: %s lies ahead", words, e.When)
			}
		}
	})
}

// FuzzQuantity: typed digits come back unchanged, with a point or a comma.
func FuzzQuantity(f *testing.F) {
	f.Add(uint16(32), true)
	f.Add(uint16(0), false)
	f.Fuzz(func(t *testing.T, n uint16, comma bool) {
		v := 1000 + int(n)%42
		typed := "1." + string(rune('0'+v/100%10)) + string(rune('0'+v/10%10)) + string(rune('0'+v%10))
		if comma {
			typed = strings.Replace(typed, ".", ",", 1)
		}
		in := Message("gorse "+typed, contexts()["gorse"])
		if in.Kind != Readings || in.Entries[0].Typed != typed || math.Abs(*in.Entries[0].Value-float64(v)/1000) > 1e-12 {
			t.Fatalf("%q: %+v", typed, in)
		}
	})
}
