package parse

import (
	"os"
	"strings"
	"testing"
	"time"
)

// TestPhrases is a checklist of how people say amounts and times, by kind.
func TestPhrases(t *testing.T) {
	data, err := os.ReadFile("testdata/phrases.txt")
	if err != nil {
		t.Fatal(err)
	}
	n, kind := 0, ""
	for i, l := range strings.Split(string(data), "\n") {
		if l == "" || strings.HasPrefix(l, "#") {
			continue
		}
		if strings.HasPrefix(l, "[") {
			kind = strings.Trim(l, "[]")
			continue
		}
		phrase, want, ok := strings.Cut(l, " = ")
		if !ok {
			t.Fatalf("line %d: %q", i+1, l)
		}
		n++
		if got := heard(t, kind, phrase); got != want {
			t.Errorf("line %d: %s %q: %s, want %s", i+1, kind, phrase, got, want)
		}
	}
	if n < 200 {
		t.Errorf("only %d phrases", n)
	}
}

// heard says what was understood of a phrase of that kind, in the checklist's words.
func heard(t *testing.T, kind, phrase string) string {
	cs := contexts()
	ctx := cs["gorse"]
	if kind == "volume" {
		if u, rest, ok := strings.Cut(phrase, " "); ok && (u == "us" || u == "uk") {
			ctx.Units, phrase = u, rest
		}
	}
	show := func(e Entry) string { return fmtValue(*e.Value) + " " + e.Unit }
	only := func(in Intent, quantity string) string {
		for _, e := range in.Entries {
			if e.Quantity == quantity && e.Value != nil {
				return show(e)
			}
		}
		return "-"
	}
	switch kind {
	case "temperature":
		in := Message(phrase, ctx)
		if a := only(in, "ambient_temp"); a != "-" {
			return a + " air"
		}
		return only(in, "temp")
	case "volume":
		return only(Message("racked, "+phrase, ctx), "volume")
	case "weight":
		return only(Message(phrase+" of sugar in", ctx), "addition")
	case "bottles":
		return only(Message("bottled, "+phrase, cs["ageing"]), "bottles")
	case "gravity":
		in := Message(phrase, ctx)
		if len(in.Entries) != 1 || in.Entries[0].Quantity != "sg" {
			return "-"
		}
		return fmtValue(*in.Entries[0].Value)
	case "date":
		w, in := whenOf(t, phrase, time.Date(2026, 10, 14, 20, 15, 0, 0, time.UTC), "metric")
		if len(in.Entries) != 1 || in.Entries[0].Quantity != "sg" {
			return "-"
		}
		return w.String()
	}
	t.Fatalf("no kind %q", kind)
	return ""
}
