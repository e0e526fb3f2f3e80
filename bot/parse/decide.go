package parse

import (
	"strings"
	"time"
)

// decide weighs the claims against what is known: who is listening, which batch,
// what fits. It stores what is certain, asks what is not, and keeps silent where
// the message is not the cellar's.
func (r *reader) decide(d *draft, plan bool) Intent {
	if why := r.unwelcome(d); why != "" {
		if d.q != nil {
			return Intent{Kind: Question}
		}
		return r.ignore(why)
	}
	for i := range d.claims {
		if c := &d.claims[i]; c.reject != "" {
			return Intent{Kind: Reject, Reason: c.reject, Why: "no such value: " + c.e.Typed}
		}
	}
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
			return Intent{Kind: Reject, Reason: c.reject, Batch: c.e.BatchN, Why: "no such value: " + c.e.Typed}
		}
	}
	if in, ok := r.silentMisfit(d); ok {
		return in
	}
	r.checkDoubles(d)
	r.checkAmounts(d)
	return r.conclude(d)
}

func (d *draft) entries() []Entry {
	es := make([]Entry, 0, len(d.claims))
	for _, c := range d.claims {
		es = append(es, c.e)
	}
	return es
}

func (d *draft) kind() (Kind, string) {
	if len(d.deeds) > 0 {
		return Event, d.deeds[0].name
	}
	for _, c := range d.claims {
		if c.e.Deed != "" {
			return Event, c.e.Deed
		}
	}
	return Readings, ""
}

// chooseAll gives every claim its batch, or asks for the one that is missing.
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
			return in, true
		}
		r.setBatch(&c.e, c.batch)
	}
	return Intent{}, false
}

// askUnknown stores what names an open batch and asks about the rest.
func (r *reader) askUnknown(d *draft) (Intent, bool) {
	var held []Entry
	var known []claim
	for _, c := range d.claims {
		if c.batch == unknownID {
			held = append(held, c.e)
		} else {
			known = append(known, c)
		}
	}
	if len(held) == 0 {
		return Intent{}, false
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

// certain is the claim itself if its gravity can be compared.
func (d *draft) certain(c *claim) []*claim {
	if c.ask == "" && c.e.Quantity == "sg" && *c.e.Value >= askLow && *c.e.Value <= askHigh {
		return []*claim{c}
	}
	return nil
}

// magnitudeAnywhere offers the slip of a gravity for which no batch is chosen yet.
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

// joinOwn: a lone temperature within ten minutes joins one's own newest gravity.
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

func (d *draft) gravities() []*claim {
	var out []*claim
	for i := range d.claims {
		if c := &d.claims[i]; c.e.Quantity == "sg" && c.e.Value != nil {
			out = append(out, c)
		}
	}
	return out
}

// checkGravities compares every gravity with its limits and with its batch.
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

// slipsFor are the values one slip away: of a reading those that fit the batch, of
// a start gravity those of a must, of a target any gravity.
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

// reading is a gravity of the message with the temperature that stands beside it.
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

// recentlySweetened: sugar, honey, juice, fruit, water or a blend that went in
// since the last reading explains a rise or a fall.
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

// explains reports that the message itself says why the gravity jumps.
func (r *reader) explains(d *draft) bool {
	for i := range d.claims {
		switch d.claims[i].e.Material {
		case "sugar", "honey", "fruit", "juice", "water", "raisins", "sweetener":
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

// unwelcome says why a message is not for the book at all; "" if it may be.
func (r *reader) unwelcome(d *draft) string {
	named := len(d.scopes.batches) > 0 || r.replyBatch() > 0
	labelled := false
	for i := range d.claims {
		c := &d.claims[i]
		if c.v != nil && c.v.label && c.e.Quantity != "temp" && c.e.Quantity != "ambient_temp" || strings.HasPrefix(c.e.Quantity, "kit_") {
			labelled = true
		}
	}
	if d.w.others > 0 && !r.addressedInGroup() && !r.hasDeedNamed(d, "given away") && !r.hasDeedNamed(d, "opened") && !r.hasDeedNamed(d, "topped up") && !r.hasDeedNamed(d, "blended") {
		return "somebody else's"
	}
	if d.w.other > 0 && !labelled && !named && !r.plainPair(d) {
		return "it speaks of something else"
	}
	if !r.ctx.Group || r.addressed() {
		return r.privateDoubt(d, labelled, named)
	}
	return r.groupDoubt(d, labelled, named)
}

// plainPair reports a gravity with its point and a temperature with its unit, in
// private: enough to be a reading whatever else is said.
func (r *reader) plainPair(d *draft) bool {
	g, t := false, false
	for _, c := range d.claims {
		if c.v == nil {
			continue
		}
		g = g || c.e.Quantity == "sg" && c.v.n.decimals == 3
		t = t || c.e.Quantity == "temp" && c.v.label
	}
	return g && t && r.addressed()
}

func (r *reader) addressedInGroup() bool { return r.ctx.Group && r.addressed() }

// privateDoubt keeps chatter out of a private chat's book.
func (r *reader) privateDoubt(d *draft, labelled, named bool) string {
	if labelled || named || len(d.deeds) > 0 && d.deeds[0].name != "working" {
		if d.w.other > 0 && d.w.unknown > 0 && !named {
			return "it speaks of something else"
		}
		return ""
	}
	if r.plainPair(d) {
		return ""
	}
	limit := 3
	if len(d.gravities()) == 0 {
		limit = 1
	}
	if d.w.unknown > limit {
		return "too many words that are not the cellar's"
	}
	return ""
}

// groupDoubt lets through only what is plainly the cellar's.
func (r *reader) groupDoubt(d *draft, labelled, named bool) string {
	kind, deed := d.kind()
	switch {
	case d.unnamed:
		return "it names no open batch"
	case named && d.w.unknown+d.w.other <= 2:
		return ""
	case d.w.unknown > 0 || d.w.other > 0:
		if !(labelled && d.w.other == 0 && d.w.unknown <= 1 && len(d.gravities()) > 0) {
			return "words that are not the cellar's"
		}
	case kind == Event:
		return r.bareDeed(d, deed)
	}
	if len(d.gravities()) == 0 && !labelled {
		return "no gravity, no name"
	}
	if gs := d.gravities(); len(gs) > 0 && gs[0].ask == "is_it_a_reading" {
		return "a doubt, not a reading"
	}
	if gs := d.gravities(); !labelled && len(gs) > 0 && len(d.deeds) == 0 {
		return r.plainGravity(gs[0])
	}
	return ""
}

// plainGravity lets an unlabelled gravity into a group's book only among words that
// say nothing else: "1.031 today" is the cellar's, "1.04 each" may be anything's.
func (r *reader) plainGravity(c *claim) string {
	words := 0
	for i := range r.items {
		it := &r.items[i]
		if it.kind != tWord || it.used != "" || it.batch > 0 {
			continue
		}
		words++
		if it.is(cThanks) || it.is(cAmbient) || it.is(cTType) || it.is(cObs) && !it.is(cVessel) || it.is(cApprox) {
			continue
		}
		switch it.fold {
		case "it", "it's", "its", "is", "at", "now", "reads", "reading", "says", "shows", "just", "still", "down", "to", "the", "in", "on", "got", "took", "did", "measured", "this", "time", "today's", "read", "looks", "looking", "good", "nice", "nicely", "so", "and", "finally", "i", "i've", "we", "we've", "have", "a", "latest", "done", "down to", "dropped to", "checked", "with", "already", "i'm":
			continue
		}
		return "words that are not plainly the cellar's"
	}
	if c.v != nil && words > 0 && c.v.n.decimals != 3 {
		return "digits that may be a price or a count"
	}
	return ""
}

// bareDeed allows a deed that is the whole message and fits the only open batch.
func (r *reader) bareDeed(d *draft, deed string) string {
	if len(d.gravities()) > 0 {
		return ""
	}
	open := 0
	for i := range r.ctx.Batches {
		b := &r.ctx.Batches[i]
		if b.bottled() {
			continue
		}
		open++
		if !stageFits(deed, b) {
			return "the deed does not fit the stage"
		}
	}
	if open != 1 {
		return "a deed that names no batch"
	}
	switch deed {
	case "opened", "given away", "moved", "tasted", "note", "fault noted", "poured away", "emptied", "split", "laid down", "labelled", "kit serial", "kit lot", "target set":
		return "a vague deed that names no batch"
	}
	for i := range d.claims {
		switch d.claims[i].e.Material {
		case "sugar", "honey", "water", "juice", "acid", "spice", "raisins", "fruit", "wine", "bicarbonate", "sweetener":
			return "it may be the kitchen's"
		}
	}
	for i := range r.items {
		it := &r.items[i]
		if it.used == "" && it.kind == tWord && !it.is(cPron) && !it.is(cFill) && !it.is(cNow) && !it.is(cVerb) && !it.is(cMaterial) && !it.is(cUnit) && !it.is(cObs) && !it.is(cThanks) {
			return "more than a bare deed"
		}
	}
	return ""
}

// stageFits says whether a deed belongs to the stage of a batch.
func stageFits(deed string, b *Batch) bool {
	s := b.Stage
	young := s == "must" || s == "lag" || s == "primary" || s == ""
	switch deed {
	case "pitched":
		return s == "must" || s == "" || s == "lag"
	case "working", "not working yet":
		return s == "lag" || s == "must" || s == ""
	case "punched down", "strained", "pressed":
		return young || s == "secondary"
	case "racked", "topped up", "degassed", "airlock refilled", "blended":
		return s != "must" && !b.bottled()
	case "bottled", "stabilised", "fined", "sweetened", "cold stabilising started":
		return !young && !b.bottled()
	case "opened", "given away", "laid down", "labelled":
		return b.bottled()
	}
	return !b.bottled() || deed == "tasted" || deed == "note"
}
