package parse

import "strings"

// weighGroup weighs in a group only the clauses that something was read from, where each
// of them speaks of the cellar by itself: "been down. 1.050 on the damson, and before
// anyone asks, yes, i washed my hands". Where one does not, its whole sentence must name
// a batch or have a label; else every word of the message counts.
func (r *reader) weighGroup(d *draft) {
	if len(d.claims) == 0 {
		return
	}
	in := make([]bool, len(r.items))
	strange := r.firstStrange()
	read := false // a gravity has been read before
	for i := 0; i < len(d.claims); i++ {
		c := &d.claims[i]
		if in[c.at] {
			read = read || c.e.Quantity == "sg"
			continue
		}
		if c.e.Quantity == "addition" && len(d.scopes.batches) > 0 && r.strangeSentence(c.at) {
			d.claims = append(d.claims[:i], d.claims[i+1:]...)
			i--
			continue
		}
		from, to := r.clauseOf(c.at)
		if !r.plainly(d, c, from, to, strange, read) {
			if from, to = r.sentenceOf(c.at); !r.namesOrLabels(c, from, to) {
				return
			}
		}
		read = read || c.e.Quantity == "sg"
		for k := from; k < to; k++ {
			in[k] = true
		}
	}
	others := d.w.others
	d.w, r.judged = r.weighWhere(in), in
	d.w.others = others
}

// strangeSentence reports a sentence with words that mean nothing here, no name and no word of
// adding: what is told in it beside the cellar's own, "watered the beans with 2 l", is not
// the wine's.
func (r *reader) strangeSentence(k int) bool {
	var w weight
	for from, to := r.sentenceOf(k); from < to; from++ {
		if it := &r.items[from]; it.batch > 0 || it.is(cVerb) || it.used == "deed" {
			return false
		}
		w.add(r, from)
	}
	return w.unknown+w.other > 0
}

// namesOrLabels reports a sentence that names a batch, or a gravity with its label.
func (r *reader) namesOrLabels(c *claim, from, to int) bool {
	plain := c.v != nil && c.v.label && c.e.Unit == "sg"
	for k := from; k < to; k++ {
		plain = plain || r.items[k].batch > 0
	}
	return plain
}

// plainly reports a claim whose clause is the cellar's by itself: a gravity with all its
// digits that fits a batch, what stands in one clause with a batch's name, and a
// temperature behind such a gravity.
func (r *reader) plainly(d *draft, c *claim, from, to, strange int, read bool) bool {
	named := false
	for k := from; k < to; k++ {
		named = named || r.items[k].batch > 0 && r.items[k].used == ""
	}
	switch c.e.Quantity {
	case "sg", "og":
		return r.fitsPlainly(d, c) && (named || c.v.label || d.scopes.batch(c.at) > 0 || from <= strange || r.pointsBack(c, from))
	case "temp", "ambient_temp":
		return named || read && c.v != nil
	case "volume":
		return named || r.deedNamed(d, c)
	}
	return named
}

// deedNamed reports that the volume is what a deed left that was told of a named batch in the
// sentence before: "racked the damson! came to 20 l".
func (r *reader) deedNamed(d *draft, c *claim) bool {
	switch c.e.Deed {
	case "racked", "strained", "pressed":
	default:
		return false
	}
	for i := range d.deeds {
		x := &d.deeds[i]
		if x.name != c.e.Deed || x.at > c.at {
			continue
		}
		for from, to := r.sentenceOf(x.at); from < to; from++ {
			if r.items[from].batch > 0 {
				return true
			}
		}
	}
	return false
}

// fitsPlainly reports a gravity with three decimals that fits the batch that it is said
// to be of, or any open one.
func (r *reader) fitsPlainly(d *draft, c *claim) bool {
	if c.v == nil || c.v.n.decimals != 3 || c.e.Value == nil || c.ask != "" || len(d.certain(c)) == 0 && c.e.Quantity == "sg" {
		return false
	}
	at := c.e.When.order(r.ctx.Now)
	b := d.scopes.batch(c.at)
	switch {
	case b < 0:
		return false
	case b >= jointID:
		return true
	case b > 0:
		x := &r.ctx.Batches[b-1]
		return !x.bottled() && x.misfitWhen(Reading{SG: *c.e.Value}, c.e.When, r.ctx.Now, nil) == ""
	}
	return len(r.fitting(*c.e.Value, at)) > 0
}

// firstStrange is the first item that is of another topic or means nothing here: what
// stands behind it, "lions up, 1.031", may be odds.
func (r *reader) firstStrange() int {
	for i := range r.items {
		var w weight
		if w.add(r, i); w != (weight{}) {
			return i
		}
	}
	return len(r.items)
}

// plainlyNamed reports a gravity that fits the batch named in its sentence, with no
// strange word beside it: whatever else the sentence tells, it tells a reading.
func (r *reader) plainlyNamed(d *draft) bool {
	found := false
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Quantity != "sg" {
			continue
		}
		if b := d.scopes.batch(c.at); b <= 0 || !r.fitsPlainly(d, c) || r.strangeBeside(c.v) {
			return false
		}
		from, to := r.sentenceOf(c.at)
		if !r.namesOrLabels(&claim{}, from, to) {
			return false
		}
		found = true
	}
	return found
}

// strangeBeside reports a word right behind a number that makes it another thing's:
// "1.045 million", "1.050 a kilo".
func (r *reader) strangeBeside(v *value) bool {
	k := v.end
	for k < len(r.items) && r.items[k].is(cArt) {
		k++
	}
	if k >= len(r.items) || r.items[k].kind != tWord || r.items[k].batch > 0 {
		return false
	}
	it := &r.items[k]
	switch it.fold {
	case "each", "apiece", "pop", "piece":
		return true
	}
	return !it.known() && !it.is(cBye) || it.is(cOther) && !it.cellar() || it.is(cUnit) && k > v.end
}

// otherThings reports digits without a label that count another thing.
func (r *reader) otherThings(d *draft) bool {
	for _, c := range d.gravities() {
		if c.v != nil && !c.v.label && c.v.end < len(r.items) && r.strangeBeside(c.v) && (r.items[c.v.end].known() || strings.HasSuffix(r.items[c.v.end].fold, "s") && len(r.items[c.v.end].senses) == 0 && len(r.items[c.v.end].fold) > 4) {
			return true
		}
	}
	return false
}

// pairPlainly reports a gravity that fits an open batch and a temperature with its unit:
// nobody types both of anything else, whatever word stands beside them.
func (r *reader) pairPlainly(d *draft) bool {
	g, t := false, false
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Quantity == "sg" && !r.fitsPlainly(d, c) {
			return false
		}
		g = g || c.e.Quantity == "sg"
		t = t || c.e.Quantity == "temp" && c.v != nil && c.v.label
	}
	return g && t && d.w.other == 0 && d.w.unknown <= 2
}

// pointsBack reports a clause that says "it is" of a vessel or of "the big one in the
// hall" in the clause before.
func (r *reader) pointsBack(c *claim, from int) bool {
	if from == 0 || c.at-from > 4 {
		return false
	}
	switch r.items[from].fold {
	case "it", "it's", "its", "it is":
	default:
		return false
	}
	bf, bt := r.clauseOf(from - 2)
	for k := max(bf, 0); k < bt; k++ {
		it := &r.items[k]
		if it.is(cOther) && !it.cellar() {
			return false
		}
		if it.is(cVessel) || it.fold == "one" && k > bf {
			return true
		}
	}
	return false
}

// otherBetween reports a word of another topic between a name and the digits without a
// label in the same clause: "apple shares closed at 1.036", "cherry ran 1.044 km".
func (r *reader) otherBetween(d *draft) bool {
	for _, c := range d.gravities() {
		if c.v == nil || c.v.label {
			continue
		}
		from, _ := r.clauseOf(c.at)
		other := false
		if r.soldThere(c.v.end) {
			return true
		}
		if k := c.v.end; k+2 < len(r.items) && (r.items[k].fold == "in" || r.items[k].fold == "on" || r.items[k].fold == "for") { // "cherry got 1.044 in her test"
			switch r.items[k+1].fold {
			case "her", "his", "their":
				return true
			}
		}
		for k := c.at - 1; k >= from; k-- {
			it := &r.items[k]
			if it.batch > 0 && it.used == "" {
				if other {
					return true
				}
				break
			}
			other = other || it.used == "" && it.is(cOther) && !it.cellar()
		}
	}
	return false
}

// worksAt reports "is working in Leeds", "working late": a person does.
func (r *reader) worksAt(d *draft) bool {
	k := d.deeds[0].end
	if k >= len(r.items) {
		return false
	}
	switch r.items[k].fold {
	case "late", "overtime", "nights", "weekends", "tomorrow", "on", "from":
		return true
	case "in", "at", "for", "with", "its":
		return k+1 < len(r.items) && (!r.items[k+1].known() || r.items[k+1].is(cOther) && !r.items[k+1].cellar() || k+2 < len(r.items) && (!r.items[k+2].known() || r.items[k+2].is(cOther)))
	}
	return false
}

// soldThere reports "in the pub", "at the market" right behind digits: a price's place.
func (r *reader) soldThere(k int) bool {
	for n := 0; n < 3 && k < len(r.items) && r.items[k].kind == tWord && r.items[k].used == ""; n, k = n+1, k+1 {
		if n > 0 && r.items[k].has(cAside, "sold") {
			return true
		}
		if n == 0 && !r.items[k].has(cAside, "by") && len(r.items[k].fold) > 3 {
			return false
		}
	}
	return false
}
