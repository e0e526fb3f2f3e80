package parse

import (
	"fmt"
	"os"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"
)

// may5 is a Tuesday evening, the "now" of the table.
var may5 = time.Date(2026, 5, 5, 19, 30, 0, 0, time.UTC)

func at(s string) time.Time {
	t, ok := readTime(s, time.UTC)
	if !ok {
		panic(s)
	}
	return t
}

func num(v float64) *float64 { return &v }

var (
	gorse  = Batch{N: 2, Name: "gorse", Kind: "country", VolumeL: 9.1, Stage: "primary", OG: 1.088, LastSG: 1.041, LastWhen: at("2026-05-03T19:00"), Pitched: at("2026-04-29T20:00")}
	damson = Batch{N: 3, Name: "damson", Kind: "country", VolumeL: 13.5, Stage: "secondary", OG: 1.090, LastSG: 1.012, LastWhen: at("2026-05-03T20:00"), Pitched: at("2026-04-18T19:00")}
	sloe   = Batch{N: 6, Name: "sloe", Kind: "country", VolumeL: 8.5, Stage: "ageing", OG: 1.090, LastSG: 0.996, LastWhen: at("2026-04-20T12:00"), Pitched: at("2026-01-03T12:00")}
	elder  = Batch{N: 1, Name: "elder", Kind: "country", VolumeL: 22, Stage: "bottled", OG: 1.085, LastSG: 0.994, LastWhen: at("2026-01-10T12:00"), BottlesLeft: 18}
	norton = Batch{N: 7, Name: "norton", Kind: "red", VolumeL: 22.7, Stage: "primary", OG: 1.094, LastSG: 1.060, LastWhen: at("2026-09-14T20:00"), Pitched: at("2026-09-11T19:00")}
)

// contexts are the situations of testdata/messages.txt.
func contexts() map[string]Context {
	own := gorse
	own.LastSG, own.LastWhen = 1.034, at("2026-05-05T19:12")
	return map[string]Context{
		"gorse":   {Batches: []Batch{gorse}, Active: 2, Now: may5, Sender: "Mo", Units: "metric"},
		"two":     {Batches: []Batch{gorse, damson}, Now: may5, Sender: "Mo", Units: "metric"},
		"group":   {Batches: []Batch{gorse, damson}, Group: true, Now: may5, Sender: "Mo", Units: "metric"},
		"ageing":  {Batches: []Batch{sloe}, Active: 6, Now: may5, Sender: "Mo", Units: "metric"},
		"bottled": {Batches: []Batch{elder, gorse}, Active: 2, Now: may5, Sender: "Mo", Units: "metric"},
		"solo":    {Batches: []Batch{gorse}, Active: 2, Group: true, Now: may5, Sender: "Mo", Units: "metric"},
		"uk":      {Batches: []Batch{gorse}, Active: 2, Now: may5, Sender: "Ivy", Units: "uk"},
		"must":    {Batches: []Batch{{N: 4, Name: "quince", Kind: "kit", VolumeL: 21, Stage: "must", Started: at("2026-05-05T17:00")}}, Active: 4, Now: may5, Sender: "Mo", Units: "metric"},
		"none":    {Now: may5, Sender: "Mo", Units: "metric"},
		"us":      {Batches: []Batch{norton}, Active: 7, Now: at("2026-09-15T20:15"), Sender: "June", Units: "us"},
		"own": {Batches: []Batch{own, damson}, Active: 2, Now: may5, Sender: "Mo", Units: "metric",
			LastEntry: &Last{By: "Mo", Batch: "gorse", Quantity: "sg", Value: num(1.034), Unit: "sg", When: at("2026-05-05T19:12")}},
	}
}

// row is one line of the table.
type row struct {
	line                int
	ctx, text, kind, by string
	entries             string
}

func readRows(t testing.TB) []row {
	t.Helper()
	data, err := os.ReadFile("testdata/messages.txt")
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	ctx := ""
	for i, l := range strings.Split(string(data), "\n") {
		switch {
		case strings.HasPrefix(l, "["):
			ctx = strings.Trim(l, "[]")
		case l != "" && !strings.HasPrefix(l, "# "):
			p := strings.SplitN(l, " | ", 3)
			if len(p) < 2 {
				t.Fatalf("line %d: %q", i+1, l)
			}
			kind, word, _ := strings.Cut(strings.TrimSuffix(p[1], " |"), " ")
			r := row{line: i + 1, ctx: ctx, text: strings.ReplaceAll(p[0], `\n`, "\n"), kind: kind, by: strings.TrimSpace(word)}
			if len(p) == 3 {
				r.entries = strings.TrimSpace(p[2])
			}
			rows = append(rows, r)
		}
	}
	return rows
}

// shown writes an entry as the table does; fields only where the table has them.
func shown(e Entry, want string) string {
	v, u := "null", "null"
	if e.Value != nil {
		v = strconv.FormatFloat(*e.Value, 'f', -1, 64)
	}
	if e.Unit != "" {
		u = e.Unit
	}
	batch := e.Batch
	if batch == "" {
		batch = "-"
	}
	s := fmt.Sprintf("%s %s %s %s", batch, e.Quantity, v, u)
	if !e.When.Now() {
		s += " @" + e.When.String()
	}
	if _, f, ok := strings.Cut(want, " {"); ok {
		key, _, _ := strings.Cut(f, "=")
		val := map[string]string{"type": e.Type, "basis": e.Basis, "material": e.Material, "by": e.By, "text": e.Text, "approx": strconv.FormatBool(e.Approx)}[key]
		s += " {" + key + "=" + val + "}"
	}
	return s
}

// TestMessages holds the table of messages.
func TestMessages(t *testing.T) {
	cs := contexts()
	rows := readRows(t)
	if len(rows) < 300 {
		t.Errorf("only %d messages", len(rows))
	}
	for _, r := range rows {
		ctx, ok := cs[r.ctx]
		if !ok {
			t.Fatalf("line %d: no context %q", r.line, r.ctx)
		}
		in := Message(r.text, ctx)
		var want, got []string
		if r.entries != "" {
			want = strings.Split(r.entries, "; ")
		}
		for _, e := range in.Entries {
			s := shown(e, "")
			for _, w := range want {
				if bare, _, _ := strings.Cut(w, " {"); bare == s {
					if full := shown(e, w); full == w || s == shown(e, "") {
						s = full
					}
				}
				if s == w {
					break
				}
			}
			got = append(got, s)
		}
		word := map[Kind]string{Event: in.Event, Correction: in.Action, Question: in.Topic, Ask: in.Ask, Readings: in.Topic}[in.Kind]
		sort.Strings(want)
		sort.Strings(got)
		if string(in.Kind) != r.kind || r.by != "-" && word != r.by || strings.Join(want, "; ") != strings.Join(got, "; ") {
			t.Errorf("line %d [%s] %q: %s %s [%s], want %s %s [%s]", r.line, r.ctx, r.text, in.Kind, word, strings.Join(got, "; "), r.kind, r.by, strings.Join(want, "; "))
		}
	}
}
