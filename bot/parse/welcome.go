package parse

import "strings"

// unwelcome says why a message is not for the book at all; "" if it may
// be. The empty reason lets the message in. In private the doubt falls on
// the clauses with data only, in a group on every word.
func (r *reader) unwelcome(d *draft) string {
	named := len(d.scopes.batches) > 0 || r.replyBatch() > 0
	labelled := false
	for i := range d.claims {
		c := &d.claims[i]
		if c.v != nil && c.v.label && c.e.Quantity != "temp" && c.e.Quantity != "ambient_temp" || strings.HasPrefix(c.e.Quantity, "kit_") {
			labelled = true
		}
	}
	bottles := false
	for i := range d.claims {
		bottles = bottles || strings.HasPrefix(d.claims[i].e.Quantity, "bottles")
	}
	if d.w.others > 0 && !(bottles && r.addressed()) && !r.addressedInGroup() && !r.hasDeedNamed(d, "given away") && !r.hasDeedNamed(d, "opened") && !r.hasDeedNamed(d, "topped up") && !r.hasDeedNamed(d, "blended") {
		return "somebody else's"
	}
	if d.w.other > 0 && !labelled && !named && !r.plainPair(d) && !r.cellarDeed(d) && !r.lastBehindColon(d) && !r.bottlesGone(d) {
		return "it speaks of something else"
	}
	if !r.ctx.Group || r.addressed() {
		return r.privateDoubt(d, labelled, named)
	}
	return r.groupDoubt(d, labelled, named)
}

// plainPair reports a gravity with its point and a temperature with its
// unit, in private: enough to be a reading whatever else is said. Nobody
// types both by accident.
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

// lastBehindColon reports, in private, a gravity with all its digits that ends the message
// behind a colon: "tea break: 1.047" says when it was read.
func (r *reader) lastBehindColon(d *draft) bool {
	if r.ctx.Group || len(d.claims) != 1 {
		return false
	}
	c := &d.claims[0]
	return c.e.Quantity == "sg" && c.v != nil && c.v.n.decimals == 3 && c.v.end == len(r.items) && c.at > 0 && r.items[c.at-1].punct(":")
}

// cellarDeed reports, in private, a deed that is done nowhere else, with a figure of its
// own: "degassed for 10 minutes, my arm is dead".
func (r *reader) cellarDeed(d *draft) bool {
	if r.ctx.Group || len(d.deeds) == 0 {
		return false
	}
	switch d.deeds[0].name {
	case "racked", "degassed", "pitched", "stabilised", "punched down", "fined", "strained", "mlf started", "mlf done":
	default:
		return false
	}
	for i := range d.claims {
		if d.claims[i].e.Value != nil {
			return true
		}
	}
	return false
}

// bottlesGone reports, in private, bottles that were opened or given away, of which nothing
// says that they are of another drink: whoever got them or shared them may be anybody.
func (r *reader) bottlesGone(d *draft) bool {
	if r.ctx.Group {
		return false
	}
	for i := range d.claims {
		c := &d.claims[i]
		if c.e.Quantity != "bottles_out" || c.v == nil || c.v.unit != "bottle" {
			continue
		}
		if k := c.v.end; k+1 < len(r.items) && r.items[k].kind == tWord && r.items[k+1].is(cOther) && !r.items[k+1].cellar() && len(r.items[k].fold) <= 3 && r.items[k].fold != "to" && r.items[k].fold != "for" {
			return false // "2 bottles of milk"
		}
		return true
	}
	return false
}

// addressedInGroup reports a group's message that is meant for the bot.
func (r *reader) addressedInGroup() bool { return r.ctx.Group && r.addressed() }

// privateDoubt keeps chatter out of a private chat's book. A label, a name
// or a deed says enough. Without them a few unknown words are let pass
// with a gravity, one with anything less plain.
func (r *reader) privateDoubt(d *draft, labelled, named bool) string {
	if labelled || named || len(d.deeds) > 0 && d.deeds[0].name != "working" {
		if d.w.other > 0 && d.w.unknown > 0 && !named && !(labelled && d.w.other == 1) && !r.cellarDeed(d) {
			return "it speaks of something else"
		}
		return ""
	}
	if r.plainPair(d) {
		return ""
	}
	limit := 1
	if onlyTemps(d) {
		limit = 0
		for i := range d.claims {
			if d.claims[i].e.Quantity == "ambient_temp" { // "it's a balmy 28 in the garage"
				limit = max(limit, 1)
			}
			if v := d.claims[i].v; v != nil && v.label && v.typ != "" && v.typ != "room" { // "must is 66F apparently"
				limit = 3
			}
		}
	}
	if len(d.deeds) > 0 {
		limit = 3
	}
	for _, c := range d.gravities() {
		if limit = 3; c.v != nil && c.v.n.decimals == 3 {
			limit = 6
			break
		}
	}
	if d.w.unknown > limit {
		return "too many words that are not the cellar's"
	}
	return ""
}

// onlyTemps reports nothing but temperatures: "31 degrees in spain" is one too.
func onlyTemps(d *draft) bool {
	for i := range d.claims {
		if q := d.claims[i].e.Quantity; q != "temp" && q != "ambient_temp" {
			return false
		}
	}
	return true
}

// groupDoubt lets through only what is plainly the cellar's. The contract
// calls a false log in a group the worst mistake, so everything that is
// not plain is silence.
func (r *reader) groupDoubt(d *draft, labelled, named bool) string {
	kind, deed := d.kind()
	switch {
	case d.unnamed:
		return "it names no open batch"
	case r.noBottles(d):
		return "of what is in no bottles yet"
	case r.onlyBottled(d):
		return "what is bottled takes no readings"
	case d.w.unknown+d.w.other > 0 && r.bareWhole(d):
		return "a bare number among words that are not the cellar's"
	case named && d.w.unknown > 0 && onlyTemps(d) && !(deed == "pitched" && d.w.unknown == 1 && d.w.other == 0):
		return "a temperature among words that are not the cellar's"
	case named && onlyTemps(d) && r.othersCounted():
		return "a temperature where people are counted"
	case kind == Event && kitchenDeed(deed) && len(d.gravities()) == 0 && r.intoKitchen(d.claims[0].at):
		return "it may be the kitchen's"
	case r.otherBetween(d):
		return "it may be another thing of that name"
	case r.otherThings(d):
		return "digits of another thing"
	case deed == "working" && r.worksAt(d):
		return "somebody works there"
	case named && r.plainlyNamed(d), r.pairPlainly(d):
		return ""
	case named && d.w.unknown+d.w.other <= 2:
		if gs := d.gravities(); d.w.other > 0 && len(gs) > 0 && gs[0].v != nil && !gs[0].v.label && gs[0].v.n.decimals == 2 {
			return "digits that may be a price"
		}
		return ""
	case d.w.unknown > 0 || d.w.other > 0:
		if !(labelled && d.w.other == 0 && d.w.unknown <= 1 && (len(d.gravities()) > 0 || hasStart(d))) && !r.saysGravity(d) {
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
	if gs := d.gravities(); !labelled && len(gs) > 0 && len(d.deeds) == 0 && !r.saysGravity(d) {
		return r.plainGravity(gs[0])
	}
	return ""
}

// noBottles reports bottles opened or given away of a batch that has none: "gave 3
// apples to the horse".
func (r *reader) noBottles(d *draft) bool {
	for _, c := range d.claims {
		if (c.e.Deed == "opened" || c.e.Deed == "given away") && c.batch > 0 && c.batch < jointID && !r.ctx.Batches[c.batch-1].bottled() {
			return true
		}
	}
	return false
}

// onlyBottled reports readings of which all are of a batch that is bottled: "the elder
// started at 1.085".
func (r *reader) onlyBottled(d *draft) bool {
	for _, c := range d.claims {
		switch c.e.Quantity {
		case "sg", "og", "temp", "ambient_temp":
		default:
			return false
		}
		if c.batch <= 0 || c.batch >= jointID || !r.ctx.Batches[c.batch-1].bottled() {
			return false
		}
	}
	return true
}

// bareWhole reports a gravity that was typed as a whole number with nothing to say that
// it is one: "meet at the gorse at 7".
func (r *reader) bareWhole(d *draft) bool {
	for _, g := range d.gravities() {
		if g.v != nil && !g.v.label && g.v.n.whole() {
			return true
		}
	}
	return false
}

// kitchenDeed reports a deed that is done to fruit and spices as well: "stirred the ginger
// into the cake mix".
func kitchenDeed(deed string) bool {
	switch deed {
	case "stirred", "strained", "sweetened", "blended", "addition", "poured away":
		return true
	}
	return false
}

// intoKitchen reports what goes into a thing of another topic: "into the cake mix".
func (r *reader) intoKitchen(at int) bool {
	from, to := r.clauseOf(at)
	for i := from; i < to; i++ {
		if f := r.items[i].fold; f != "into" && f != "onto" && f != "to" && f != "in" {
			continue
		}
		for k := i + 1; k < to && k < i+4; k++ {
			if it := &r.items[k]; it.is(cOther) && !it.cellar() && it.batch == 0 && it.used == "" {
				return true
			}
		}
	}
	return false
}

// vague reports deeds whose words are said of many things.
func vague(deed string) bool {
	switch deed {
	case "opened", "given away", "moved", "tasted", "note", "fault noted", "poured away", "emptied", "split", "laid down", "labelled", "kit serial", "kit lot", "kit best before", "yeast lot", "target set":
		return true
	}
	return false
}

// plainGravity lets an unlabelled gravity into a group's book only among
// words that say nothing else: "1.031 today" is the cellar's, "1.04 each"
// may be anything's. Two decimals are a price as well, and count only
// alone.
func (r *reader) plainGravity(c *claim) string {
	words := 0
	for i := range r.items {
		it := &r.items[i]
		if it.kind != tWord || it.used != "" || it.batch > 0 || r.judged != nil && !r.judged[i] {
			continue
		}
		if !it.is(cApprox) || it.is(cFill) && it.is(cThanks) {
			words++
		}
		if !r.plainWord(it, c) && !r.toVessel(i, c) {
			return "words that are not plainly the cellar's"
		}
	}
	if c.v != nil && words > 0 && c.v.n.decimals < 3 {
		return "digits that may be a price or a count"
	}
	return ""
}

// plainWord reports a word that takes nothing from a bare gravity. A vessel may stand beside
// one with all its digits.
func (r *reader) plainWord(it *item, c *claim) bool {
	return r.sender != "" && it.fold == r.sender || it.is(cPlain) || it.is(cSet) || it.is(cThanks) || it.is(cAmbient) || it.is(cTType) || it.is(cApprox) || it.is(cInstr) ||
		it.is(cObs) && !it.is(cVessel) || it.is(cVessel) && c.v != nil && c.v.n.decimals >= 3
}

// hasStart reports a start gravity.
func hasStart(d *draft) bool {
	for i := range d.claims {
		if d.claims[i].e.Quantity == "og" {
			return true
		}
	}
	return false
}

// saysGravity reports a gravity with all its digits that fits an open batch, in a sentence
// that opens with it or says that it is one: there a stray word of a group does no harm.
func (r *reader) saysGravity(d *draft) bool {
	gs := d.gravities()
	if len(gs) == 0 || gs[0].v == nil || gs[0].v.n.decimals < 3 || gs[0].ask != "" || d.w.other+d.w.others > 0 || d.w.unknown > 1 || len(d.deeds) > 0 {
		return false
	}
	g := gs[0]
	if len(r.fitting(*g.e.Value, g.e.When.order(r.ctx.Now))) == 0 {
		return false
	}
	if g.v.label {
		return true
	}
	from, to := r.sentenceOf(g.at)
	says, stray, strange := false, 0, 0
	for k := from; k < to; k++ {
		it := &r.items[k]
		if it.kind != tWord || it.used != "" || r.plainWord(it, g) {
			continue
		}
		if _, end := r.clauseOf(g.at); k > g.at && k < end || it.is(cPlan) || it.is(cCond) || it.is(cMaterial) || it.is(cPron) && it.fold != "one" { // what stands behind it is what it counts
			return false
		}
		if k == g.at-1 || k+1 < len(r.items) && r.items[k+1].name(cPlain) == "says" && k > from && r.determined(k-1) { // "reading glasses 1.045", "the scale says 1.043"
			return false
		}
		if stray++; !it.is(cFill) && !it.is(cUnit) {
			strange++
		}
	}
	for k := range from { // "new pb! 1.043"
		if it := &r.items[k]; it.kind == tWord && it.used == "" && !r.plainWord(it, g) {
			return false
		}
	}
	for k := max(from, g.at-5); k < g.at && !says; k++ {
		says = r.items[k].name(cPlain) == "says"
	}
	return stray == 0 || says && (stray <= 2 || strange <= 1)
}
