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
		case r.explainValue(i, &w), r.explainTime(i, &w):
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
			w.As, w.Note = it.role(), it.note()
		default:
			w.As, w.Note = "-", "unknown"
		}
		ws = append(ws, w)
	}
	return ws
}

// explainValue tells what a number was taken for, on its first word.
func (r *reader) explainValue(i int, w *Word) bool {
	for k := range r.values {
		v := &r.values[k]
		if i < v.at || i >= v.end {
			continue
		}
		switch {
		case i > v.at:
			w.As = "with it"
		case v.q == "bare" || v.q == "amount" && !v.taken:
			w.As, w.Note = "number", "nothing says what it is of"
		default:
			w.As, w.Note = v.q, strings.TrimSpace(fmtValue(v.v)+" "+v.unit+" "+v.typ)
			if gravityShaped(v.n) && (v.q == "sg" || v.q == "og" || v.q == "target_sg") {
				w.Note = fmtSG(gravityValue(v.n))
			}
		}
		return true
	}
	return false
}

// explainTime tells which time a run of words was taken for, on its first word.
func (r *reader) explainTime(i int, w *Word) bool {
	for _, t := range r.times {
		if i < t.from || i >= t.to || r.items[i].used != "time" {
			continue
		}
		w.As = "time"
		switch {
		case i > t.from:
			w.As = "with it"
		case t.future:
			w.Note = "still to come"
		case t.vague:
			w.Note = "no day can be told"
		default:
			w.Note = t.when.String()
		}
		return true
	}
	return false
}

// plainRoles are the classes whose names in the files say too little.
var plainRoles = map[class]string{cManner: "how it is done", cFill: "small word", cPron: "small word", cArt: "small word", cOther: "another topic", cOthers: "somebody else's", cObs: "of the cellar",
	cTType: "where it was taken", cAmbient: "a room", cCond: "condition", cSay: "repair", cUndo: "take back", cQ: "question", cAct: "to be done", cVerb: "put in",
	cApprox: "about", cThanks: "greeting", cInstr: "instrument", cIn: "in water", cNumber: "number word", cKind: "kind of wine"}

// role is the part that the word plays, in plain words; English senses first.
func (it *item) role() string {
	c := it.senses[0].class
	for _, s := range it.senses {
		if s.lang == "en" && it.senses[0].lang != "en" {
			c = s.class
			break
		}
	}
	if w, ok := plainRoles[c]; ok {
		return w
	}
	return classNames[c]
}

// note names the lexicon's word for the item. The language of a foreign
// word is told with it.
func (it *item) note() string {
	if len(it.senses) == 0 {
		return ""
	}
	s := it.senses[0]
	for _, x := range it.senses { // a word that English has too is told as English
		if x.lang == "en" && s.lang != "en" {
			s = x
		}
	}
	n := s.name
	if len(n) < 2 || isDigit(n[0]) || n[0] == '.' || n[0] == '-' { // names for the grammar alone
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
	for i := range in.Entries { // what goes into the book at once
		out = append(out, "  stored: "+in.Entries[i].line())
	}
	for i := range in.Held {
		out = append(out, "  held:   "+in.Held[i].line())
	}
	for _, o := range in.Options {
		out = append(out, "  offer:  "+o.Label)
	}
	if in.Chosen != "" && len(in.Entries)+len(in.Held) > 0 {
		out = append(out, "  batch:  "+in.Chosen)
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
