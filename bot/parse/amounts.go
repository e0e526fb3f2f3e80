package parse

import "strings"

// fill puts a number into an entry, in the house's unit where the typed
// one leaves that open. The typed value stays as it is; only the unit is
// named in the contract's words. A gallon in a metric house is a question,
// because five of one are six of the other (3.785 and 4.546 L).
func (r *reader) fill(e *Entry, c *claim, v *value) {
	f := v.v
	e.Value, e.Typed, e.Approx = &f, v.n.typed, v.approx
	e.Unit = v.unit
	c.v = v
	switch v.unit {
	case "gal":
		e.Unit = r.gallon()
		if e.Unit == "" {
			e.Unit = "gal"
			c.ask = "gallon"
		}
	case "USgal":
		e.Unit = "US gal"
	case "impgal":
		e.Unit = "imp gal"
	case "pint":
		e.Unit = "imp pint"
		if r.ctx.Units == "us" {
			e.Unit = "US pint"
		}
	case "quart":
		e.Unit = "imp qt"
		if r.ctx.Units == "us" {
			e.Unit = "US qt"
		}
	case "floz":
		e.Unit = "imp fl oz"
		if r.ctx.Units == "us" {
			e.Unit = "US fl oz"
		}
	}
}

// gallon is the house's gallon; a metric house is asked once. An empty
// answer means that nobody has said yet.
func (r *reader) gallon() string {
	switch {
	case r.ctx.Units == "us":
		return "US gal"
	case r.ctx.Units == "uk":
		return "imp gal"
	}
	return r.ctx.Gallon
}

// amounts gives the amounts that belong to no material their part: a
// vessel's size, a loss, a volume, bottles, minutes. What is no amount of
// wine (minutes beside a racking, "2 days") is left alone and stored
// nowhere: a wrong guess here would change every dose that is worked out
// from the volume later.
func (r *reader) amounts(d *draft) {
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.q != "amount" && v.q != "volume" {
			continue
		}
		e := Entry{}
		c := claim{at: v.at}
		x := d.deedAt(v.at, anyDeed)
		if x == nil && (v.unit == "bottle" || v.unit == "half bottle") {
			x = r.bottleDeed(d, v)
		}
		if isVolumeUnit(v.unit) && v.at > 1 && r.timesSign(v.at-1) {
			v.taken = true // "11 x 750 ml"
			continue
		}
		switch {
		case isVolumeUnit(v.unit) && v.typ == "sample" && (v.v < 1 || v.unit == "mL" || v.unit == "cL"):
			v.taken = true // how much was drawn to measure
			continue
		case isVolumeUnit(v.unit) && r.fromVolume(d, i):
			v.taken = true // "12.5 l -> 12 l": what it was before
			continue
		case isVolumeUnit(v.unit):
			e.Quantity = r.volumeRole(d, v, x)
		case v.unit == "bottle" || v.unit == "half bottle":
			e.Quantity = r.bottleRole(d, v, x)
		case v.unit == "min":
			if x == nil || x.name != "degassed" && x.name != "stirred" {
				continue
			}
			e.Quantity = "duration"
		case v.unit == "cup" && x != nil && x.name == "topped up":
			e.Quantity = "topping"
		case massOrCount(v.unit) && x != nil && (x.name == "pitched" || x.name == "fined"):
			e.Quantity, e.Material = "addition", map[string]string{"pitched": "yeast", "fined": "finings"}[x.name]
		}
		if e.Quantity == "" {
			continue
		}
		v.taken = true
		if x != nil {
			e.Deed, e.By = x.name, x.by
			x.claims++
		} else if e.Quantity == "bottles_left" {
			e.Deed = "opened"
		}
		r.fill(&e, &c, v)
		if e.Quantity == "topping" && e.Material == "" {
			e.Material = r.toppedWith()
		}
		c.e = e
		d.claims = append(d.claims, c)
	}
}

// fromVolume reports the first of two volumes with an arrow between them.
func (r *reader) fromVolume(d *draft, i int) bool {
	if i+1 >= len(d.values) || d.values[i+1].unit != d.values[i].unit || d.values[i+1].at > d.values[i].end+2 {
		return false
	}
	arrow := r.text[r.items[d.values[i].end-1].end:r.items[d.values[i+1].at].start]
	switch strings.TrimSpace(arrow) {
	case "->", "→", "=>", ">", "-->":
		return true
	}
	return false
}

// timesSign reports the sign between a count and a size: "11 x 750 ml"
// counts bottles, it measures no wine.
func (r *reader) timesSign(k int) bool {
	f := r.items[k].fold
	return (f == "x" || f == "×" || f == "*") && r.items[k-1].kind == tNum
}

// bottleDeed says what happened to bottles where no word of the lexicon
// does: "2 bottles gone", "3 bottles to Sal", "filled 11 bottles". The
// verb may be any everyday word, so it is looked for only beside a number
// of bottles: "gone" or "had" alone are no deed.
func (r *reader) bottleDeed(d *draft, v *value) *deed {
	name := ""
	from, to := r.clauseOf(v.at)
	for k := from; k < to && name == ""; k++ {
		switch r.items[k].fold {
		case "filled", "corked", "capped":
			name = "bottled"
		case "sold", "sent", "posted", "shipped", "took", "taken", "swapped", "donated", "traded":
			if b := r.namedBatch(); b > 0 && r.ctx.Batches[b-1].bottled() {
				name = "given away"
			}
		case "done", "capped up", "boxed", "shelved":
			if b := r.namedBatch(); b > 0 && !r.ctx.Batches[b-1].bottled() {
				name = "bottled"
			}
		case "got", "made", "yielded":
			if b := r.namedBatch(); b > 0 && !r.ctx.Batches[b-1].bottled() && r.weigh().other == 0 {
				name = "bottled"
			}
		case "gone", "had", "drunk", "finished", "shared", "emptied", "killed", "polished", "demolished", "knocked", "downed", "necked", "sank", "popped", "enjoyed", "saw":
			name = "opened"
		case "to":
			if k > v.at && !r.askedFor(from, v.at) {
				name = "given away"
			}
		}
	}
	if name == "" {
		return nil
	}
	d.deeds = append(d.deeds, deed{at: v.at, end: v.end, name: name})
	return &d.deeds[len(d.deeds)-1]
}

// oneBottle reads "opened one", "gave Ann another": a word for a single
// bottle; of "the last one" none is left. "a" does not count here: "opened a damson" may be said of a jar.
func (r *reader) oneBottle(d *draft) {
	for i := range d.deeds {
		x := &d.deeds[i]
		if x.claims > 0 || x.name != "opened" && x.name != "given away" {
			continue
		}
		if r.oneGone(x.at) {
			d.oneOut(x, x.at, "one")
			continue
		}
		for k := x.end; k < len(r.items) && k < x.end+3 && !r.items[k].breaks(); k++ {
			it := &r.items[k]
			if it.is(cLastOne) || it.fold == "last" && k+1 < len(r.items) && (r.items[k+1].batch > 0 && r.ctx.Batches[r.items[k+1].batch-1].bottled() || r.items[k+1].name(cUnit) == "bottle") {
				none := 0.0
				d.claims = append(d.claims, claim{at: k, e: Entry{Quantity: "bottles_left", Value: &none, Unit: "bottle", Typed: it.text, Deed: x.name, By: x.by}})
				x.claims++
				break
			}
			a := it.fold == "a" || it.fold == "an"
			if a && !(k+1 < len(r.items) && r.items[k+1].batch > 0 && r.ctx.Batches[r.items[k+1].batch-1].bottled()) {
				continue // "opened a damson" of a jar
			}
			if !a && it.name(cNumber) != "1" && it.fold != "another" {
				continue
			}
			d.oneOut(x, k, it.text)
			break
		}
	}
}

// volumeRole says what a volume without material is. The order matters: a
// vessel's size is named by the vessel, a loss by its verb, and only what
// is left over can be the volume of the wine. On the way into a vessel
// ("into the 15 l") the number is the vessel's although no vessel is
// named.
func (r *reader) volumeRole(d *draft, v *value, x *deed) string {
	if r.besideVessel(v) {
		return "vessel_size"
	}
	if r.around(v, cLost, 3) || r.ofLees(v.end) {
		return "volume_loss"
	}
	if r.ofOther(v.end) {
		return ""
	}
	if x == nil {
		if v.q == "volume" || r.begins || r.around(v, cLeft, 3) || r.onlyKnown() || r.volumeAlone(v) || r.inIt(v.end) || r.ofNamed(v) {
			return "volume"
		}
		return ""
	}
	switch x.name {
	case "topped up":
		if v.at > 0 && r.items[v.at-1].fold == "to" {
			return "volume"
		}
		return "topping"
	case "opened", "given away", "tasted", "note", "moved", "fault noted":
		return ""
	case "bottled":
		return "volume"
	}
	if v.at > 1 && r.items[v.at-1].fold == "the" && (r.items[v.at-2].fold == "to" || r.items[v.at-2].fold == "in") {
		return "vessel_size"
	}
	if v.at > 0 && (r.items[v.at-1].fold == "into" || v.at > 1 && r.items[v.at-2].fold == "into") {
		return "vessel_size"
	}
	return "volume"
}

// ofLees reports "0.5 L lees", "0.5 L of sediment": what was left behind.
func (r *reader) ofLees(k int) bool {
	if k < len(r.items) && r.items[k].fold == "of" {
		k++
	}
	if k >= len(r.items) {
		return false
	}
	switch r.items[k].fold {
	case "lees", "sediment", "gross lees", "deposit", "dregs":
		return true
	}
	return false
}

// ofNamed reports a volume right behind a batch's name, in a clause that says nothing
// else: "counted the jars, gorse is 20 l now".
func (r *reader) ofNamed(v *value) bool {
	k := v.at - 1
	for k >= 0 && r.items[k].batch == 0 && (r.items[k].is(cFill) || r.items[k].is(cPlain) || r.items[k].is(cApprox) || r.items[k].punct(":")) {
		k--
	}
	if k < 0 || r.items[k].batch == 0 || r.items[k].used != "" {
		return false
	}
	for _, to := r.clauseOf(v.at); k < to; k++ {
		if it := &r.items[k]; it.kind == tWord && (!it.known() || it.is(cOther) && !it.cellar()) {
			return false
		}
	}
	return true
}

// volumeAlone reports a volume said to the bot at the head of a clause of its own, beside
// a gravity in another: "22.5 litres on the mark, 1.087".
func (r *reader) volumeAlone(v *value) bool {
	from, to := r.clauseOf(v.at)
	if !r.addressed() || !r.gravityTyped() || v.at != from {
		return false
	}
	var w weight
	for k := from; k < to; k++ {
		if r.items[k].is(cMaterial) {
			return false
		}
		w.add(r, k)
	}
	return w.other+w.others == 0 && w.unknown <= 1
}

// onlyKnown reports a text without a word that means nothing here. It is
// worked out once a message: words that were taken for something since
// then would be known anyway.
func (r *reader) onlyKnown() bool {
	if r.plain == 0 {
		r.plain = 2
		if r.weigh() == (weight{}) {
			r.plain = 1
		}
	}
	return r.plain == 1
}

// besideVessel: "the 10 l jar", "carboy (23 l)". A few adjectives may
// stand between: "15 l glass jar". Behind the vessel the size may follow:
// "the demijohn, 5 l", but "in the jar 8 l" is wine.
func (r *reader) besideVessel(v *value) bool {
	for k := v.end; k < len(r.items) && k < v.end+3; k++ {
		if r.items[k].is(cVessel) {
			r.items[k].used = "vessel"
			return true
		}
		if f := r.items[k].fold; (f == "glass" || f == "plastic" || f == "steel" || f == "stainless" || f == "oak") && (k+1 == len(r.items) || r.items[k+1].breaks()) && v.at > 0 && r.toWhere(v.at-1) {
			return true // "racked to 20 L glass"
		}
		if f := r.items[k].fold; f != "glass" && f != "plastic" && f != "new" && f != "clean" && f != "-" && f != "oak" && f != "steel" && f != "old" && f != "other" && f != "big" && f != "small" {
			break
		}
	}
	return v.at > 1 && r.items[v.at-1].is(cVessel) && r.items[v.at-2].fold != "in"
}

// toWhere reports "to", "into" or "in a" before a value.
func (r *reader) toWhere(k int) bool {
	if k > 0 && (r.items[k].is(cArt) || r.items[k].fold == "the") {
		k--
	}
	switch r.items[k].fold {
	case "to", "into", "in", "onto":
		return true
	}
	return false
}

// around looks for a class within n items of a value, inside its clause. A
// number ends the search, because a word belongs to the number nearest to
// it.
func (r *reader) around(v *value, c class, n int) bool {
	for k := v.at - 1; k >= 0 && k >= v.at-n && !r.items[k].breaks(); k-- {
		if r.items[k].is(c) {
			return true
		}
		if r.items[k].kind == tNum {
			break
		}
	}
	for k := v.end; k < len(r.items) && k < v.end+n && !r.items[k].breaks(); k++ {
		if r.items[k].is(c) {
			return true
		}
		if r.items[k].kind == tNum {
			break
		}
	}
	return false
}

// toppedWith is what stands behind "with" without an amount. A fruit
// counts as the wine of it: "0.5 l of last year's elder".
func (r *reader) toppedWith() string {
	if r.toppedBy != "" {
		return r.toppedBy
	}
	for i := range r.items {
		if it := &r.items[i]; it.is(cFruit) && it.batch == 0 && it.used == "" {
			it.used = "material"
			r.toppedBy = it.text
			return it.text
		}
		if m := r.items[i].name(cMaterial); m != "" && r.items[i].used == "" {
			r.items[i].used = "material"
			r.toppedBy = m
			return m
		}
	}
	return ""
}

// bottleRole says whether bottles came, went or are left. What is left
// beats what went: the contract wants only one of the two.
func (r *reader) bottleRole(d *draft, v *value, x *deed) string {
	if r.around(v, cLeft, 3) || v.at > 0 && r.items[v.at-1].fold == "down to" {
		return "bottles_left"
	}
	if x == nil {
		return ""
	}
	switch x.name {
	case "topped up":
		return "topping"
	case "bottled":
		return "bottles"
	case "opened", "given away", "poured away", "tasted":
		return "bottles_out"
	}
	return ""
}

// identities reads serials, lots and dates on packets: text, never
// numbers. They come before the numbers are read, and what they cover is
// marked, so that "lot 1048" never becomes a gravity and "0412-77" keeps
// its zero.
func (r *reader) identities() []claim {
	var cs []claim
	for i := 0; i < len(r.items); i++ {
		q := r.items[i].name(cIdent)
		if q == "" || r.items[i].used != "" {
			continue
		}
		k := i + 1
		for j := k; j < len(r.items) && j < k+6 && q == "kit_lot" && !r.items[j].breaks(); j++ { // "lot number on the yeast"
			if r.items[j].name(cMaterial) == "yeast" && r.items[j-1].fold == "the" {
				q, k = "yeast_lot", j+1
				break
			}
		}
		if e := r.identityBehind(k); e > 0 {
			k = e
		}
		for k < len(r.items) && (r.items[k].fold == "was" || r.items[k].punct(":") || r.items[k].punct("=") || r.items[k].punct(".") || r.items[k].fold == "is" || r.items[k].fold == "reads" || r.items[k].fold == "says" || r.items[k].fold == "no" || r.items[k].fold == "number" || r.items[k].fold == "code" || r.items[k].punct("#") || r.items[k].fold == "nr" || r.items[k].fold == "on") {
			k++
		}
		if k >= len(r.items) || !r.codeLike(k) && q != "kit_best_before" {
			continue
		}
		end := k + 1
		if end < len(r.items) && r.items[k].kind == tWord && !r.items[k].glued && (r.items[end].kind == tNum || r.items[end].kind == tCode) { // "LX 204"
			end++
		}
		for end < len(r.items) && (r.items[end].glued && r.items[end].kind != tLine && !r.items[end].punct(",") && !r.items[end].punct(";") || q == "kit_best_before" && !r.items[end].breaks() && !r.items[end].is(cIdent)) {
			end++
		}
		for end > k+1 && (r.items[end-1].punct(".") || r.items[end-1].punct("!")) {
			end--
		}
		for j := i; j < end; j++ {
			if r.items[j].batch == 0 {
				r.items[j].used = "identity"
			}
		}
		r.dropTimes(i, end)
		name := strings.ReplaceAll(q, "_", " ")
		cs = append(cs, claim{at: i, e: Entry{Quantity: q, Text: r.text[r.items[k].start:r.items[end-1].end], Deed: name}})
		i = end - 1
	}
	return cs
}

// identityBehind finds the verb or sign before the code where words stand
// between: "the lot on the box is L2231"; 0 where none does.
func (r *reader) identityBehind(k int) int {
	for j := k; j < len(r.items) && j < k+6 && !r.items[j].breaks(); j++ {
		it := &r.items[j]
		if j > k && (it.kind == tCode || it.kind == tNum && (j+1 == len(r.items) || r.items[j+1].punct("-") && r.items[j+1].glued)) { // "lot on the box 2231-B"
			return j
		}
		if (it.fold == "is" || it.fold == "was" || it.fold == "reads" || it.fold == "says" || it.punct(":") || it.punct("=")) && j+1 < len(r.items) && r.codeLike(j+1) {
			return j
		}
		if it.kind != tWord || it.is(cDeed) || it.is(cLabel) {
			return 0
		}
	}
	return 0
}

// codeLike reports a number or a mixture with a digit in it. A word in
// capitals counts too ("lot KX"), a plain word does not: "serial killer"
// is none.
func (r *reader) codeLike(k int) bool {
	it := &r.items[k]
	if it.kind == tNum || it.kind == tCode {
		return true
	}
	return it.kind == tWord && k+1 < len(r.items) && r.items[k+1].glued && (r.items[k+1].kind == tNum || r.items[k+1].kind == tCode || r.items[k+1].punct("-")) || it.kind == tWord && strings.ToUpper(it.text) == it.text && len(it.text) > 1
}

// dropTimes forgets times that turned out to be part of something else.
// "best before 2027-03" had been read as a date before anybody knew what
// it was the date of.
func (r *reader) dropTimes(from, to int) {
	out := r.times[:0]
	for _, t := range r.times {
		if t.from < to && t.to > from {
			continue
		}
		out = append(out, t)
	}
	r.times = out
}
