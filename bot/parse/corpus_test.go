package parse

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"time"
)

// corpusCase is one line of the corpus. Its input is the object "in", or the
// line itself where it has "text"; what is expected is called "out" or "want".
// An absent event, action, topic or ask is not compared.
type corpusCase struct {
	ID      string          `json:"id"`
	Why     string          `json:"why"`
	Mistake string          `json:"mistake"`
	In      json.RawMessage `json:"in"`
	Text    *string         `json:"text"`
	Out     expected        `json:"out"`
	Want    *expected       `json:"want"`
	Loose   []string        `json:"loose"`
}

// expected is what a message should come to; the topic "*" is any topic.
type expected struct {
	Kind    Kind             `json:"kind"`
	Entries []map[string]any `json:"entries"`
	Event   string           `json:"event"`
	Action  string           `json:"action"`
	Topic   string           `json:"topic"`
	Ask     string           `json:"ask"`
}

// parseCase reads one line in either form.
func parseCase(data []byte) (corpusCase, error) {
	var c corpusCase
	if err := json.Unmarshal(data, &c); err != nil {
		return c, err
	}
	if c.In == nil && c.Text != nil {
		c.In = append(c.In, data...)
	}
	if c.Want != nil {
		c.Out = *c.Want
	}
	if c.In == nil || c.Out.Kind == "" {
		return c, fmt.Errorf("%s: no text or no expected kind", c.ID)
	}
	return c, nil
}

// score counts how the cases of one file came out.
type score struct {
	n, exact, falseLog, falseGroup, wrongBatch, wrongUnit, lost, needless int
}

func readCorpus(t testing.TB, pattern string) map[string][]corpusCase {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "ear", pattern))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]corpusCase{}
	for _, f := range files {
		fh, err := os.Open(f)
		if err != nil {
			t.Fatal(err)
		}
		sc := bufio.NewScanner(fh)
		sc.Buffer(nil, 1<<20)
		for sc.Scan() {
			if strings.TrimSpace(sc.Text()) == "" {
				continue
			}
			c, err := parseCase(sc.Bytes())
			if err != nil {
				t.Fatalf("%s: %v", f, err)
			}
			group := filepath.Base(f)
			if c.Mistake != "" {
				group += " " + c.Mistake
			}
			out[group] = append(out[group], c)
		}
		if err := sc.Err(); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		fh.Close()
	}
	return out
}

func (c *corpusCase) run(t testing.TB) (Intent, map[string]any, Context) {
	t.Helper()
	id, text, ctx, err := DecodeLine(c.In, 1, time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatalf("%s: %v", c.ID, err)
	}
	in := Message(text, ctx)
	var got map[string]any
	if err := json.Unmarshal(in.AppendJSON(nil, id), &got); err != nil {
		t.Fatalf("%s: output is no JSON: %v", c.ID, err)
	}
	return in, got, ctx
}

func (c *corpusCase) loose(keys ...string) bool {
	for _, l := range c.Loose {
		for _, k := range keys {
			if l == k {
				return true
			}
		}
	}
	return false
}

func entryKey(e map[string]any, like map[string]any, c *corpusCase) string {
	var b strings.Builder
	for _, k := range []string{"batch", "quantity", "value", "unit", "when"} {
		if !c.loose(k, "entries."+k) {
			fmt.Fprintf(&b, "%v|", e[k])
		}
	}
	for _, k := range []string{"material", "text", "type", "basis", "by"} {
		if v, ok := like[k]; ok && v != nil && !c.loose(k, "entries."+k) {
			fmt.Fprintf(&b, "%s=%v|", k, e[k])
		}
	}
	return b.String()
}

// sameEntries compares sets: every expected entry once, and no other.
func (c *corpusCase) sameEntries(got []any) bool {
	if c.loose("entries") {
		return true
	}
	if len(got) != len(c.Out.Entries) {
		return false
	}
	used := make([]bool, len(got))
	for _, w := range c.Out.Entries {
		found := false
		for i, g := range got {
			ge := g.(map[string]any)
			if !used[i] && entryKey(ge, w, c) == entryKey(w, w, c) {
				used[i], found = true, true
				break
			}
		}
		if !found {
			return false
		}
	}
	return true
}

// judge compares one case and says what is wrong; "" for an exact one.
func (c *corpusCase) judge(s *score, in Intent, got map[string]any, ctx Context) string {
	s.n++
	ge, _ := got["entries"].([]any)
	bad := ""
	check := func(key string, want, have string) {
		if bad == "" && want != "" && want != have && !(want == "*" && have != "") && !c.loose(key) {
			bad = fmt.Sprintf("%s %q, want %q", key, have, want)
		}
	}
	if !c.loose("kind") && in.Kind != c.Out.Kind {
		bad = fmt.Sprintf("kind %s %s, want %s %s", in.Kind, in.Ask, c.Out.Kind, c.Out.Ask)
	}
	if bad == "" && !c.sameEntries(ge) {
		bad = "entries"
	}
	check("event", c.Out.Event, in.Event)
	check("action", c.Out.Action, in.Action)
	check("ask", c.Out.Ask, in.Ask)
	check("topic", c.Out.Topic, in.Topic)
	if bad == "" {
		s.exact++
		return ""
	}
	c.count(s, in, ge, ctx)
	return bad
}

// count sorts a miss into the classes of the contract.
func (c *corpusCase) count(s *score, in Intent, ge []any, ctx Context) {
	stores := in.Kind == Readings || in.Kind == Event || in.Kind == NewBatch || in.Kind == Correction
	wantStores := c.Out.Kind == Readings || c.Out.Kind == Event || c.Out.Kind == NewBatch || c.Out.Kind == Correction
	if stores && !wantStores {
		s.falseLog++
		if ctx.Group {
			s.falseGroup++
		}
	}
	if in.Kind == Ask && c.Out.Kind != Ask {
		s.needless++
	}
	if wantStores && (in.Kind == Ignore || len(ge) < len(c.Out.Entries)) {
		s.lost++
	}
	if len(ge) == len(c.Out.Entries) {
		for i, g := range ge {
			m := g.(map[string]any)
			if m["batch"] != c.Out.Entries[i]["batch"] {
				s.wrongBatch++
				break
			}
			if m["unit"] != c.Out.Entries[i]["unit"] {
				s.wrongUnit++
				break
			}
		}
	}
}

func (s *score) add(o score) {
	s.n += o.n
	s.exact += o.exact
	s.falseLog += o.falseLog
	s.falseGroup += o.falseGroup
	s.wrongBatch += o.wrongBatch
	s.wrongUnit += o.wrongUnit
	s.lost += o.lost
	s.needless += o.needless
}

func (s score) String() string {
	pct := 0.0
	if s.n > 0 {
		pct = 100 * float64(s.exact) / float64(s.n)
	}
	return fmt.Sprintf("%4d/%4d exact %5.1f %%; false logs %d (group %d), wrong batch %d, wrong unit %d, lost %d, needless questions %d",
		s.exact, s.n, pct, s.falseLog, s.falseGroup, s.wrongBatch, s.wrongUnit, s.lost, s.needless)
}

// TestCorpus scores the corpus. The dev files are for tuning: each miss is shown,
// and none is let pass. The held files are nobody's to tune on: only their
// totals are shown.
func TestCorpus(t *testing.T) {
	for _, part := range []struct {
		pattern string
		show    bool
		goal    float64
	}{{"dev*-*.jsonl", true, 1}, {"held*-*.jsonl", false, 0}} {
		corpus := readCorpus(t, part.pattern)
		names := make([]string, 0, len(corpus))
		for n := range corpus {
			names = append(names, n)
		}
		sort.Strings(names)
		var all score
		for _, n := range names {
			var s score
			for i := range corpus[n] {
				c := &corpus[n][i]
				in, got, ctx := c.run(t)
				if bad := c.judge(&s, in, got, ctx); bad != "" && part.show {
					_, text, _, _ := DecodeLine(c.In, 1, time.Time{})
					t.Logf("%s %q: %s; got %v", c.ID, text, bad, got)
				}
			}
			t.Logf("%-32s %s", n, s)
			all.add(s)
		}
		t.Logf("%-32s %s", part.pattern, all)
		if float64(all.exact) < part.goal*float64(all.n) {
			t.Errorf("%s: %d of %d exact", part.pattern, all.exact, all.n)
		}
	}
}

// TestCorpusForms: both forms of a line are read, "*" is any topic but not
// none, and what is absent is not compared.
func TestCorpusForms(t *testing.T) {
	for line, exact := range map[string]bool{
		`{"id":"a","in":{"text":"1.031"},"out":{"kind":"ask"}}`:                                                        true,
		`{"id":"b","mistake":"none","text":"how much sugar to get to 1.085","want":{"kind":"question","topic":"*"}}`:   true,
		`{"id":"c","mistake":"none","text":"how much sugar to get to 1.085","want":{"kind":"question"}}`:               true,
		`{"id":"d","mistake":"none","text":"how much sugar to get to 1.085","want":{"kind":"question","topic":"abv"}}`: false,
		`{"id":"e","text":"thanks","context":{"chat":"group"},"want":{"kind":"ignore","topic":"*"}}`:                   false,
	} {
		c, err := parseCase([]byte(line))
		if err != nil {
			t.Fatal(err)
		}
		in, got, ctx := c.run(t)
		if bad := c.judge(&score{}, in, got, ctx); (bad == "") != exact {
			t.Errorf("%s: %q, want exact %v", line, bad, exact)
		}
	}
	if _, err := parseCase([]byte(`{"id":"f","want":{"kind":"ignore"}}`)); err == nil {
		t.Error("a line without text is let pass")
	}
}
