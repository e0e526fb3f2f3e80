package parse

import (
	"slices"
	"strings"
	"time"
)

// decide weighs the claims against what is known: who is listening, which
// batch, what fits. It stores what is certain, asks what is not, and keeps
// silent where the message is not the cellar's. Refusals come first, then
// what the whole message makes doubtful (a page, two numbers, a date),
// then the batch, then each number against its batch. Every step either
// ends in an intent or leaves the claims a little more certain.
func (r *reader) decide(d *draft, plan bool) Intent {
	r.noHeatInBottles(d)
	if why := r.unwelcome(d); why != "" {
		if in, ok := r.twoOffered(d); ok {
			return in
		}
		if d.q != nil {
			return Intent{Kind: Question}
		}
		in := r.ignore(why)
		in.Unasked = r.unasked
		return in
	}
	for i := range d.claims {
		if c := &d.claims[i]; c.reject != "" {
			return r.refuse(c)
		}
	}
	if d.torn {
		in := r.askBatch(d.entries()[:1], func(b *Batch) bool { return !b.bottled() })
		in.Why = "two gravities of two batches, and not which is whose"
		return in
	}
	d.saidTwice()
	if in, ok := r.manyDates(d); ok {
		return in
	}
	if in, ok := r.eitherOr(d); ok {
		return in
	}
	if in, ok := r.futureDate(d, plan); ok {
		return in
	}
	if d.unnamed && !r.ctx.Group {
		in := r.askBatch(d.entries(), func(b *Batch) bool { return !b.bottled() })
		in.Why = d.name + " is no open batch"
		return in
	}
	if in, ok := r.chooseAll(d); ok {
		return in
	}
	r.checkGravities(d)
	for i := range d.claims {
		if c := &d.claims[i]; c.reject != "" {
			return r.refuse(c)
		}
	}
	if in, ok := r.silentMisfit(d); ok {
		return in
	}
	r.checkDoubles(d)
	r.checkAmounts(d)
	return r.conclude(d)
}

// refuse answers an impossible value; in a group it is nobody's unless a batch
// is named.
func (r *reader) refuse(c *claim) Intent {
	if !r.addressed() && r.namedBatch() == 0 && !(c.v != nil && c.v.label && c.e.Unit == "sg" && r.onlyKnown()) {
		return r.ignore("no such value, and nothing says that it is the cellar's")
	}
	return Intent{Kind: Reject, Reason: c.reject, Batch: c.e.BatchN, Why: "no such value: " + c.e.Typed}
}

// entries are all claims as entries, for a question that holds them back.
func (d *draft) entries() []Entry {
	es := make([]Entry, 0, len(d.claims))
	for _, c := range d.claims {
		es = append(es, c.e)
	}
	return es
}

// kind is the event of the message, by the deed or addition that stands
// first; a message without any is readings.
func (d *draft) kind() (Kind, string) {
	if len(d.deeds) > 0 {
		for _, c := range d.claims {
			if c.e.Deed == "addition" && c.at < d.deeds[0].at {
				return Event, "addition"
			}
		}
		return Event, d.deeds[0].name
	}
	for _, c := range d.claims {
		if c.e.Deed != "" {
			return Event, c.e.Deed
		}
	}
	return Readings, ""
}

// chooseAll gives every claim its batch, or asks for the one that is
// missing. Gravities help to choose: with no name, reply or active batch
// the only one that they fit is meant. In a group that none fits, silence.
func (r *reader) chooseAll(d *draft) (Intent, bool) {
	kind, deed := d.kind()
	ok := deedChoice(deed)
	if kind == Readings {
		ok = func(b *Batch) bool { return !b.bottled() }
	}
	gs := d.gravities()
	var fits func(*Batch) bool
	if len(gs) > 0 {
		fits = func(b *Batch) bool {
			for _, c := range gs {
				if len(d.certain(c)) > 0 && b.misfitWhen(d.reading(c), c.e.When, r.ctx.Now, nil) != "" {
					return false
				}
			}
			return true
		}
	} else if kind == Event {
		fits = func(b *Batch) bool { return stageFits(deed, b) }
	}
	def := r.joinOwn(d)
	if a := r.awaiting(deed); def == 0 && a > 0 && r.ctx.Group && !r.addressed() {
		r.foundBy = "it was just asked for"
		def = a
	} else if def == 0 && deed == "addition" {
		def = r.justSpokenOf()
	}
	if def == 0 && len(d.scopes.batches) == 0 && r.otherOfMany() {
		last := r.lastSpokenOf()
		notLast := func(b *Batch) bool { return b != &r.ctx.Batches[last-1] && ok(b) && (fits == nil || fits(b)) }
		if def = r.onlyOne(notLast); def == 0 {
			return r.askBatch(d.entries(), notLast), true
		}
	}
	if def == 0 {
		def = r.choose(ok, When{}, fits)
	}
	if in, ok := r.askUnknown(d); ok {
		return in, true
	}
	for i := range d.claims {
		c := &d.claims[i]
		if c.batch == 0 {
			c.batch = def
		}
		if c.batch == 0 {
			if len(r.ctx.Batches) == 0 && !r.addressed() {
				return r.ignore("no batch is open"), true
			}
			if len(gs) > 0 && r.ctx.Group && !r.addressed() && len(r.fitting(*gs[0].e.Value, gs[0].e.When.order(r.ctx.Now))) == 0 {
				return r.ignore("it fits no open batch"), true
			}
			if in, ok := r.magnitudeAnywhere(d); ok {
				return in, true
			}
			in := r.askBatch(d.entries(), func(b *Batch) bool { return ok(b) && (fits == nil || fits(b)) })
			if len(in.Options) == 0 {
				in = r.askBatch(d.entries(), ok)
			}
			if !r.addressed() && kind == Readings && r.bareWhole(d) { // first whether it is one: the batch answers both
				in.Ask, in.Held, in.Why = "is_it_a_reading", nil, "a bare number"
			}
			return in, true
		}
		r.setBatch(&c.e, c.batch)
	}
	return Intent{}, false
}

// askUnknown stores what names an open batch and asks about the rest.
// "gorse 1.031, plum 1.050" with no plum open: the gorse is certain and
// goes in at once.
func (r *reader) askUnknown(d *draft) (Intent, bool) {
	if !slices.ContainsFunc(d.claims, func(c claim) bool { return c.batch == unknownID }) {
		return Intent{}, false
	}
	var held []Entry
	var known []claim
	for _, c := range d.claims {
		if c.batch == unknownID {
			held = append(held, c.e)
		} else {
			known = append(known, c)
		}
	}
	in := r.askBatch(held, func(b *Batch) bool { return !b.bottled() })
	in.Why = "a name that is no open batch"
	d.claims = known
	if len(known) > 0 {
		if _, asked := r.chooseAll(d); !asked {
			r.checkGravities(d)
			for _, c := range d.claims {
				if c.ask == "" && c.reject == "" {
					in.Entries = append(in.Entries, c.e)
				}
			}
		}
	}
	return in, true
}

// certain is the claim itself if its gravity can be compared. A gravity
// that is asked about anyway cannot help to choose the batch.
func (d *draft) certain(c *claim) []*claim {
	if c.ask == "" && c.e.Quantity == "sg" && *c.e.Value >= askLow && *c.e.Value <= askHigh {
		return []*claim{c}
	}
	return nil
}

// magnitudeAnywhere offers the slip of a gravity for which no batch is
// chosen yet. With no batch chosen a slip counts if it fits any open one.
func (r *reader) magnitudeAnywhere(d *draft) (Intent, bool) {
	for _, c := range d.gravities() {
		if v := *c.e.Value; v >= askLow && v <= askHigh || c.v == nil {
			continue
		}
		if s := r.fittingSlips(c.v.n, 0, r.ctx.Now); len(s) == 1 {
			return Intent{Kind: Ask, Ask: "magnitude", Held: nil, Options: []Option{{Label: fmtSG(s[0])}}, Why: "one slip away from " + fmtSG(s[0])}, true
		}
		return Intent{Kind: Reject, Reason: "impossible_sg", Why: "no such gravity: " + c.e.Typed}, true
	}
	return Intent{}, false
}

// joinOwn: a lone temperature within ten minutes joins one's own newest
// gravity. Gravity and temperature often come as two messages, also when another batch is the active one by now.
func (r *reader) joinOwn(d *draft) int {
	l := r.ctx.LastEntry
	if l == nil || len(d.claims) != 1 || d.claims[0].e.Quantity != "temp" || l.Quantity != "sg" || !r.ownLast() {
		return 0
	}
	if t := r.lastTyped(); r.ctx.Now.Sub(t) > 10*time.Minute {
		return 0
	}
	for i := range r.ctx.Batches {
		if r.ctx.Batches[i].Name == l.Batch {
			return i + 1
		}
	}
	return 0
}

// justSpokenOf is in a group the batch on which the sender's own newest entry was made
// within the last quarter of an hour (index+1): sugar put in so soon after a reading
// is hardly the kitchen's. Common practice, no source.
func (r *reader) justSpokenOf() int {
	l := r.ctx.LastEntry
	if r.addressed() || l == nil || l.By == "" || !r.ownLast() {
		return 0
	}
	if ago := r.ctx.Now.Sub(r.lastTyped()); ago < 0 || ago > 15*time.Minute {
		return 0
	}
	for i := range r.ctx.Batches {
		if b := &r.ctx.Batches[i]; b.Name == l.Batch && !b.bottled() {
			return i + 1
		}
	}
	return 0
}

// gravities are the claims of quantity sg, in the order of the text.
func (d *draft) gravities() []*claim {
	var out []*claim
	for i := range d.claims {
		if c := &d.claims[i]; c.e.Quantity == "sg" && c.e.Value != nil {
			out = append(out, c)
		}
	}
	return out
}

// checkGravities compares every gravity with its limits and with its
// batch. Readings of the same message count as neighbours of those behind
// them, so that a dated list is judged like the same readings sent one by
// one.
func (r *reader) checkGravities(d *draft) {
	explained := r.explains(d)
	extra := map[int][]Reading{}
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Quantity != "sg" && c.e.Quantity != "og" && c.e.Quantity != "target_sg" || c.e.Value == nil || c.ask != "" && c.ask != "is_it_a_reading" {
			continue
		}
		v := *c.e.Value
		b := &r.ctx.Batches[c.batch-1]
		at := c.e.When.order(r.ctx.Now)
		switch {
		case v < askLow-tiny || v > askHigh+tiny:
			c.options = r.slipsFor(c, at)
			if len(c.options) == 1 {
				c.ask = "magnitude"
			} else if c.ask == "" {
				c.reject = "impossible_sg"
			}
		case v < storeLow-tiny || v > storeHigh+tiny:
			c.ask = "plausible"
		case c.e.Quantity == "sg" && c.ask == "":
			if m := b.misfitWhen(d.reading(c), c.e.When, r.ctx.Now, extra[c.batch]); m != "" && !explained && !b.recentlySweetened(at) {
				c.ask = m
			}
			if x := extra[c.batch]; len(x) >= 8 { // the last few are enough, and keep a long text linear
				extra[c.batch] = append(x[:0], x[4:]...)
			}
			extra[c.batch] = append(extra[c.batch], Reading{When: at, SG: v, TempC: d.reading(c).TempC})
		}
	}
}

// slipsFor are the values one slip away: of a reading those that fit the
// batch, of a start gravity those of a must, of a target any gravity. The
// value itself is never changed here; it is only offered.
func (r *reader) slipsFor(c *claim, at time.Time) []float64 {
	if c.e.Quantity == "sg" {
		return r.fittingSlips(c.v.n, c.batch, at)
	}
	low := storeLow
	if c.e.Quantity == "og" {
		low = mustLow
	}
	var out []float64
	for _, s := range slips(c.v.n) {
		if s >= low-tiny && s <= storeHigh+tiny {
			out = append(out, s)
		}
	}
	return out
}

// reading is a gravity of the message with the temperature that stands
// beside it. The cap's temperature is not the sample's. A temperature in
// doubt corrects nothing.
func (d *draft) reading(c *claim) Reading {
	out := Reading{SG: *c.e.Value}
	for i := range d.claims {
		t := &d.claims[i]
		if t.e.Quantity != "temp" || t.e.Value == nil || t.batch != c.batch || t.e.When != c.e.When || t.ask != "" || t.e.Type == "cap" {
			continue
		}
		v := *t.e.Value
		if t.e.Unit == "F" {
			v = (v - 32) / 1.8
		}
		out.TempC = &v
		break
	}
	return out
}

// recentlySweetened: sugar, honey, juice, fruit, water or a blend that
// went in since the last reading explains a rise or a fall. Deeds before
// the last reading explain nothing any more: it has them in it.
func (b *Batch) recentlySweetened(at time.Time) bool {
	for _, x := range b.Recent {
		if x.When.Before(b.LastWhen) || x.When.After(at) {
			continue
		}
		for _, m := range []string{"sugar", "honey", "juice", "fruit", "water", "blended", "sweetened", "raisins", "topped"} {
			if strings.Contains(x.What, m) {
				return true
			}
		}
	}
	return false
}

// explains reports that the message itself says why the gravity jumps. The
// words for before and after are said around sugar and water; beside a
// meal they are part of a time and do not count.
func (r *reader) explains(d *draft) bool {
	for i := range d.claims {
		switch d.claims[i].e.Material {
		case "sugar", "sugar syrup", "honey", "fruit", "juice", "juice concentrate", "water", "raisins", "sweetener":
			return true
		}
	}
	for _, x := range d.deeds {
		if x.name == "blended" || x.name == "sweetened" {
			return true
		}
	}
	for i := range r.items {
		switch r.items[i].fold {
		case "before", "after", "vorher", "nachher", "avant", "apres", "antes", "despues", "prima", "dopo":
			if r.items[i].used != "time" {
				return true
			}
		}
	}
	return false
}
