package parse

import (
	"slices"
	"strconv"
	"strings"
)

// answer reads a message as the answer to the bot's open question. ok is
// false where it is none: then it is read like any other message. Whatever
// is not plainly an answer is read as a message of its own, since people
// often go on with the next thing and let a question lie.
func (r *reader) answer(p Pending) (Intent, bool) {
	if o, ok := Choose(r.text, p); ok {
		return r.chosen(p, o), true
	}
	if wholly(r.text, "yes") && len(p.Held) > 0 {
		return r.stored(p.Held), true
	}
	switch p.Ask {
	case "amount":
		if in, ok := r.answerSameDose(p); ok {
			return in, true
		}
		return r.answerAmount(p)
	case "material":
		return r.answerMaterial(p)
	case "which_batch":
		return r.answerBatch(p)
	case "digits", "magnitude", "plausible", "rise", "fall", "is_it_a_reading":
		return r.answerGravity(p)
	case "temp_unit", "gallon", "unit":
		return r.answerUnit(p)
	case "date":
		return r.answerDate(p)
	case "undo_whose", "correct_whose":
		return r.answerWhose(p)
	}
	return Intent{}, false
}

// wholly reports that a text as a whole has that name in the lexicon: "yes",
// "both", "other", …; signs do not count.
func wholly(text, name string) bool {
	if len(text) > mostAnswer {
		return false
	}
	var b strings.Builder
	for _, t := range scan(text) {
		if t.kind == tPunct || t.kind == tLine {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t.fold)
	}
	return slices.Contains(lexicon().wholes[b.String()], name)
}

// wholeNames are all the names of the message as a whole, by the words that it was cut into: it
// runs for every one.
func (r *reader) wholeNames() []string {
	if len(r.text) > mostAnswer {
		return nil
	}
	var buf [mostAnswer + 8]byte
	b := buf[:0]
	for i := range r.items {
		if it := &r.items[i]; it.kind != tPunct && it.kind != tLine {
			if len(b) > 0 {
				b = append(b, ' ')
			}
			b = append(b, it.fold...)
		}
	}
	return lexicon().wholes[string(b)]
}

// mostAnswer bounds the length of a whole answer, in bytes.
const mostAnswer = 60

// Choose finds what an answer chooses of an open question: the option of its label, the
// one beginning it fits, its number, "both", "the other one" of two, "mine". A
// beginning must have two letters at least, so that "o" presses nothing. A bare
// number picks a batch only with its sign (#3): "3" may be an amount.
func Choose(text string, p Pending) (Option, bool) {
	f := strings.Trim(fold(strings.TrimSpace(text)), " .!")
	if f == "" || len(f) > mostAnswer || len(p.Options) == 0 {
		return Option{}, false
	}
	hit, hits := 0, 0
	for i, o := range p.Options {
		l := fold(o.Label)
		if l == f || strings.ReplaceAll(l, " ", "") == strings.ReplaceAll(f, " ", "") {
			return o, true
		}
		if len(f) >= 2 && strings.HasPrefix(l, f) {
			hit = i
			hits++
		}
	}
	if hits == 1 {
		return p.Options[hit], true
	}
	if n, err := strconv.Atoi(strings.TrimPrefix(f, "#")); err == nil && strings.HasPrefix(f, "#") {
		for _, o := range p.Options {
			if len(o.Entries) > 0 && o.Entries[0].BatchN == n {
				return o, true
			}
		}
	}
	return chooseSaid(text, p)
}

// chooseSaid finds the option that an answer means without naming it.
func chooseSaid(text string, p Pending) (Option, bool) {
	two := len(p.Options) == 2
	switch {
	case p.Ask == "undo_whose" || p.Ask == "correct_whose":
		whose := ""
		if wholly(text, "mine") {
			whose = Mine
		} else if wholly(text, "theirs") || wholly(text, "yes") {
			whose = Theirs
		}
		for _, o := range p.Options {
			if whose != "" && o.Whose == whose {
				return o, true
			}
		}
	case p.Ask == "duplicate":
		if wholly(text, "again") || wholly(text, "both") {
			return p.Options[0], true
		}
		if wholly(text, "same") && len(p.Options) > 1 {
			return p.Options[1], true
		}
	case p.Ask == "which_batch" && (two && wholly(text, "both") || wholly(text, "all")):
		return allOf(p.Options), true
	case two && (wholly(text, "other") || wholly(text, "second")):
		return p.Options[1], true
	case wholly(text, "first"):
		return p.Options[0], true
	}
	return Option{}, false
}

// Declines reports an answer that chooses none of the options: "neither", "leave it out".
func Declines(text string) bool { return wholly(text, "none") }

// Refuses reports a text that is a no and nothing else.
func Refuses(text string) bool { return wholly(text, "no") || Declines(text) }

// allOf is one option that stores what every one of them stores.
func allOf(os []Option) Option {
	out := Option{Label: os[0].Label}
	for _, o := range os {
		out.Entries = append(out.Entries, o.Entries...)
	}
	return out
}

// answerWhose reads "mine" where the sender has no entry of his own to repair.
func (r *reader) answerWhose(p Pending) (Intent, bool) {
	if !wholly(r.text, "mine") {
		return Intent{}, false
	}
	return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing of one's own was logged in the last 48 hours"}, true
}

// answerSameDose completes an addition with the amount of the one before it: "the same
// dose".
func (r *reader) answerSameDose(p Pending) (Intent, bool) {
	if !wholly(r.text, "same dose") {
		return Intent{}, false
	}
	for _, e := range p.Held {
		if e.Quantity != "addition" || e.Value != nil {
			continue
		}
		if x := r.doseBefore(e.BatchN, e.Material); x != nil {
			v := *x.Value
			e.Value, e.Unit, e.Typed = &v, x.Unit, fmtValue(v)
			return Intent{Kind: Correction, Action: "edit_entry", Entries: []Entry{e}, Batch: e.BatchN}, true
		}
	}
	return Intent{}, false
}

// doseBefore is the newest addition of a material with its amount: of that batch, else
// of any; nil for none.
func (r *reader) doseBefore(batch int, material string) *Deed {
	var found *Deed
	own := false
	for i := range r.ctx.Batches {
		b := &r.ctx.Batches[i]
		for k := range b.Recent {
			x := &b.Recent[k]
			if x.Value == nil || x.What != "addition "+material {
				continue
			}
			if mine := b.N == batch; found == nil || mine && !own || mine == own && x.When.After(found.When) {
				found, own = x, mine
			}
		}
	}
	return found
}

// chosen is what choosing an option stores. An option without entries
// settles the question and stores nothing: "same one".
func (r *reader) chosen(p Pending, o Option) Intent {
	if o.Replace {
		in := Intent{Kind: Correction, Action: p.Action, Whose: o.Whose, Entries: o.Entries, Batch: p.Batch}
		switch {
		case len(o.Entries) == 0:
			in.Action = "delete_last"
		case in.Action == "":
			in.Action = "replace_last"
		}
		return in
	}
	if len(o.Entries) == 0 {
		return Intent{Kind: Ignore, Why: "the same one: nothing more to store", Batch: p.Batch}
	}
	return r.stored(o.Entries)
}

// stored is an intent that stores what was held. Its kind follows from
// what the entries are, so that a held racking comes back as an event and
// a held gravity as a reading.
func (r *reader) stored(es []Entry) Intent {
	in := Intent{Kind: Readings, Entries: es, Batch: es[0].BatchN}
	for _, e := range es {
		if e.Quantity == "new_batch" {
			in.Kind = NewBatch
			return in
		}
		if e.Deed != "" && in.Event == "" {
			in.Kind, in.Event = Event, e.Deed
		}
	}
	return in
}

// answerAmount completes an addition: "500 g". The addition is in the book
// already, with an empty amount, so the answer repairs that entry instead
// of making a second one.
func (r *reader) answerAmount(p Pending) (Intent, bool) {
	vs := r.valuesFrom(0)
	es := append([]Entry(nil), p.Held...)
	for i := range es {
		if es[i].Quantity != "addition" || es[i].Value != nil || len(vs) != 1 || vs[0].q != "amount" && vs[0].q != "bare" || gravityShaped(vs[0].n) && vs[0].q == "bare" {
			continue
		}
		if r.strange(0, nil) {
			return Intent{}, false
		}
		c := claim{}
		r.fill(&es[i], &c, &vs[0])
		in := r.stored([]Entry{es[i]})
		in.Kind, in.Action = Correction, "edit_entry"
		in.Event = ""
		return in, true
	}
	return Intent{}, false
}

// answerBatch puts what was held into the batch that is named. A bare
// number is a batch's number here: nothing else was asked.
func (r *reader) answerBatch(p Pending) (Intent, bool) {
	b := r.onlyBatch()
	if b == 0 && len(r.items) == 1 && r.items[0].kind == tNum {
		b = r.byNumber(r.items[0].num)
	}
	if b == 0 || len(p.Held) == 0 {
		return Intent{}, false
	}
	return r.stored(moved(p.Held, &r.ctx.Batches[b-1])), true
}

// answerGravity takes the digits again: "1.048". The last two digits are
// enough ("48"), since the bot has just shown the number that they belong
// to. An amount with a unit or another batch's name is no answer.
func (r *reader) answerGravity(p Pending) (Intent, bool) {
	vs := r.valuesFrom(0)
	if len(vs) != 1 || !gravityShaped(vs[0].n) && !tail(vs[0].n) || r.namedBatch() > 0 || len(r.items) > 4 || r.otherThanGravity() {
		return Intent{}, false
	}
	es := append([]Entry(nil), p.Held...)
	if len(es) == 0 && len(p.Options) > 0 {
		es = append(es, p.Options[0].Entries...)
	}
	for i := range es {
		if es[i].Quantity != "sg" && es[i].Quantity != "og" {
			continue
		}
		g := gravityValue(vs[0].n)
		if tail(vs[0].n) {
			g = 1 + vs[0].n.val/1000
		}
		if g < storeLow || g > storeHigh || tooFewDigits(vs[0].n) {
			return Intent{}, false
		}
		g = round4(g)
		es[i].Value, es[i].Typed = &g, vs[0].n.typed
		return r.stored(es), true
	}
	return Intent{}, false
}

// otherThanGravity reports a word that makes a number something else than the digits that
// were asked for: "temp 66" is no 1.066, and "medlar 1.050" is another wine's.
func (r *reader) otherThanGravity() bool {
	for i := range r.items {
		it := &r.items[i]
		if it.kind == tWord && (!it.known() || it.is(cTType) || it.is(cAmbient) || it.is(cMaterial) || it.is(cFruit) || it.is(cDeed) || it.is(cFuture) || it.is(cDay) ||
			it.is(cUnit) || it.is(cLabel) && it.name(cLabel) != "sg" && it.name(cLabel) != "og") {
			return true
		}
	}
	return false
}

// tail reports the last two digits of a gravity alone: "48". Three digits
// could be a whole gravity, one could be anything.
func tail(n number) bool { return n.whole() && len(n.digits) == 2 }

// answerUnit sets the unit that was in doubt. Long texts are no answer to
// a question of one word.
func (r *reader) answerUnit(p Pending) (Intent, bool) {
	if len(p.Held) == 0 || len(r.items) > 3 {
		return Intent{}, false
	}
	f := r.folded
	u := ""
	switch p.Ask {
	case "temp_unit":
		if hasAny(f, "f|fahrenheit|°f") || strings.HasSuffix(f, "f") {
			u = "F"
		} else if hasAny(f, "c|celsius") || strings.HasSuffix(f, "c") {
			u = "C"
		}
	case "gallon":
		if hasAny(f, "us|american|usa") {
			u = "US gal"
		} else if hasAny(f, "imp|imperial|uk|british|english") {
			u = "imp gal"
		}
	case "unit":
		if hasAny(f, "percent|g/100") || strings.Contains(f, "%") || strings.Contains(f, "100") {
			u = "g/100mL"
		} else if strings.Contains(f, "g/l") || hasAny(f, "grams per|g per") {
			u = "g/L"
		}
	}
	if u == "" {
		return Intent{}, false
	}
	es := append([]Entry(nil), p.Held...)
	for i := range es {
		if p.Ask == "gallon" && es[i].Unit == "gal" || p.Ask == "temp_unit" && (es[i].Quantity == "temp" || es[i].Quantity == "ambient_temp") || p.Ask == "unit" {
			es[i].Unit = u
		}
	}
	return r.stored(es), true
}

// answerDate sets the time that was in doubt. If the text turns out to be
// no date, the marks are taken off again and the message is read from the
// start.
func (r *reader) answerDate(p Pending) (Intent, bool) {
	if len(p.Held) == 0 {
		return Intent{}, false
	}
	r.findTimes()
	w, ok := r.timeFrom(0)
	if !ok || len(r.times) != 1 || r.hasOtherWords() {
		r.times = nil
		for i := range r.items {
			r.items[i].used = ""
		}
		return Intent{}, false
	}
	es := append([]Entry(nil), p.Held...)
	for i := range es {
		es[i].When = w
	}
	return r.stored(es), true
}

// hasOtherWords reports words that are neither filler nor a sign nor part
// of a time.
func (r *reader) hasOtherWords() bool {
	for i := range r.items {
		it := &r.items[i]
		if it.used == "" && it.kind != tPunct && !it.is(cFill) && !it.is(cPron) {
			return true
		}
	}
	return false
}
