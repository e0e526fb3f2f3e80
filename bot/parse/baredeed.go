package parse

// bareDeed allows a deed that is the whole message and fits the only open
// batch. Kitchens sweeten, pour and add as well: those materials need the
// batch's name.
func (r *reader) bareDeed(d *draft, deed string) string {
	if gs := d.gravities(); len(gs) > 0 {
		if v := gs[0].v; v != nil && !v.label && v.n.whole() && vague(deed) {
			return "a bare number beside a vague deed"
		}
		return ""
	}
	if deed == "addition" && r.justSpokenOf() > 0 {
		return r.moreThanDeed()
	}
	if r.topsTooMuch(d) {
		return "more than a wine is topped up with"
	}
	if r.awaiting(deed) == 0 {
		if why := r.onlyOpen(deed); why != "" {
			r.unasked = deed
			return why
		}
	}
	for i := range d.claims {
		if d.claims[i].strange {
			return "it may be the kitchen's"
		}
		switch d.claims[i].e.Material {
		case "sugar", "sugar syrup", "honey", "water", "juice", "juice concentrate", "acid", "spice", "raisins", "fruit", "wine", "bicarbonate", "sweetener":
			return "it may be the kitchen's"
		}
	}
	return r.moreThanDeed()
}

// topsTooMuch reports a topping of half the largest open wine and more: "topped off the tank,
// 14 gal". What is topped up is nearly full (common practice, no source).
func (r *reader) topsTooMuch(d *draft) bool {
	most := 0.0
	for i := range r.ctx.Batches {
		if b := &r.ctx.Batches[i]; !b.bottled() {
			most = max(most, b.VolumeL)
		}
	}
	for i := range d.claims {
		if e := &d.claims[i].e; e.Quantity == "topping" && e.Value != nil && most > 0 && *e.Value*unitLitres[e.Unit] > most/2 {
			return true
		}
	}
	return false
}

// unitLitres are litres to a unit of the larger ones (by definition).
var unitLitres = map[string]float64{"L": 1, "US gal": 3.785411784, "imp gal": 4.54609}

// besideDeed are the classes of words that leave a bare deed bare: what it was done to,
// with and how, and what was seen.
var besideDeed = [...]class{cPron, cFill, cNow, cVerb, cMaterial, cObs, cThanks, cLeft, cApprox, cVessel, cInstr, cManner, cTType, cNewword, cLastOne}

// moreThanDeed says that other words stand beside a bare deed; "" if none do.
func (r *reader) moreThanDeed() string {
	if r.untold() { // "bottled up on the 401"
		return "a number that counts something else"
	}
	for i := range r.items {
		if it := &r.items[i]; it.used == "" && it.kind == tWord && (!it.isAny(besideDeed[:]) || r.otherTwice && it.name(cManner) == "twice") && !r.packed(i) && !(it.is(cTaste) && i > 0 && r.items[i-1].is(cObs)) {
			if r.intoThere(i) {
				continue
			}
			return "more than a bare deed"
		}
	}
	return ""
}

// untold reports a whole number in the message that nothing was made of.
func (r *reader) untold() bool {
	for i := range r.values {
		if v := &r.values[i]; !v.taken && v.q == "bare" && v.n.whole() && r.items[v.at].kind == tNum {
			return true
		}
	}
	return false
}

// othersCounted reports a whole number that nothing was made of before a word of another topic:
// "44 people and 77f outside" is said of a place that has a wine's name.
func (r *reader) othersCounted() bool {
	for i := range r.values {
		if v := &r.values[i]; !v.taken && v.q == "bare" && v.n.whole() && v.end < len(r.items) && r.items[v.end].is(cOther) && !r.items[v.end].cellar() {
			return true
		}
	}
	return false
}

// packed reports the packet of a material: "the fining pack".
func (r *reader) packed(i int) bool {
	return r.items[i].is(cNoun) && i > 0 && (r.items[i-1].used == "material" || r.items[i-1].is(cMaterial))
}

// onlyOpen says why a bare deed cannot be about the only batch at work; "" if
// it is.
func (r *reader) onlyOpen(deed string) string {
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
	if vague(deed) {
		return "a vague deed that names no batch"
	}
	return ""
}

// awaiting is the one batch for which a deed was just asked or is being
// counted; 0 if there is none or more than one. Whoever answers a question
// with the deed alone means what was asked about.
func (r *reader) awaiting(deed string) int {
	found := 0
	for i := range r.ctx.Batches {
		b := &r.ctx.Batches[i]
		if deed == "" || !b.stepDue(deed, "") && !(deed == "bottled" && b.Counting) {
			continue
		}
		if found > 0 {
			return 0
		}
		found = i + 1
	}
	return found
}

// stageFits says whether a deed belongs to the stage of a batch. Common
// practice, no source: a must is pitched, wine on its lees is racked, only
// what has fermented is bottled.
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

// intoThere reports a room or another vessel behind a small word of place, "in the shed", "into
// the other demijohn", or the room of a vessel, "the shed demijohn": where a wine stands or goes
// to. A kitchen is no such room: there one stirs and strains other things.
func (r *reader) intoThere(i int) bool {
	it := &r.items[i]
	if !it.is(cAmbient) && !it.is(cSet) || it.has(cAside, "kitchen") {
		return false
	}
	if it.is(cAmbient) && i+1 < len(r.items) && r.items[i+1].is(cVessel) {
		return true
	}
	k := i - 1
	for k > 0 && (r.items[k].is(cFill) || r.items[k].is(cArt)) && !r.items[k].is(cVerb) {
		k--
	}
	return k > 0 && (r.items[k].fold == "in" || r.items[k].fold == "into" || r.items[k].fold == "to")
}
