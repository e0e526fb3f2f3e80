package parse

import (
	"slices"
	"strings"
)

// givesName reports a word behind which a name is given.
func (b *newBatch) givesName(k int) bool {
	it := &b.r.items[k]
	switch it.fold {
	case "called", "named", "names":
		return true
	case "name":
		if k+1 >= len(b.r.items) {
			return false
		}
		if x := &b.r.items[k+1]; x.fold == "is" || x.punct(":") || x.punct("=") || x.fold == "it" {
			return true
		}
		return k > 0 && (b.r.items[k-1].breaks() || b.r.items[k-1].is(cNewword) || b.r.items[k-1].is(cNew)) // "for perry, name crab"
	case "\"":
		return b.quotes(k) && !b.given
	}
	return it.is(cRename)
}

// quotes reports that a sign that closes follows the one at k, a few words on: "heather".
func (b *newBatch) quotes(k int) bool {
	for j := k + 2; j < len(b.r.items) && j < k+7; j++ {
		if b.r.items[j].text == b.r.items[k].text {
			return true
		}
	}
	return false
}

// givenName takes the words behind "called" at k as the name, whatever they mean
// elsewhere, up to a sign or an amount; a time at their end is when.
func (b *newBatch) givenName(k int) (words []string, end int) {
	r := b.r
	for k++; k < len(r.items); k++ {
		if it := &r.items[k]; it.fold != "is" && it.fold != "it" && it.fold != "the" && !it.is(cArt) && it.fold != "the batch" && it.fold != "name" && !it.punct(":") && !it.punct("=") && !it.punct("\"") && !it.punct("'") {
			break
		}
	}
	from, last := k, k
	for ; k < len(r.items); k++ {
		it := &r.items[k]
		if it.breaks() && !(it.used == "time" && it.kind == tPunct) || it.punct("(") || it.punct("\"") || it.punct(":") && k > from || it.punct("-") && !it.glued || it.kind == tNum && r.unitNext(k) || it.is(cVerb) && it.fold == "with" {
			break
		}
		if it.used != "time" || k == from {
			last = k + 1
		}
	}
	for last > from+1 && r.items[last-1].is(cThanks) && !r.items[last-1].is(cFruit) { // "banana lol"
		last--
	}
	for last < k && r.items[last-1].used == "time" && last-1 == from && k > last { // "sunday best": the day is the name's
		last++
	}
	if last == from || last-from > 5 {
		return nil, from
	}
	for j := from; j < last; j++ {
		words = append(words, r.items[j].text)
		r.items[j].used, r.items[j].batch = "name", 0
	}
	r.dropTimes(from, last)
	return words, last
}

// toldEnough reports that a word said of other things than wine too begins one: behind "set
// off" a size and what it is of, behind "put on" that something went in as well. k is the
// place behind the word.
func (b *newBatch) toldEnough(k int) bool {
	vague := b.r.items[k-1].has(cNew, "vague")
	if !vague && !b.r.items[k-1].has(cNew, "sized") {
		return true
	}
	if !b.volume || !b.fruit && b.kind == "" {
		return false
	}
	if !vague {
		return true
	}
	for ; k < len(b.r.items); k++ {
		if it := &b.r.items[k]; it.used == "" && it.batch == 0 && (it.is(cMaterial) && !it.is(cFruit) || it.name(cDeed) == "pitched" || it.name(cLabel) == "og") {
			return true
		}
	}
	return false
}

// mustOf reports "must" with a sign and the name behind it: "new must: plum". Without one
// the must may be of what stands before it.
func (b *newBatch) mustOf(k int) bool {
	r := b.r
	return r.items[k].name(cTType) == "must" && k+1 < len(r.items) && r.items[k+1].kind == tPunct && b.namedBehind(k+1)
}

// asTyped is the name with its capitals, where they were meant.
func (b *newBatch) asTyped(words []string) string {
	name := strings.Join(words, " ")
	if !b.capitals(words) {
		return strings.ToLower(name)
	}
	return name
}

// capitals reports that the capitals of a name were meant: at the beginning of a sentence,
// or where other words of the message have them as well, phones make them.
func (b *newBatch) capitals(words []string) bool {
	if len(words) == 0 {
		return false
	}
	r, first, later := b.r, false, false
	for _, w := range words[1:] {
		later = later || w != strings.ToLower(w)
	}
	for k := range r.items {
		it := &r.items[k]
		starts := k == 0 || r.items[k-1].kind == tLine || r.items[k-1].punct(".") || r.items[k-1].punct("!") || r.items[k-1].punct("?")
		switch {
		case it.kind == tWord && it.text == words[0]:
			first = first || !starts
		case it.kind != tWord || slices.Contains(words, it.text):
		case len(it.text) > 2 && capitalsIn(it.text, starts) && slices.ContainsFunc(it.senses, func(s sense) bool {
			return s.lang == "en" && (s.class == cNew || s.class == cNewword || s.class == cKind)
		}):
			return false // "New Batch Sea Buckthorn"
		}
	}
	return first || later
}

// capitalsIn reports a capital in a text; where it begins a sentence, behind its first word.
func capitalsIn(s string, starts bool) bool {
	if starts {
		_, s, _ = strings.Cut(s, " ")
	}
	return s != strings.ToLower(s)
}

// goesOn reports "and" between two words of a name: "rhubarb and ginger". What follows
// the second one shows that no sentence goes on instead.
func (b *newBatch) goesOn(k int) bool {
	r := b.r
	if it := &r.items[k]; it.name(cJoin) != "and" || k+1 >= len(r.items) {
		return false
	}
	x := &r.items[k+1]
	if x.kind != tWord || x.used != "" || b.stops(x) || b.measured(k+1) || !x.is(cFruit) && !x.is(cMaterial) && len(x.senses) > 0 {
		return false
	}
	if k+2 >= len(r.items) {
		return true
	}
	y := &r.items[k+2]
	if y.is(cDeed) && y.used == "" {
		return x.is(cFruit) // "gooseberry and elderflower pitched", but "plum and tom racked"
	}
	if y.is(cVerb) && y.fold != "in" && y.fold != "into" && y.fold != "with" {
		return false // "plum and sugar added"
	}
	return y.kind == tNum || y.kind == tPunct || y.kind == tLine || y.used == "time" || y.is(cNewword) || y.is(cNew) || y.name(cKind) != "" || y.is(cThanks) || y.is(cNow) || y.is(cFill) || y.is(cToward)
}

// forWhom is how many items "for me", "for dad" or "for the wedding:" take at the head: whose
// wish it is, not what it is called.
func (b *newBatch) forWhom(k int) int {
	items := b.r.items
	if items[k].fold != "for" || k+1 >= len(items) {
		return 0
	}
	for n := k + 1; n < len(items) && n < k+4 && (items[n].kind == tWord && items[n].batch == 0); n++ {
		if n+1 < len(items) && items[n+1].punct(":") {
			return n + 1 - k
		}
	}
	if x := &items[k+1]; x.batch == 0 && (x.is(cPerson) || x.is(cPron) && !x.is(cFill) || b.r.isMember(x.fold)) {
		return 2
	}
	return 0
}

// namePrefix reports a small word of another language that begins a name behind English
// words: "new batch de chaunac". Behind words of its own language it is only "of" or "the".
func (b *newBatch) namePrefix(k int) bool {
	r := b.r
	if !r.items[k].is(cPrefix) || k == 0 || k+1 >= len(r.items) {
		return false
	}
	h := k - 1
	for h > 0 && (r.items[h].kind == tPunct || r.items[h].used == "name" && !r.items[h].is(cNewword) || r.items[h].is(cPrefix)) {
		h--
	}
	english := false
	for _, s := range r.items[h].senses {
		english = english || (s.class == cNew || s.class == cNewword) && s.lang == "en"
	}
	x := &r.items[k+1]
	return english && x.kind == tWord && x.batch == 0 && (x.is(cPrefix) || x.is(cFruit) || !b.stops(x) && !x.is(cNew) && !x.is(cVessel) && !x.is(cMaterial))
}

// onlyJuice makes juice the batch's volume where it is the only liquid that is told: a wine
// of 20 l of juice is 20 l.
func (d *draft) onlyJuice() {
	var juice *claim
	for i := range d.claims {
		c := &d.claims[i]
		switch {
		case c.e.Quantity == "volume" || c.e.Quantity == "vessel_size":
			return
		case c.e.Quantity != "addition" || !isVolumeUnit(c.v.unitOrNone()):
		case c.e.Material != "juice" || juice != nil:
			return
		default:
			juice = c
		}
	}
	if juice != nil {
		juice.e.Quantity, juice.e.Material, juice.e.Deed = "volume", "", ""
	}
}

// unitOrNone is the unit of a value, "" where there is no value.
func (v *value) unitOrNone() string {
	if v == nil {
		return ""
	}
	return v.unit
}

// begunLast reads "3 gal demijohn of apple started": the size and what it is of, and then
// that it is begun. A batch that is named is no new one.
func (r *reader) begunLast(from int) (Intent, bool) {
	k, to := from, from
	for to < len(r.items) && !r.items[to].breaks() && !r.items[to].punct(":") {
		to++
	}
	for k < to && !r.items[k].is(cNew) && r.items[k].name(cDeed) != "must made" {
		if it := &r.items[k]; it.batch > 0 || it.is(cDeed) || it.is(cPlan) || it.is(cCond) || it.is(cQ) && k == from || it.is(cDeny) || it.is(cOthers) {
			return Intent{}, false
		}
		k++
	}
	if k == from || k >= to || r.items[k].fold == "new" || r.items[len(r.items)-1].punct("?") {
		return Intent{}, false
	}
	for j := k + 1; j < to; j++ {
		if it := &r.items[j]; it.used != "time" && !it.is(cFill) && !it.is(cNow) {
			return Intent{}, false
		}
	}
	b := newBatch{r: r, from: from}
	b.parts()
	if b.name == "" || !b.certain() || !b.volume && b.kind != "kit" {
		r.unname()
		return Intent{}, false
	}
	in := b.intent()
	in.Wishes = r.wishes()
	return in, true
}

// beginsLater reports what is to be begun on a day to come: "starting a gallon of plum on
// saturday".
func (r *reader) beginsLater(k int) bool {
	for _, t := range r.times {
		if t.future && !r.meantFor(t) || t.dated && !t.today && r.items[k].fold == "starting" && !r.hasWord(k, "called", "named", "call it", "name it") {
			return true
		}
	}
	return false
}

// colourWord reports a colour behind a name: "kadarka red" is a kadarka, "apple cider" is
// called so.
func colourWord(w string) bool {
	switch strings.ToLower(w) {
	case "red", "white", "rosé", "rose":
		return true
	}
	return false
}

// slippedBatch reports "bacth" and the like behind "new".
func slippedBatch(it *item) bool {
	return it.kind == tWord && it.batch == 0 && len(it.senses) == 0 && it.fold[0] == 'b' && oneSlip(it.fold, "batch")
}

// meantFor reports "for christmas": when it is to be drunk, not when it begins.
func (r *reader) meantFor(t timeSpan) bool {
	return strings.HasPrefix(r.items[t.from].fold, "for ") || t.from > 0 && r.items[t.from-1].fold == "for"
}

// tellsThat is the place behind "forgot to say" and "i want to put in the book that" at k,
// where a batch is begun right behind it; k where none is.
func (r *reader) tellsThat(k int) int {
	for n := k; n < len(r.items) && n < k+10; n++ {
		it := &r.items[n]
		if it.batch > 0 || it.kind != tWord && it.kind != tPunct || it.is(cDeny) || it.is(cOthers) {
			return k
		}
		if it.fold != "that" && !(it.is(cFill) && (strings.HasPrefix(it.fold, "forgot") || strings.HasPrefix(it.fold, "meant to"))) {
			continue
		}
		for j := n + 1; j < len(r.items) && j < n+5; j++ {
			x := &r.items[j]
			if x.is(cNew) {
				return n + 1
			}
			if !x.is(cPron) && !x.is(cFill) && !x.is(cArt) {
				break
			}
		}
	}
	return k
}

// namedBehind reports a word that may be a name right behind the sign at k.
func (b *newBatch) namedBehind(k int) bool {
	if k+1 >= len(b.r.items) {
		return false
	}
	it := &b.r.items[k+1]
	return it.kind == tWord && it.used == "" && (!b.stops(it) || it.is(cOther)) && !it.is(cVessel) && !it.is(cNow)
}

// alone reports that the word at k is all that stands between two signs.
func (b *newBatch) alone(k int) bool {
	return k > 0 && b.r.items[k-1].breaks() && (k+1 == len(b.r.items) || b.r.items[k+1].breaks())
}

// stops reports a word that ends the name: a deed, a label, a unit. After
// "batch" or "wine" any word may be the name.
func (b *newBatch) stops(it *item) bool {
	return it.is(cDeed) || it.is(cCond) || it.is(cLabel) || it.is(cUnit) || it.is(cIdent) || it.is(cVerb) && it.fold != "more" || it.is(cNow) || it.is(cOther) && !it.is(cFruit) && !it.cellar()
}

// newBehindTalk is the place of "new" behind a clause of talk that measures nothing and
// names no batch, where the kind and the size of what is new follow: "what a bargain, new
// merlot kit, 23 l"; 0 where none is. The talk is taken out of what is told.
func (r *reader) newBehindTalk(from int) int {
	if !r.addressed() || r.items[len(r.items)-1].punct("?") {
		return 0
	}
	n := from
	for ; n < len(r.items); n++ {
		it := &r.items[n]
		if it.is(cNew) && it.batch == 0 && n > from && (r.items[n-1].kind == tPunct || r.items[n-1].kind == tLine || n > from+1 && r.items[n-1].is(cArt) && r.items[n-2].kind == tPunct) {
			break
		}
		if it.kind == tNum || it.kind == tCode || it.batch > 0 || it.is(cPlan) || it.is(cCond) || it.is(cDeny) || it.is(cOthers) && (n+1 == len(r.items) || r.items[n+1].name(cDeed) != "given away" && r.items[n+1].fold != "brought") || it.is(cSay) || it.is(cNew) {
			return 0
		}
	}
	kind, named := n < len(r.items) && strings.Contains(r.items[n].fold, "batch"), false
	for k := n + 1; k+1 < len(r.items); k++ {
		it := &r.items[k]
		if it.batch > 0 || it.is(cPlan) || it.is(cCond) {
			return 0
		}
		known := it.is(cKind) || it.is(cNewword)
		kind, named = kind || known, named || it.kind == tWord && !known && (!it.known() || it.is(cFruit))
		if kind && named && it.kind == tNum && isVolumeUnit(r.items[k+1].name(cUnit)) {
			for j := from; j < n; j++ {
				if r.items[j].used == "" {
					r.items[j].used = "name"
				}
			}
			return n
		}
	}
	return 0
}

// vintage reports the year of the fruit behind a name: this one, or one of the few before it
// whose fruit was frozen.
func (b *newBatch) vintage(it *item) bool {
	year := b.r.ctx.Now.Year()
	return len(it.num.digits) == 4 && it.num.val <= float64(year) && it.num.val > float64(year-4)
}
