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

// afterThat reports "after the fruit came out" at the deed at i: when it was, no news of it.
func (r *reader) afterThat(i int) bool {
	return i > 1 && r.items[i-1].fold == "the" && r.items[i-2].fold == "after"
}

// putSomewhere reads "put the peach in the cellar": a name and a room behind the verb. With
// a material between, something was put into the wine.
func (r *reader) putSomewhere(i int) bool {
	switch r.items[i].fold {
	case "put", "took", "brought", "taken":
	default:
		return false
	}
	k := i + 1
	for k < len(r.items) && r.determined(k) {
		k++
	}
	if k+1 >= len(r.items) || r.items[k].batch == 0 || r.once("cold", r.putIntoCold) {
		return false
	}
	switch r.items[k+1].fold {
	case "indoors", "inside", "upstairs", "downstairs", "outdoors":
		return true
	case "down to", "up to", "out to", "over to", "back to", "through to", "back in", "back into", "in", "into", "to", "under", "out", "outside", "down", "back", "in the", "into the":
	default:
		return r.items[k+1].is(cAmbient) && strings.HasPrefix(r.items[k+1].fold, "under")
	}
	for j := k + 2; j < len(r.items) && j < k+5 && r.items[j].kind == tWord; j++ {
		if r.items[j].is(cAmbient) {
			return true
		}
	}
	return false
}

// triesWine reads "tried the plum", "sampled gorse": a name, or some of it, behind the verb.
func (r *reader) triesWine(i int) bool {
	switch r.items[i].fold {
	case "tried", "sampled", "sip":
	default:
		return false
	}
	k := i + 1
	for k < len(r.items) && k < i+4 && (r.determined(k) || r.items[k].fold == "some" || r.items[k].fold == "of" || r.items[k].fold == "bit of" || r.items[k].fold == "some of") {
		k++
	}
	return k < len(r.items) && r.items[k].batch > 0
}

// putIntoCold reports a wine put out to drop its crystals, which is a deed of its own.
func (r *reader) putIntoCold() bool {
	for i := range r.items {
		if r.items[i].name(cDeed) == "cold stabilising started" || r.items[i].name(cAct) == "cold stabilising started" {
			return true
		}
	}
	return false
}

// didWhatWasPlanned names the act of "forgot to stir yesterday, did it this morning": what
// was only meant in a clause before is what "did it" speaks of.
func (r *reader) didWhatWasPlanned(i int) string {
	if r.items[i].fold != "did" && r.items[i].fold != "done" || i+1 >= len(r.items) || r.items[i+1].fold != "it" && r.items[i+1].fold != "that" && r.items[i+1].fold != "so" {
		return ""
	}
	from, _ := r.clauseOf(i)
	for k := 0; k < from; k++ {
		if it := &r.items[k]; it.is(cAct) && it.batch == 0 && it.name(cAct) != "read" && it.name(cAct) != "addition" {
			for j := 0; j < from; j++ {
				if x := &r.items[j]; x.batch > 0 && x.used == "plan" {
					x.used = ""
				}
			}
			return it.name(cAct)
		}
	}
	return ""
}

// ofBottles reports "a nettle", "two of the nettle" behind item i, of a batch in bottles,
// and no thing made of it behind the name.
func (r *reader) ofBottles(i int) bool {
	counted := false
	for k := i + 1; k < len(r.items) && k < i+5; k++ {
		it := &r.items[k]
		if it.batch > 0 {
			return counted && r.ctx.Batches[it.batch-1].bottled() && (k+1 == len(r.items) || r.items[k+1].known())
		}
		counted = counted || it.is(cArt) || it.kind == tNum || it.name(cNumber) != "" || it.is(cLastOne) || it.fold == "another" || it.fold == "last"
		if it.kind != tNum && !it.is(cArt) && it.fold != "of" && it.fold != "the" && it.fold != "our" && it.fold != "another" && it.fold != "last" && !it.is(cNumber) && it.name(cUnit) != "bottle" {
			return false
		}
	}
	return false
}

// lastGone reads "last damson gone": the last bottle of a batch. The batch must be
// named: the last bus goes too.
func (r *reader) lastGone(i int) bool {
	switch r.items[i].fold {
	case "gone", "drunk", "finished":
		return i > 1 && r.items[i-1].batch > 0 && r.items[i-2].fold == "last" && r.ctx.Batches[r.items[i-1].batch-1].bottled()
	}
	return false
}

// lostBefore reports "lost 6 l" before the act at i in its clause: what was lost at a racking
// says that it is done.
func (r *reader) lostBefore(i int) bool {
	from, _ := r.clauseOf(i)
	lost, volume := false, false
	for k := from; k < i; k++ {
		lost = lost || r.items[k].is(cLost)
		volume = volume || lost && isVolumeUnit(r.items[k].name(cUnit))
	}
	return volume
}

// corksCounted reports "corked, 24 bottles" of a batch that is in no bottles yet: a fault is
// found in bottles that are.
func (r *reader) corksCounted(i int) bool {
	b := r.namedBatch()
	if b == 0 || r.ctx.Batches[b-1].bottled() {
		return false
	}
	for k := range r.items {
		if r.items[k].name(cUnit) == "bottle" && k > 0 && (r.items[k-1].kind == tNum && k-1 != i || r.items[k-1].name(cNumber) != "") {
			return true
		}
	}
	return false
}
