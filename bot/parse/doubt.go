package parse

import (
	"strings"
	"time"
)

// manyDates asks once about a pasted page: more than five dated lines, or
// dates more than 31 days apart. A day may be far from now; only the
// distance between the entries counts. Nothing is stored before the
// answer: undoing forty entries by hand would be worse than one tap.
func (r *reader) manyDates(d *draft) (Intent, bool) {
	seen := map[time.Time]bool{}
	var lo, hi time.Time
	n := 0
	for _, c := range d.claims {
		t := c.e.When
		if t.Now() {
			continue
		}
		if !seen[t.At] {
			seen[t.At] = true
			n++
		}
		if lo.IsZero() || t.At.Before(lo) {
			lo = t.At
		}
		if t.At.After(hi) {
			hi = t.At
		}
	}
	if n <= 5 && (n < 2 || hi.Sub(lo) <= 31*24*time.Hour+12*time.Hour) {
		return Intent{}, false
	}
	if in, ok := r.chooseAll(d); ok {
		return in, true
	}
	es := d.entries()
	lines := strings.FieldsFunc(strings.TrimSpace(r.text), func(c rune) bool { return c == '\n' || c == ';' })
	return Intent{Kind: Ask, Ask: "confirm", Held: es, Batch: es[0].BatchN, Why: "a page of dated lines",
		Args:    map[string]any{"count": len(es), "first": strings.TrimSpace(lines[0]), "last": strings.TrimSpace(lines[len(lines)-1])},
		Options: []Option{{Label: "Take all", Entries: es}}}, true
}

// saidTwice drops what the message repeats: "1.031. I repeat, 1.031". What was measured is
// the same however often it is said; what was put in may have gone in twice.
func (d *draft) saidTwice() {
	if len(d.claims) < 2 {
		return
	}
	out := d.claims[:0]
	for _, c := range d.claims {
		again := false
		for i := max(0, len(out)-8); i < len(out) && !again; i++ { // a few, to keep a long text linear
			again = out[i].saidAgain(&c)
		}
		if !again {
			out = append(out, c)
		}
	}
	d.claims = out
}

// saidAgain reports the same measurement of the same batch and time.
func (c *claim) saidAgain(x *claim) bool {
	switch c.e.Quantity {
	case "sg", "og", "temp", "ambient_temp", "ph", "ta", "brix", "oechsle", "free_so2", "total_so2", "abv", "volume":
	default:
		return false
	}
	return c.e.Quantity == x.e.Quantity && c.e.Value != nil && x.e.Value != nil && *c.e.Value == *x.e.Value && c.e.Unit == x.e.Unit && c.e.When == x.e.When && c.batch == x.batch && (c.e.Type == x.e.Type || c.e.Type == "" || x.e.Type == "")
}

// eitherOr: two gravities with "or" between them, or two for one batch and
// time, are a question of digits. Where one of two is only mentioned ("was
// 1.041", "from 1.050 to 1.032") the other one is the reading. Before and
// after a sweetening both are.
func (r *reader) eitherOr(d *draft) (Intent, bool) {
	gs := d.gravities()
	if len(gs) > 2 {
		return r.manyGravities(gs)
	}
	if len(gs) != 2 {
		return Intent{}, false
	}
	or, said := false, false
	for k := gs[0].v.end; k < gs[1].v.at; k++ {
		switch r.items[k].fold {
		case "sorry", "sory", "no sorry", "oops", "correction", "i mean", "i meant", "rather", "nein", "pardon", "perdon": // "1.044 no sorry 1.041"
			said = true
		case "no": // "1.044, no, 1.041"
			said = said || k+1 < gs[1].v.at && r.items[k+1].breaks() && k > gs[0].v.end && r.items[k-1].breaks()
		case "maybe":
			or = true
		}
		or = or || r.items[k].name(cJoin) == "or"
	}
	same := gs[0].batch == gs[1].batch && gs[0].e.When == gs[1].e.When
	if !or && (!same || r.explains(d)) {
		return Intent{}, false
	}
	if same && !or && (said || r.fromTo(gs)) {
		for i := range d.claims {
			if &d.claims[i] == gs[0] {
				d.claims = append(d.claims[:i], d.claims[i+1:]...)
				break
			}
		}
		return Intent{}, false
	}
	if i := r.pastValue(gs); same && !or && i >= 0 {
		for k := range d.claims {
			if &d.claims[k] == gs[i] {
				d.claims = append(d.claims[:k], d.claims[k+1:]...)
				break
			}
		}
		return Intent{}, false
	}
	in := Intent{Kind: Ask, Ask: "digits", Why: "two gravities, and one is meant"}
	b := gs[0].batch
	if b == 0 {
		b = r.choose(func(b *Batch) bool { return !b.bottled() }, When{}, nil)
	}
	for _, g := range gs {
		if b > 0 {
			r.setBatch(&g.e, b)
			in.Batch = g.e.BatchN
		}
		in.Options = append(in.Options, Option{Label: fmtSG(*g.e.Value), Entries: []Entry{g.e}})
	}
	in.Held = []Entry{gs[0].e}
	return in, true
}

// manyGravities asks which of three and more is meant, where no name and
// no time tells them apart. Names or times would have told them apart.
func (r *reader) manyGravities(gs []*claim) (Intent, bool) {
	in := Intent{Kind: Ask, Ask: "digits", Held: []Entry{gs[0].e}, Why: "several gravities, and one is meant"}
	for _, g := range gs {
		if g.batch != gs[0].batch || g.e.When != gs[0].e.When {
			return Intent{}, false
		}
		if len(in.Options) < 4 {
			in.Options = append(in.Options, Option{Label: fmtSG(*g.e.Value), Entries: []Entry{g.e}})
		}
	}
	b := gs[0].batch
	if b == 0 {
		b = r.choose(func(b *Batch) bool { return !b.bottled() }, When{}, nil)
	}
	if b <= 0 || b >= jointID {
		return in, true
	}
	r.setBatch(&in.Held[0], b)
	for i := range in.Options {
		r.setBatch(&in.Options[i].Entries[0], b)
	}
	in.Batch = in.Held[0].BatchN
	return in, true
}

// pastValue finds the gravity that is only mentioned: "was 1.041", "before
// that 1.041", or the mark that was passed: "finally under 1.000". With a time beside it, a past value is a reading of its own
// and does not come here.
func (r *reader) pastValue(gs []*claim) int {
	for i, g := range gs {
		if g.at > 0 {
			switch r.items[g.at-1].fold {
			case "previous", "earlier", "before", "last time", "time", "was", "it was", "that was", "been", "it had been", "used to be", "etait", "c'etait", "estaba", "byla", "byl", "byly", "var", "from", "vs", "versus", "previously", "war", "era", "bylo", "under", "below", "unter", "sous":
				return i
			}
		}
	}
	return -1
}

// fromTo: "from 1.050 to 1.032", "1.050 -> 1.032": the second is the
// reading. A gravity falls: the way up needs a reason, and then both are
// asked.
func (r *reader) fromTo(gs []*claim) bool {
	for k := gs[0].v.end; k < gs[1].v.at; k++ {
		switch r.items[k].fold {
		case "to", "->", "→", ">", "down to", "now", "auf", "a", "naar":
			return *gs[1].e.Value <= *gs[0].e.Value
		}
	}
	return false
}

// futureDate asks about a date that lies ahead, or so far back that the
// year is in doubt. A plan of the same message is dropped already, with
// its time; what lies ahead here was told as done.
func (r *reader) futureDate(d *draft, plan bool) (Intent, bool) {
	if r.noDay && len(d.claims) > 0 && !plan {
		if !r.addressed() && r.pastYear() {
			return r.ignore("of another year"), true
		}
		if in, ok := r.chooseAll(d); ok {
			return in, true
		}
		return Intent{Kind: Ask, Ask: "date", Held: d.entries(), Why: "no day can be told"}, true
	}
	for _, t := range r.times {
		if t.vague && r.items[t.from].used == "time" {
			if in, ok := r.chooseAll(d); ok {
				return in, true
			}
			return Intent{Kind: Ask, Ask: "date", Held: d.entries(), Why: "no day can be told"}, true
		}
		if t.future && r.items[t.from].used == "time" && !plan {
			if in, ok := r.chooseAll(d); ok {
				return in, true
			}
			return Intent{Kind: Ask, Ask: "date", Held: d.entries(), Why: "the time lies ahead"}, true
		}
		if t.far {
			if in, ok := r.chooseAll(d); ok {
				return in, true
			}
			return Intent{Kind: Ask, Ask: "date", Held: d.entries(), Why: "the date may be of this year or of last"}, true
		}
	}
	return Intent{}, false
}

// pastYear reports a year alone that is over: "in 2024 gooseberry was 1.044 after a week" is
// remembered, not read.
func (r *reader) pastYear() bool {
	for i := range r.items {
		if it := &r.items[i]; it.used == "year" && int(it.num.val) < r.ctx.Now.Year() {
			return true
		}
	}
	return false
}

// twoOffered reports two whole gravities with "or" between them, said to the bot: whatever
// else is told beside them, one of them is meant.
func (r *reader) twoOffered(d *draft) (Intent, bool) {
	gs := d.gravities()
	if !r.addressed() || len(gs) != 2 || gs[0].v == nil || gs[1].v == nil || gs[0].v.n.decimals != 3 || gs[1].v.n.decimals != 3 || gs[1].v.at != gs[0].v.end+1 {
		return Intent{}, false
	}
	return r.eitherOr(d)
}

// zeroLost reports "1.38 25C": digits right before a temperature with its unit that one slip
// makes a gravity of, where they are said to the bot or of a named batch.
func (r *reader) zeroLost(d *draft, i int) bool {
	v := &d.values[i]
	if v.n.decimals == 3 && v.v >= 1.2 && v.v < 10 && (r.addressed() || r.namedBatch() > 0) && i+1 < len(d.values) && d.values[i+1].q == "temp" && d.values[i+1].label && d.values[i+1].at == v.end {
		return true // "8.888 20c": of no size that there is
	}
	if v.n.decimals < 1 || v.n.decimals > 2 || v.v < 1.1 || v.v >= 2 || i+1 >= len(d.values) || !r.addressed() && r.namedBatch() == 0 {
		return false
	}
	w := &d.values[i+1]
	if w.q != "temp" || !w.label || w.at > v.end+1 {
		return false
	}
	return r.slipFits(v)
}

// toldOfName reports a gravity that there is not, told of a name right before it and with
// nothing behind it: "Da reckons the plum is 1.900".
func (r *reader) toldOfName(v *value) bool {
	if v.n.decimals != 3 || v.v <= askHigh || v.v >= 2 || v.end < len(r.items) && !r.items[v.end].breaks() || v.at < 2 {
		return false
	}
	is := &r.items[v.at-1]
	if v.at > 2 && (r.items[v.at-3].fold == "of" || r.items[v.at-3].is(cNoun)) { // "a bag of plum was 1.900"
		return false
	}
	return r.items[v.at-2].batch > 0 && is.kind == tWord && is.is(cFill) && r.weigh().other == 0
}
