package parse

// doneReply reads "done, yesterday evening" under a message of the bot that
// spoke of a deed: the deed was done, then. The only words may be those of
// having done it and of a time.
func (r *reader) doneReply() (Intent, bool) {
	if r.ctx.ReplyTo == "" || len(r.ctx.ReplyTo) > MaxLength {
		return Intent{}, false
	}
	done, by := false, ""
	for i := range r.items {
		it := &r.items[i]
		if i == 0 && it.kind == tWord && it.batch == 0 && (it.is(cPerson) || r.isMember(it.fold) || len(it.senses) == 0) && len(r.items) > 1 { // "tom did it"
			by = r.claimDoer(it)
			continue
		}
		switch it.fold {
		case "done", "did", "yes", "yep", "yeah", "finished", "sorted", "ja", "oui", "si", "sim", "tak", "ano", "erledigt", "gemacht", "fait", "hecho", "fatto", "feito", "gedaan", "gjort", "klart", "hotovo", "zrobione":
			done = true
		default:
			if it.used != "time" && it.kind != tPunct && !it.is(cFill) && !it.is(cPron) && !it.is(cThanks) && !it.is(cNow) {
				return Intent{}, false
			}
		}
	}
	name := r.deedOfReply()
	if !done || name == "" {
		return Intent{}, false
	}
	d := draft{deeds: []deed{{name: name, claims: 1}}, scopes: r.newScopes(len(r.items))}
	d.claims = []claim{{e: Entry{Quantity: "event", Deed: name, By: by, When: d.scopes.when(0)}}}
	return r.decide(&d, false), true
}

// deedOfReply is the deed that the bot's message speaks of; "" for none. A
// reading is none: it needs its number.
func (r *reader) deedOfReply() string {
	q := readerOf(r.ctx.ReplyTo, &Context{Batches: r.ctx.Batches})
	q.read()
	for i := range q.items {
		it := &q.items[i]
		if it.batch > 0 {
			continue
		}
		for _, n := range []string{it.name(cAct), it.name(cDeed)} {
			if n != "" && n != "read" && n != "addition" && n != "working" && n != "not working yet" {
				return n
			}
		}
	}
	return ""
}

// sameAgain reads "same dose in the damson": what the sender last put in or
// read, for another batch. "same as yesterday" is a remark.
func (r *reader) sameAgain(d *draft) {
	l := r.ctx.LastEntry
	if l == nil || l.Value == nil || !r.ownLast() || !r.sameDose(l) && (r.namedBatch() == 0 || r.namedBatch() == r.lastIndex()) || len(d.values) > 0 || len(d.claims) > 0 || len(d.deeds) > 0 {
		return
	}
	switch l.Quantity {
	case "addition", "topping", "sg", "temp":
	default:
		return
	}
	for i := range r.items {
		it := &r.items[i]
		if it.fold != "same" && it.fold != "the same" && it.fold != "ditto" && !it.is(cDose) || i+1 < len(r.items) && r.items[i+1].fold == "as" {
			continue
		}
		for k := range r.items {
			if x := &r.items[k]; !x.known() || x.is(cOther) && !x.cellar() || x.is(cObs) {
				return
			}
		}
		v := *l.Value
		c := claim{at: i, e: Entry{Quantity: l.Quantity, Value: &v, Unit: l.Unit, Typed: fmtValue(v), Material: l.Material}}
		if l.Quantity == "addition" || l.Quantity == "topping" {
			c.e.Deed = "addition"
		}
		if r.namedBatch() == 0 {
			c.batch = r.lastIndex()
		}
		d.claims = append(d.claims, c)
		return
	}
}

// sameDose reports words that mean the last addition once more: "the same dose again",
// "another dose"; of the same batch where none is named.
func (r *reader) sameDose(l *Last) bool {
	if l.Quantity != "addition" || r.lastIndex() == 0 {
		return false
	}
	for i := range r.items {
		if r.items[i].is(cDose) {
			return true
		}
	}
	return false
}
