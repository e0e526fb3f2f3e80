package parse

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

// TestDecodeLine: the input of the contract, and what it says of bad lines.
func TestDecodeLine(t *testing.T) {
	now := time.Date(2026, 5, 5, 19, 30, 0, 0, time.UTC)
	id, text, ctx, err := DecodeLine([]byte(`{"id":7,"text":"1.032","unknown":1,"context":{"batches":[{"n":2,"name":"gorse","kind":"red grape","stage":"primary on skins","last_sg":1.041,"last_when":"2026-05-03T19:00","recent_events":[{"what":"racked","by":"Jo","when":"2026-05-03"}]}],"active":null,"chat":"group","now":"2026-05-05T19:31"}}`), 1, now)
	if err != nil || id != "7" || text != "1.032" || !ctx.Group || ctx.Units != "metric" || ctx.Active != 0 || ctx.Now.Minute() != 31 {
		t.Errorf("%q %q %+v %v", id, text, ctx, err)
	}
	if b := ctx.Batches[0]; b.Kind != "red" || b.Stage != "primary" || !b.OnPulp || b.LastWhen.Hour() != 19 || b.Recent[0].What != "racked" {
		t.Errorf("%+v", b)
	}
	for line, want := range map[string]string{`{"id":"a"}`: "line 3: no text", `{`: "line 3: not JSON", `{"text":5}`: "line 3: text is no", `[]`: "line 3:"} {
		if _, _, _, err := DecodeLine([]byte(line), 3, now); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v, want %s", line, err, want)
		}
	}
	if _, _, ctx, _ := DecodeLine([]byte(`{"text":"x"}`), 1, now); ctx.Group || ctx.Units != "metric" || !ctx.Now.Equal(now) || len(ctx.Batches) != 0 {
		t.Errorf("no context: %+v", ctx)
	}
}

// TestOddContext: a part of the context of another type than ours counts as missing,
// and what is told by a date is so.
func TestOddContext(t *testing.T) {
	_, text, ctx, err := DecodeLine([]byte(`{"text":"1.032","context":{"active":"gorse","chat":"group","batches":[
		{"n":2,"name":"gorse","og":"1.088","stabilised":"2026-05-01","stable":false,"mlf_wanted":"unwanted","last_sg":1.041,"pitched":true}]}}`), 1, time.Time{})
	if err != nil || text != "1.032" || !ctx.Group || ctx.Active != 0 || len(ctx.Batches) != 1 {
		t.Fatalf("%v %q %+v", err, text, ctx)
	}
	if b := ctx.Batches[0]; b.Name != "gorse" || b.LastSG != 1.041 || b.OG != 0 || !b.Stabilised || b.Stable || b.MLFWanted || !b.Pitched.IsZero() {
		t.Errorf("%+v", b)
	}
}

// TestContractExamples are the whole objects that the contract prints.
func TestContractExamples(t *testing.T) {
	base := `{"batches":[{"n":2,"name":"gorse","kind":"country","volume_l":9.1,"stage":"primary","og":1.088,"last_sg":1.041,"last_when":"2026-05-03T19:00","pitched":"2026-04-29T20:00"}],"active":2,"chat":"private","units":"metric","now":"2026-05-05T19:30","sender":"Mo"`
	for _, c := range []struct{ id, text, more, want string }{
		{"x2", "new quince kit, 21 l", "", `{"id":"x2","kind":"new_batch","entries":[{"quantity":"new_batch","value":null,"unit":null,"when":"now","batch":"quince","type":"kit"},{"quantity":"volume","value":21,"unit":"L","when":"now","batch":"quince"}]}`},
		{"x3", "1 1/2 tsp nutrient in", "", `{"id":"x3","kind":"event","event":"addition","entries":[{"quantity":"addition","value":1.5,"unit":"tsp","when":"now","batch":"gorse","material":"nutrient"}]}`},
		{"x4", "degassed it yesterday", "", `{"id":"x4","kind":"event","event":"degassed","entries":[{"quantity":"event","value":null,"unit":null,"when":"2026-05-04","batch":"gorse"}]}`},
		{"x5", "racked into the 10 l jar at 1.008", "", `{"id":"x5","kind":"event","event":"racked","entries":[{"quantity":"sg","value":1.008,"unit":"sg","when":"now","batch":"gorse"},{"quantity":"vessel_size","value":10,"unit":"L","when":"now","batch":"gorse"}]}`},
		{"x6", "no, 1.026", `,"last_entry":{"by":"Mo","batch":"gorse","quantity":"sg","value":1.036,"unit":"sg","when":"2026-05-05T19:12"}`, `{"id":"x6","kind":"correction","action":"replace_last","entries":[{"quantity":"sg","value":1.026,"unit":"sg","when":"2026-05-05T19:12","batch":"gorse"}]}`},
		{"x7", "undo", `,"last_entry":{"by":"Mo","batch":"gorse","quantity":"sg","value":1.036,"unit":"sg","when":"2026-05-05T19:12"}`, `{"id":"x7","kind":"correction","action":"delete_last","entries":[]}`},
		{"x8", "serial 5510278", "", `{"id":"x8","kind":"event","event":"kit serial","entries":[{"quantity":"kit_serial","value":null,"unit":null,"when":"now","batch":"gorse","text":"5510278"}]}`},
		{"x9", "how much sugar to get to 1.085", "", `{"id":"x9","kind":"question","entries":[],"topic":"sugar_to_target","args":{"target_sg":1.085}}`},
	} {
		tb, _ := json.Marshal(c.text)
		id, text, ctx, err := DecodeLine([]byte(`{"id":"`+c.id+`","text":`+string(tb)+`,"context":`+base+c.more+`}}`), 1, time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		var got, want any
		if err := json.Unmarshal(Message(text, ctx).AppendJSON(nil, id), &got); err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal([]byte(c.want), &want); err != nil {
			t.Fatal(err)
		}
		g, _ := json.Marshal(sortEntries(got))
		w, _ := json.Marshal(sortEntries(want))
		if string(g) != string(w) {
			t.Errorf("%s:\n%s, want\n%s", c.text, g, w)
		}
	}
}

// sortEntries puts the entries, which are a set, in one order.
func sortEntries(v any) any {
	m := v.(map[string]any)
	es := m["entries"].([]any)
	for i := range es {
		for j := i + 1; j < len(es); j++ {
			if es[j].(map[string]any)["quantity"].(string) < es[i].(map[string]any)["quantity"].(string) {
				es[i], es[j] = es[j], es[i]
			}
		}
	}
	return m
}

// TestJSONStrings: whatever was typed comes out as valid JSON.
func TestJSONStrings(t *testing.T) {
	for _, s := range []string{"a\"b\\c", "line\nfeed\ttab\x01", "\xff\xfe", "smør 🍷"} {
		if b := appendString(nil, s); !json.Valid(b) {
			t.Errorf("%q: %s", s, b)
		}
	}
	var m map[string]any
	if err := json.Unmarshal(RejectLine(nil, errString("line 3: no text")), &m); err != nil || m["id"] != nil || m["kind"] != "reject" || m["error"] != "line 3: no text" {
		t.Errorf("%v %v", m, err)
	}
}

type errString string

func (e errString) Error() string { return string(e) }

// TestTooLong: a longer text is refused with its reason, not read.
func TestTooLong(t *testing.T) {
	in := Message(strings.Repeat("1.032 ", 2000), contexts()["gorse"])
	if in.Kind != Reject || in.Reason != "too_long" || in.Why == "" {
		t.Errorf("%+v", in)
	}
}

// TestExplain: word by word, and why.
func TestExplain(t *testing.T) {
	ctx := contexts()["gorse"]
	ctx.Explain = true
	for text, wants := range map[string][]string{
		"gors 1.060 gestern": {"batch: gorse (shortened", "sg: 1.06", "time", "ask rise", "why:", "held:"},
		"train leaves 10:32": {"ignore", "why:"},
		"gravty 1.032":       {"with a slip", "stored: gorse sg 1.032 sg now"},
	} {
		all := strings.Join(Explain(Message(text, ctx), text), "\n")
		for _, w := range wants {
			if !strings.Contains(all, w) {
				t.Errorf("%q: no %q in\n%s", text, w, all)
			}
		}
	}
}

// TestMinutes: the usual form of a time is read as package time reads it, and refused
// where it refuses.
func TestMinutes(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []string{"2026-05-03T19:00", "2026-02-28T00:00", "2024-02-29T12:30", "2026-02-29T12:30", "2026-03-29T02:30", "2026-10-25T02:30", "2026-12-31T23:59",
		"0000-01-01T00:00", "2026-13-01T10:00", "2026-00-01T10:00", "2026-05-00T10:00", "2026-05-03T24:00", "2026-05-03T10:60", "2026-05-03 10:00", "2026-05-03T10.00", "2026/05/03T10:00",
		"2026-05-03T1:000", "+026-05-03T10:00", "2026-0５-03T10:0", "2026-05-03T10:0a", "", "2026-05-03"} {
		want, err := time.ParseInLocation("2006-01-02T15:04", s, zone)
		if len(s) == len("2006-01-02") {
			want, err = time.ParseInLocation("2006-01-02", s, zone)
		}
		if got, ok := readTime(s, zone); ok != (err == nil) || ok && !got.Equal(want) {
			t.Errorf("%q is %v, %v; package time reads %v, %v", s, got, ok, want, err)
		}
	}
}
