package parse

import "time"

// bares decides what numbers without unit and label are, from their shape
// and from what stands around them. The tests stand in the order of how
// plain the evidence is: a count of bottles, a point with three digits, a
// room, the temperature that follows a gravity; what remains is read only
// if it is the whole message. In an answer to the bot less is needed.
func (r *reader) bares(d *draft) {
	gravity := false
	for i := range d.values {
		v := &d.values[i]
		if q := ""; v.label && (v.q == "free_so2" || v.q == "total_so2") && v.end < len(r.items) && !r.numberFollows(v.end) { // "so2 test: 28 free"
			if q = sulphurOf(r.items[v.end].fold); q != "" && r.items[v.end].used == "" {
				v.q, r.items[v.end].used = q, "label"
			}
		}
		gravity = gravity || v.q == "sg" || v.q == "og" || v.q == "bare" && !v.taken && gravityShaped(v.n) && !r.counted(d, v)
	}
	for i := range d.values {
		v := &d.values[i]
		if v.taken || v.q != "bare" {
			continue
		}
		switch {
		case r.sameLabel(d, i) || r.labelOfRow(d, i):
		case r.lossBeside(d, v):
		case r.otherSulphite(d, v):
		case r.countsOther(v):
		case r.bottleCount(d, v):
		case gravityShaped(v.n) && v.n.decimals >= 0:
			v.q = "sg"
		case gravityShaped(v.n) && !r.counted(d, v):
			v.q = "sg"
		case r.zeroLost(d, i):
			v.q = "sg"
		case v.n.decimals == 3 && v.n.val < 3 && r.nameSays(v):
			v.q = "sg"
		case v.typ == "room" && tempSized(v.n):
			v.q = "temp"
		case (v.typ == "cap" || v.typ == "sample") && tempSized(v.n):
			v.q, gravity = "temp", true
		case v.typ != "" && v.typ != "room" && tempSized(v.n) && (gravity || r.ctx.ReplyTo != ""):
			v.q = "temp"
		case tempSized(v.n) && r.besideRoom(d, i):
			v.q = "temp"
		case gravity && tempSized(v.n) && r.secondNumber(d, i):
			v.q = "temp"
		case r.hasDeedNamed(d, "pitched") && tempSized(v.n) && v.at > 0 && r.items[v.at-1].fold == "at":
			v.q = "temp"
		case r.whole(v, nil), r.toldOfName(v), i+2 == len(d.values) && r.stemBeside(v, &d.values[i+1]):
			r.loneNumber(v)
		}
	}
}

// sameLabel reads "TA gorse 7.2, damson 5.8": what is measured was said once, before the
// first name.
func (r *reader) sameLabel(d *draft, i int) bool {
	v := &d.values[i]
	if i == 0 || v.at == 0 || r.items[v.at-1].batch == 0 || r.items[v.at-1].used != "" || gravityShaped(v.n) && v.n.decimals > 1 {
		return false
	}
	w := &d.values[i-1]
	k := w.at - 1
	if k > 0 && r.items[k].used == "label" { // "gorse ph 3.4, damson 3.5"
		k--
	}
	if !w.label || k < 0 || r.items[k].batch == 0 || r.items[k].batch == r.items[v.at-1].batch {
		return false
	}
	switch w.q {
	case "ph", "ta", "free_so2", "total_so2", "brix", "oechsle", "abv":
	default:
		return false
	}
	for k := w.end; k < v.at-1; k++ {
		if it := &r.items[k]; !it.breaks() && it.fold != "and" && !it.punct("&") && !it.is(cArt) && it.fold != "the" {
			return false
		}
	}
	v.q, v.unit, v.label = w.q, w.unit, true
	return true
}

// labelOfRow reads "gorse and damson: free so2 21 and 25": what is measured was said once, for
// as many figures as names stand before it in a row.
func (r *reader) labelOfRow(d *draft, i int) bool {
	v := &d.values[i]
	if i == 0 || d.scopes.rows == 0 || gravityShaped(v.n) && v.n.decimals > 1 {
		return false
	}
	w := &d.values[i-1]
	if !w.label || v.at != w.end+1 || w.unit == "sg" {
		return false
	}
	if sep := &r.items[w.end]; sep.name(cJoin) != "and" && !sep.punct("&") && !sep.punct("/") && !sep.punct(",") && !sep.punct("+") {
		return false
	}
	switch w.q {
	case "ph", "ta", "free_so2", "total_so2", "brix", "oechsle", "baume", "abv":
	default:
		return false
	}
	if id := d.scopes.batch(w.at); id < jointID || id != d.scopes.batch(v.at) || len(d.scopes.joint[id-jointID]) < 2 {
		return false
	}
	v.q, v.unit, v.label = w.q, w.unit, true
	return true
}

// nameSays reports "gorse says 1.875": told as a gravity, though there is none of that size.
func (r *reader) nameSays(v *value) bool {
	if v.at < 2 || r.items[v.at-2].batch == 0 || r.items[v.at-2].used != "" {
		return false
	}
	switch r.items[v.at-1].fold {
	case "says", "reads", "shows", "said", "read", "showed":
		return true
	}
	return false
}

// lossBeside: "8.4 l, lost 0.7": the loss is in the unit of the volume
// beside it. People name the unit once: the loss is meant in the same one.
func (r *reader) lossBeside(d *draft, v *value) bool {
	if v.at == 0 || !r.items[v.at-1].is(cLost) || gravityShaped(v.n) {
		return false
	}
	for _, c := range d.claims {
		if c.e.Quantity == "volume" {
			f := v.v
			v.taken = true
			d.claims = append(d.claims, claim{at: v.at, v: v, e: Entry{Quantity: "volume_loss", Value: &f, Unit: c.e.Unit, Typed: v.n.typed, Deed: c.e.Deed, By: c.e.By}})
			return true
		}
	}
	return false
}

// counted reports a whole number that counts something: bottles of a
// bottling. "bottled 1000" is a thousand bottles at a fair, not 1.000.
func (r *reader) counted(d *draft, v *value) bool {
	return v.n.whole() && (r.hasDeedNamed(d, "bottled") || r.hasDeedNamed(d, "opened") || r.hasDeedNamed(d, "given away"))
}

// countsOther reports a whole number before a thing of another topic: "1041 steps". In a
// group any word that means nothing here takes a number away.
func (r *reader) countsOther(v *value) bool {
	if !v.n.whole() || v.end >= len(r.items) || r.items[v.end].kind != tWord || r.items[v.end].used != "" {
		return false
	}
	x := &r.items[v.end]
	if x.fold == "of" && v.end+1 < len(r.items) && (r.items[v.end+1].fold == "us" || r.items[v.end+1].fold == "you") {
		return true // "three of us read it"
	}
	return gravityShaped(v.n) && (x.is(cOther) && !x.cellar() && !x.is(cApprox) || !x.known() && r.ctx.Group && !r.addressed())
}

// hasDeedNamed reports a deed among those of the message.
func (r *reader) hasDeedNamed(d *draft, name string) bool {
	for i := range d.deeds {
		if d.deeds[i].name == name {
			return true
		}
	}
	return false
}

// noHeatInBottles drops, where other batches are read, the bare number beside a bottled
// one: "ginger all present, 5" counts.
func (r *reader) noHeatInBottles(d *draft) {
	if len(d.claims) < 2 {
		return
	}
	out := d.claims[:0]
	for _, c := range d.claims {
		if c.e.Quantity == "temp" && c.v != nil && !c.v.label && c.batch > 0 && c.batch < jointID && r.ctx.Batches[c.batch-1].bottled() {
			continue
		}
		out = append(out, c)
	}
	d.claims = out
}

// tempSized reports digits that a thermometer may show. The range is wide
// on purpose: an absurd one is asked about or refused later, with its
// reason.
func tempSized(n number) bool { return n.decimals <= 1 && !n.fraction && n.val > -10 && n.val < 2500 }

// secondNumber reports that a gravity of the same clause group stands
// beside this number: the sample's temperature follows (or leads) its
// gravity. Only one temperature of each kind belongs to a gravity; the
// third number of a message is nobody's. An unknown word behind the number
// takes it away: "1.032, 19 people came".
func (r *reader) secondNumber(d *draft, i int) bool {
	v := &d.values[i]
	if v.end < len(r.items) {
		if x := &r.items[v.end]; x.kind == tWord && (!x.known() || x.is(cOther) && !x.cellar() || x.is(cOthers)) {
			return false
		}
	}
	if r.clockTalk(v.at) || r.toldElsewhere(d, i) || i == 0 && r.countsWhatFollows(v) || v.at > 0 && v.n.whole() && v.v < 10 && r.items[v.at-1].fold == "down" { // "down four since yesterday"
		return false
	}
	for j := i - 1; j >= 0; j-- {
		w := &d.values[j]
		if w.q == "temp" && w.typ == v.typ {
			return false
		}
		if w.q == "sg" || w.q == "og" || w.q == "brix" || w.q == "oechsle" {
			return true
		}
	}
	if i+1 == len(d.values) {
		return false
	}
	w := &d.values[i+1]
	return w.q == "sg" || w.q == "bare" && gravityShaped(w.n)
}

// besideRoom reports a bare number of the wine's vessel or name where another is the
// room's temperature: "room's 17 but the bucket is 21".
func (r *reader) besideRoom(d *draft, i int) bool {
	v := &d.values[i]
	if !r.addressed() || !r.inTempRange(v.v) || r.clockTalk(v.at) {
		return false
	}
	room := false
	for j := range d.values {
		room = room || j != i && d.values[j].typ == "room" && (d.values[j].q == "temp" || d.values[j].q == "bare" && tempSized(d.values[j].n))
	}
	if !room {
		return false
	}
	from, _ := r.clauseOf(v.at)
	for k := v.at - 1; k >= from; k-- {
		if it := &r.items[k]; it.batch > 0 || it.is(cVessel) || it.is(cTType) {
			return true
		}
	}
	return false
}

// clockTalk reports "back at 6": an hour, not a temperature. The same
// words are harmless behind a reading: "1.032 at 19".
func (r *reader) clockTalk(k int) bool {
	if k > 0 && r.items[k-1].fold == "in" { // "back in 10"
		return true
	}
	if k < 2 {
		return false
	}
	switch r.items[k-1].fold {
	case "at", "by", "until", "till", "around", "about", "before", "after", "from", "past":
	case "um", "om", "a", "alle", "las", "kl", "o", "v": // "Abendessen um 19"
		return r.itsHour(k) || r.items[k-2].kind == tWord && !r.items[k-2].known() // an unknown thing at that hour
	default:
		return false
	}
	if r.itsHour(k) {
		return true
	}
	w := &r.items[k-2]
	if k > 2 && (w.fold == "is" || w.fold == "was" || w.fold == "'s") { // "dinner is at 7"
		if w = &r.items[k-3]; w.is(cPart) || w.is(cOther) && !w.cellar() {
			return true
		}
		return false
	}
	switch w.fold {
	case "back", "home", "there", "here", "see", "meet", "ready", "leaving", "off", "out", "up", "dinner", "lunch", "you", "me", "again", "away":
		return true
	default:
		return w.kind == tWord && w.batch == 0 && (!w.known() || w.used == "" && (w.is(cPart) || w.is(cOther) && !w.cellar()))
	}
}

// itsHour reports that the clause of the number at k speaks of another topic and of nothing
// in the cellar: in "supper at 9" and "off to the pub at 8" it is an hour.
func (r *reader) itsHour(k int) bool {
	from, to := r.clauseOf(k)
	other := false
	for i := max(from, k-8); i < to; i++ {
		it := &r.items[i]
		if it.batch > 0 || it.is(cTType) && i != k-1 || it.is(cVessel) || it.kind == tNum && i != k || it.name(cLabel) != "" && it.name(cLabel) != "temp" {
			return false
		}
		other = other || i < k && it.is(cOther) && (!it.cellar() || it.used == "time")
		other = other || i < k && i == k-2 && it.kind == tWord && it.name(cPart) == "evening" && it.used != "time"
	}
	return other
}

// toldElsewhere reports a bare number of a clause of its own that tells of people, of what
// was lost, or in words that mean nothing here: "1.033. we are down 2" is no temperature.
func (r *reader) toldElsewhere(d *draft, i int) bool {
	v := &d.values[i]
	from, to := r.clauseOf(v.at)
	for j := range d.values {
		if w := &d.values[j]; w.at >= from && w.at < to && (w.q == "sg" || w.q == "og" || w.q == "bare" && gravityShaped(w.n)) {
			return false
		}
	}
	for k := from; k < to; k++ {
		it := &r.items[k]
		if it.kind != tWord || it.used != "" || it.batch > 0 {
			continue
		}
		if !it.known() && !(k+1 == v.at && k == from && v.end == to) || it.is(cLost) || it.is(cPerson) || it.is(cOther) && !it.cellar() || r.ctx.Group && (it.fold == "we" || it.fold == "they" || it.fold == "you" || it.fold == "us") {
			return true
		}
	}
	return false
}

// bottleCount books the number of a bottling, an opening, a gift. Half
// bottles have their own unit and never come here.
func (r *reader) bottleCount(d *draft, v *value) bool {
	if !v.n.whole() || v.v > 5000 || v.v < 1 && !(v.v == 0 && r.leftBehind(v)) || v.v > 900 && gravityShaped(v.n) && !r.counted(d, v) {
		return false
	}
	if v.at > 1 && r.items[v.at-1].fold == "the" && r.items[v.at-2].is(cToward) { // "bottled up on the 401"
		return false
	}
	q := ""
	x := d.deedAt(v.at, anyDeed)
	switch {
	case r.leftBehind(v) && (x == nil || x.name == "opened" || x.name == "given away" || x.name == "bottled" || x.name == "tasted"):
		q = "bottles_left"
	case x == nil:
		return false
	case x.name == "bottled":
		q = "bottles"
	case x.name == "opened" || x.name == "given away":
		q = "bottles_out"
	default:
		return false
	}
	e := Entry{Quantity: q, Unit: "bottle", Typed: v.n.typed}
	f := v.v
	e.Value = &f
	e.Deed = "opened"
	if x != nil {
		e.Deed, e.By = x.name, x.by
		x.claims++
	}
	if v.at > x.behind() { // "Nora opened 1, Tom 2": whoever stands before the count
		if p := &r.items[v.at-1]; p.used == "" && p.batch == 0 && (p.is(cPerson) || r.isMember(p.fold) || p.kind == tWord && len(p.senses) == 0 && r.opens(v.at-1)) {
			e.By = r.claimDoer(p)
		} else if v.at > 1 && p.fold == "had" && r.items[v.at-2].is(cPron) {
			e.By = ""
		}
	}
	v.taken = true
	d.claims = append(d.claims, claim{e: e, at: v.at, v: v})
	return true
}

// behind is the place behind a deed, 0 for none.
func (x *deed) behind() int {
	if x == nil {
		return 0
	}
	return x.end
}

// leftBehind reports "9 left" and "9 plum left" of a bottled batch.
func (r *reader) leftBehind(v *value) bool {
	k := v.end
	if k < len(r.items) && r.items[k].batch > 0 && r.ctx.Batches[r.items[k].batch-1].bottled() {
		k++
	}
	if b := r.namedBatch(); b > 0 && r.ctx.Batches[b-1].bottled() && v.at > 0 && r.items[v.at-1].fold == "down to" { // "rhubarb's down to 18"
		return true
	}
	return k < len(r.items) && r.items[k].is(cLeft) || v.at > 0 && r.items[v.at-1].is(cLeft) && r.items[v.at-1].fold != "left"
}

// whole reports a number that is the whole message but for small words and
// a name. Filler, signs, a name and a time may stand beside it.
func (r *reader) whole(v, beside *value) bool {
	for k := range r.items {
		it := &r.items[k]
		if k >= v.at && k < v.end || beside != nil && k >= beside.at && k < beside.end || it.batch > 0 || it.used == "time" || it.kind == tPunct || it.is(cFill) || it.is(cApprox) || it.is(cPron) || it.is(cSet) {
			continue
		}
		return false
	}
	return true
}

// stemBeside reports "merlot 44 77f": before the temperature of a sample that has its unit
// stands what the sample was measured for.
func (r *reader) stemBeside(v, t *value) bool {
	return t.q == "temp" && t.typ != "room" && (t.unit == "C" || t.unit == "F" || t.unit == "deg") && v.end <= t.at && r.whole(v, t)
}

// loneNumber reads a bare number that is the whole message: in an answer
// to the bot, or in private where exactly one reading fits. A number that
// could be both a temperature and the end of a gravity ("20" at 1.034) is
// asked, never guessed. Four digits or a point make it a gravity; then the
// limits decide.
func (r *reader) loneNumber(v *value) {
	if !r.addressed() && (r.namedBatch() == 0 || v.n.whole() && len(v.n.digits) == 1) { // "meet at the gorse at 7"
		return
	}
	switch {
	case !r.ctx.Group && r.namedBatch() == 0 && v.n.decimals <= 1 && r.inTempRange(v.v) && r.awaitsTemp():
		v.q = "temp"
	case tooFewDigits(v.n):
		v.q = "sg"
	case r.meansSeveral() && tempSized(v.n) && r.inTempRange(v.v):
		v.q = "temp" // two batches rarely stand at one gravity
	case v.n.decimals >= 1 && r.slipFits(v):
		v.q = "sg"
	case v.n.decimals == 2 && v.n.val > askHigh && v.n.val < 2 && r.namedBatch() > 0 && r.addressed(): // "plum 1.99"
		v.q = "sg"
	case r.ctx.ReplyTo != "" && tempSized(v.n):
		v.q = "temp"
	case v.n.whole() && v.n.val >= 0 && v.n.val < 200 && r.slipFits(v):
		if r.inTempRange(v.v) && !r.ctxStem(v) {
			v.q, v.ask = "sg", "is_it_a_reading"
			return
		}
		v.q = "sg"
	case tempSized(v.n) && r.inTempRange(v.v) && r.ctx.Active > 0:
		v.q = "temp"
	case v.n.decimals == 3 && v.n.val < 10 && (v.n.val < 3 || r.namedBatch() > 0 || r.addressed()), v.n.whole() && len(v.n.digits) == 4:
		v.q = "sg"
	}
}

// awaitsTemp reports that the sender's own newest entry is a gravity of at most ten
// minutes ago without a temperature: what follows alone is the sample's.
func (r *reader) awaitsTemp() bool {
	l := r.ctx.LastEntry
	if l == nil || l.Quantity != "sg" || !r.ownLast() || r.ctx.Now.Sub(r.lastTyped()) > 10*time.Minute || r.ctx.Now.Before(r.lastTyped()) {
		return false
	}
	for _, x := range l.Beside {
		if x.Quantity == "temp" {
			return false
		}
	}
	return true
}

// ctxStem: a name or "down to" beside whole digits speaks of the stem.
// "damson 12" and "down to 12" are said of the stem.
func (r *reader) ctxStem(v *value) bool {
	return r.namedBatch() > 0 || v.at > 0 && r.items[v.at-1].fold == "down to"
}

// slipFits reports that one slip makes the number a gravity of exactly one
// value that fits a batch. Without a batch there is nothing to fit, and
// the number stays a number.
func (r *reader) slipFits(v *value) bool {
	b := r.namedBatch()
	if b == 0 {
		b = r.index(r.ctx.Active)
	}
	return len(r.fittingSlips(v.n, b, r.ctx.Now)) == 1
}

// inTempRange reports a temperature that is plausible in the house's own
// unit. Common practice, no source: 4–40 °C and the same in Fahrenheit are
// what a household measures.
func (r *reader) inTempRange(t float64) bool {
	if r.ctx.Units == "us" {
		return t >= 40 && t <= 104
	}
	return t >= 4 && t <= 40
}

// tempUnit is the unit of a temperature typed without one: °F in a US
// house, else °C.
func (r *reader) tempUnit() string {
	if r.ctx.Units == "us" {
		return "F"
	}
	return "C"
}
