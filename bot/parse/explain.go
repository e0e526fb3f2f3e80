package parse

import (
	"fmt"
	"strings"
)

// words explains each run of the text. Ends of lines are left out;
// everything else is there, in order, so that a reader sees what meant
// nothing.
func (r *reader) words() []Word {
	ws := make([]Word, 0, len(r.items)+len(r.sighed))
	for i := range r.sighed {
		ws = append(ws, Word{Text: r.sighed[i].text, As: "-", Note: "a sound"})
	}
	for i := range r.items {
		it := &r.items[i]
		w := Word{Text: it.text, As: it.used}
		switch {
		case it.kind == tLine:
			continue
		case it.batch > 0 && it.used == "":
			w.As, w.Note = "batch", r.ctx.Batches[it.batch-1].Name
			if it.nearName {
				w.Note += " (shortened or a slip)"
			}
		case it.used != "":
			w.Note = it.note()
		case it.kind == tNum:
			w.As = "number"
		case it.kind == tPunct:
			w.As = "-"
		case len(it.senses) > 0 && it.known():
			w.As, w.Note = classNames[it.senses[0].class], it.note()
		default:
			w.As, w.Note = "-", "unknown"
		}
		ws = append(ws, w)
	}
	return ws
}

// note names the lexicon's word for the item. The language of a foreign
// word is told with it.
func (it *item) note() string {
	if len(it.senses) == 0 {
		return ""
	}
	s := it.senses[0]
	n := s.name
	if n == "." {
		n = ""
	}
	if s.lang != "en" && s.lang != "" {
		n = strings.TrimSpace(n + " (" + s.lang + ")")
	}
	if it.slip {
		n = strings.TrimSpace(n + " with a slip")
	}
	return n
}

// Explain tells in plain lines what was understood of a text, word by
// word, what would be stored, and why something was asked, ignored or
// refused. It wants an intent made with Context.Explain. The same lines
// serve `hear` without --json and the test that a question has a reason.
func Explain(in Intent, text string) []string {
	out := []string{fmt.Sprintf("%q", text)}
	for _, w := range in.Words {
		l := fmt.Sprintf("  %-14s %s", w.Text, w.As)
		if w.Note != "" {
			l += ": " + w.Note
		}
		out = append(out, l)
	}
	head := "= " + string(in.Kind)
	for _, s := range []string{in.Event, in.Action, in.Topic, in.Ask, in.Reason} {
		if s != "" {
			head += " " + s
		}
	}
	out = append(out, head)
	for i := range in.Entries {
		out = append(out, "  stored: "+in.Entries[i].line())
	}
	for i := range in.Held {
		out = append(out, "  held:   "+in.Held[i].line())
	}
	for _, o := range in.Options {
		out = append(out, "  offer:  "+o.Label)
	}
	if in.Why != "" {
		out = append(out, "  why:    "+in.Why)
	}
	return out
}

// line shows an entry: batch, quantity, value, unit, time. Held and stored
// entries look alike, to be compared.
func (e *Entry) line() string {
	parts := []string{e.Quantity}
	if e.Batch != "" {
		parts = append([]string{e.Batch}, parts...)
	}
	if e.Value != nil {
		parts = append(parts, fmtValue(*e.Value))
	}
	for _, s := range []string{e.Unit, e.Material, e.Type, e.Text} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	if e.Quantity == "event" {
		parts = append(parts, e.Deed)
	}
	if e.By != "" {
		parts = append(parts, "by "+e.By)
	}
	return strings.Join(append(parts, e.When.String()), " ")
}
