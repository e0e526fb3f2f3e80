package parse

import "strings"

// toldWhen reports "rack plum at 1.010": what is to be done, as a verb that tells no past, and
// at which gravity. Whoever has done it says "racked" or "racking".
func (r *reader) toldWhen(k, to int) bool {
	it := &r.items[k]
	if it.batch > 0 || strings.HasSuffix(it.fold, "ing") {
		return false
	}
	for j := max(0, k-mostExclaimed); j < k; j++ { // somebody else's advice is no plan of ours
		if r.items[j].is(cOthers) && r.namedBatch() == 0 {
			return false
		}
	}
	for j := k + 2; j < min(to, k+mostExclaimed); j++ {
		if !gravityItem(&r.items[j]) {
			continue
		}
		switch r.items[j-1].fold {
		case "at", "around", "bei", "bij", "vid", "ved", "przy", "pri":
			return true
		}
		return false
	}
	return false
}

// oneOfAKind reports a name behind "a" or "another" in a group, of a wine in no bottles yet: a
// plum is a fruit and a cab a car. The wine is "the plum", or just plum.
func (r *reader) oneOfAKind(i int) bool {
	if !r.ctx.Group || r.addressed() || i == 0 || r.items[i].batch == 0 || r.ctx.Batches[r.items[i].batch-1].bottled() {
		return false
	}
	switch r.items[i-1].fold {
	case "a", "an", "another":
	default:
		return false
	}
	if i > 1 && r.items[i-2].batch > 0 { // "and" in Czech
		return false
	}
	english := i == 1
	for k := max(0, i-4); k < i-1; k++ {
		english = english || r.items[k].kind == tWord && (len(r.items[k].senses) == 0 || r.items[k].senses[0].lang == "en")
	}
	if i+1 >= len(r.items) {
		return english
	}
	x := &r.items[i+1]
	return english && x.kind != tNum && !x.is(cLabel) && !x.is(cNewword) && !x.is(cVessel) && !x.punct(":") && x.name(cAct) != "read"
}

// oneGone reports "another elder gone": of a wine in bottles one was drunk.
func (r *reader) oneGone(i int) bool {
	switch r.items[i].fold {
	case "gone", "down", "drunk", "finished":
	default:
		return false
	}
	if i < 2 || r.items[i-1].batch == 0 || !r.ctx.Batches[r.items[i-1].batch-1].bottled() || i+1 < len(r.items) && !r.items[i+1].breaks() {
		return false
	}
	switch r.items[i-2].fold {
	case "another", "one", "one more":
		return true
	}
	return r.items[i-2].is(cMore) && i > 2 && r.items[i-3].fold == "one"
}

// oneOut books one bottle that went.
func (d *draft) oneOut(x *deed, at int, typed string) {
	one := 1.0
	d.claims = append(d.claims, claim{at: at, e: Entry{Quantity: "bottles_out", Value: &one, Unit: "bottle", Typed: typed, Deed: x.name, By: x.by}})
	x.claims++
}
