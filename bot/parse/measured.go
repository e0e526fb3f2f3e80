package parse

import (
	"math"
	"strings"
)

// measured turns the labelled and shaped values into claims. A target
// becomes a deed of its own. Readings take the deed that was done to the
// same batch at the same time, so that the racking of one and the gravity
// of another stay apart.
func (r *reader) measured(d *draft) {
	for i := range d.values {
		v := &d.values[i]
		if v.taken {
			continue
		}
		c := claim{at: v.at, v: v}
		switch v.q {
		case "sg", "og", "target_sg":
			if v.q == "target_sg" && !gravityShaped(v.n) && !tooFewDigits(v.n) {
				continue // a target of something else
			}
			r.gravityClaim(&c, v)
		case "temp":
			if k := v.end; k < len(r.items) && r.items[k].name(cMaterial) == "water" && r.solvent(k) {
				v.taken = true // the yeast was woken in it
				continue
			}
			r.tempClaim(&c, v)
		case "ph", "free_so2", "total_so2", "brix", "balling", "oechsle", "baume", "kmw", "abv":
			r.otherClaim(&c, v)
		case "ta":
			r.acidClaim(&c, v)
		case "amount":
			if v.unit == "g/L" && v.v >= 2 && v.v <= 20 && len(d.deeds) == 0 && r.onlyKnown() {
				v.q = "ta"
				r.acidClaim(&c, v)
				break
			}
			if v.unit != "%vol" && (v.unit != "%" || !r.aloneOr(v, "abv")) {
				continue
			}
			v.q, v.unit = "abv", "%vol"
			r.otherClaim(&c, v)
		default:
			continue
		}
		v.taken = true
		if v.q == "target_sg" {
			c.e.Deed = "target set"
			d.deeds = append(d.deeds, deed{at: v.at, end: v.end, name: "target set", claims: 1})
		} else if main := d.deedOf(v.at); main != nil {
			c.e.Deed, c.e.By = main.name, main.by
			main.claims++
		} else {
			c.e.By = r.reporter(v.at)
		}
		d.claims = append(d.claims, c)
	}
}

// reporter is who read it, where the clause begins with somebody: "mum
// read 1.031". An unknown first word needs a verb of reading behind it; a
// member or a kin word does not.
func (r *reader) reporter(at int) string {
	from, _ := r.clauseOf(at)
	for from < at && r.items[from].used == "time" {
		from++
	}
	if from >= at {
		return ""
	}
	it := &r.items[from]
	if it.used == "by" {
		return named(it.text)
	}
	if it.kind != tWord || it.batch > 0 || it.used != "" {
		return ""
	}
	told := false
	if from+1 < at {
		switch r.items[from+1].fold {
		case "says", "said", "read", "reads", "measured", "got", "took", "checked", "tested", "reckons", "has", "had", "found":
			told = true
		}
	}
	if r.isMember(it.fold) || it.is(cPerson) || told && len(it.senses) == 0 && len(it.fold) > 1 {
		return r.claimDoer(it)
	}
	return ""
}

// deedOf is the deed that a reading belongs to: the first that was done to
// the same batch at the same time. Deeds of other batches of the message
// do not count.
func (d *draft) deedOf(at int) *deed {
	for i := range d.deeds {
		x := &d.deeds[i]
		if d.scopes.batch(x.at) == d.scopes.batch(at) && d.scopes.when(x.at) == d.scopes.when(at) {
			return x
		}
	}
	return nil
}

// aloneOr reports that the number is the message, or that the label is
// near. Percent are said of many things.
func (r *reader) aloneOr(v *value, label string) bool {
	for k := range r.items {
		if r.items[k].name(cLabel) == label {
			return true
		}
	}
	return r.whole(v, nil)
}

// blurred reports that a digit could not be read: "1.03, can't see the end".
func (r *reader) blurred() bool {
	for i := range r.items {
		if r.items[i].is(cBlur) {
			return true
		}
	}
	return false
}

// gravityClaim makes the claim of a gravity; its limits and its batch are
// looked at later. A mark of interrogation right behind the number is a
// doubt, not a reading.
func (r *reader) gravityClaim(c *claim, v *value) {
	g := gravityValue(v.n)
	if v.at > 0 && r.items[v.at-1].fold == "down to" && v.n.whole() && len(v.n.digits) == 2 && r.addressed() {
		if s := r.fittingSlips(v.n, r.index(r.meantBatch()), r.ctx.Now); len(s) == 1 { // "gravity down to 36"
			g = s[0]
		}
	}
	c.e = Entry{Quantity: v.q, Value: &g, Unit: "sg", Typed: v.n.typed, Approx: v.approx}
	if v.ask != "" {
		c.ask = v.ask
	}
	if v.end < len(r.items) && r.items[v.end].punct("?") && v.q == "sg" && !r.asksBehind(v.end) {
		c.ask = "is_it_a_reading"
	}
	if tooFewDigits(v.n) || v.n.decimals == 2 && r.once("blurred", r.blurred) {
		c.ask = "digits"
	}
}

// asksBehind reports marks in a row at k and a question of its own behind them: in "1.014
// ??? is this ok" the marks are its worry, not a doubt of the digits.
func (r *reader) asksBehind(k int) bool {
	n := 0
	for k < len(r.items) && r.items[k].punct("?") {
		k++
		n++
	}
	return n > 1 && k+1 < len(r.items) && r.items[k].is(cQ)
}

// tempClaim makes the claim of a temperature. With its unit it is
// plausible from 0 to 45 °C (air from −30); without, it must be what the
// house measures, else the unit is asked, whatever it would be in the
// other one.
func (r *reader) tempClaim(c *claim, v *value) {
	f := v.v
	q := "temp"
	if v.typ == "room" {
		q, v.typ = "ambient_temp", ""
	}
	c.e = Entry{Quantity: q, Value: &f, Unit: v.unit, Typed: v.n.typed, Type: v.typ, Approx: v.approx}
	if v.unit == "" || v.unit == "deg" {
		c.e.Unit = r.tempUnit()
		if f > mostDegrees || f < -mostDegrees {
			lo, hi := 4.0, 40.0
			if c.e.Unit == "F" {
				lo, hi = 40, 104
			}
			c.bound(v, func(t float64) bool { return t >= lo-tiny && t <= hi+tiny })
			return
		}
		if !r.inTempRange(f) && q == "temp" || q == "ambient_temp" && (f < -30 || f > 110 || c.e.Unit == "C" && f > 45) {
			c.ask = "temp_unit"
		}
		return
	}
	lo, hi := 0.0, 45.0
	if q == "ambient_temp" {
		lo = -30
	}
	inC := func(t float64) float64 {
		if v.unit == "F" {
			return (t - 32) / 1.8
		}
		return t
	}
	c.bound(v, func(t float64) bool { return inC(t) >= lo-tiny && inC(t) <= hi+tiny })
}

// mostDegrees is the most that a wine may show in either unit, 45 °C in °F: of more, asking
// for the unit would not help.
const mostDegrees = 113 + tiny

// limits are the plausible values of the other quantities (common practice, no source).
var limits = map[string][2]float64{"ph": {2.7, 4.5}, "ta": {2, 20}, "free_so2": {0, 150}, "total_so2": {0, 400}, "brix": {-3, 45}, "balling": {-3, 45}, "oechsle": {-10, 180}, "baume": {-2, 25}, "kmw": {-2, 35}, "abv": {0, 20}}

// bound asks or refuses a value outside its limits: one slip of the point
// that leads inside is offered. More than one way back, or none, is
// refused: "pH 9" has none.
func (c *claim) bound(v *value, ok func(float64) bool) {
	if ok(v.v) {
		return
	}
	for _, f := range []float64{v.v / 10, v.v * 10} {
		if ok(f) && f != 0 {
			c.options = append(c.options, math.Round(f*1e6)/1e6)
		}
	}
	if len(c.options) == 1 {
		c.ask = "magnitude"
		return
	}
	c.reject = "impossible_" + v.q
}

// otherClaim makes the claim of a quantity that has one unit.
func (r *reader) otherClaim(c *claim, v *value) {
	f := v.v
	c.e = Entry{Quantity: v.q, Value: &f, Unit: v.unit, Typed: v.n.typed, Approx: v.approx}
	if u := labelUnit[v.q]; u != "" {
		c.e.Unit = u
	}
	lim := limits[v.q]
	c.bound(v, func(t float64) bool { return t >= lim[0]-tiny && t <= lim[1]+tiny })
}

// acidClaim: without unit a TA below 1.5 is per 100 ml, from 2 to 20 g/L,
// else asked. The kits of the trade show g/L or %, which differ by ten:
// between 1.5 and 2 both are possible.
func (r *reader) acidClaim(c *claim, v *value) {
	f := v.v
	c.e = Entry{Quantity: "ta", Value: &f, Unit: v.unit, Typed: v.n.typed, Basis: r.basis(), Approx: v.approx}
	switch {
	case v.unit == "g/L" || v.unit == "mg/L":
		c.bound(v, func(t float64) bool { return t >= 2-tiny && t <= 20+tiny })
	case v.unit == "g/100mL" || v.unit == "%vol" || v.unit == "%":
		c.e.Unit = "g/100mL"
		c.bound(v, func(t float64) bool { return t >= 0.2-tiny && t <= 2+tiny })
	case f < 1.5 && f > 0:
		c.e.Unit = "g/100mL"
	case f >= 2 && f <= 20:
		c.e.Unit = "g/L"
	default:
		c.e.Unit, c.ask = "", "unit"
	}
}

// basis is the acid that a titratable acidity counts as: British and
// French figures on the sulphuric basis are smaller by 1.53 (Handbook of
// Enology, vol. 1).
func (r *reader) basis() string {
	for i := range r.items {
		f := r.items[i].fold
		if strings.HasPrefix(f, "sulfuric") || strings.HasPrefix(f, "sulphuric") || f == "h2so4" || f == "schwefelsaure" || f == "sulfurique" {
			r.items[i].used = "basis"
			return "sulfuric"
		}
		if strings.HasPrefix(f, "tartaric") || f == "weinsaure" || f == "tartrique" {
			r.items[i].used = "basis"
			return "tartaric"
		}
	}
	return ""
}

// deedEntries gives every deed that has nothing else its entry `event`,
// and fault, taste and move their text. Faults are told in any clause; the
// whole text is kept, because the words around a smell are what helps
// later.
func (r *reader) deedEntries(d *draft) {
	for i := range d.deeds {
		x := &d.deeds[i]
		if x.name == "target set" || x.name == "kit serial" {
			continue
		}
		if x.name == "moved" || x.name == "laid down" || x.name == "cold stabilising started" {
			p := ""
			if x.name == "moved" {
				if p = r.placeAfter(x.end); p == "" {
					p = r.roomOf(0)
				}
			} else {
				p = r.roomOf(x.at)
			}
			if p == "" && x.name == "laid down" {
				p = r.restingPlace(x.end)
			}
			if p != "" {
				d.claims = append(d.claims, claim{at: x.at, e: Entry{Quantity: "place", Text: p, Deed: x.name, By: x.by}})
				x.claims++
				r.otherPlaces(d, x)
				continue
			}
		}
		if x.name == "opened" {
			r.tasteBeside(d, x)
		}
		if x.name == "tasted" {
			d.claims = append(d.claims, claim{at: x.at, e: Entry{Quantity: "note", Text: r.taste(x), Deed: "tasted", By: x.by}})
			x.claims++
			continue
		}
		if x.claims == 0 || d.besideAddition(x) {
			e := Entry{Quantity: "event", Deed: x.name, By: x.by}
			if x.name == "blended" { // what went into it is told in words
				e.Text = strings.TrimSpace(r.text)
			}
			d.claims = append(d.claims, claim{at: x.at, e: e})
		}
	}
	for i := range r.items {
		it := &r.items[i]
		if it.is(cFault) && it.used == "" && !r.hasDeedNamed(d, "tasted") && !r.hasDeedNamed(d, "fault noted") && !r.denied(i) && !r.pleasant(i) && !(it.fold == "corked" && r.hasDeedNamed(d, "bottled")) {
			d.claims = append(d.claims, claim{at: i, e: Entry{Quantity: "fault", Text: strings.TrimSpace(r.text), Deed: "fault noted"}})
			d.deeds = append(d.deeds, deed{at: i, end: i + 1, name: "fault noted", claims: 1})
			it.used = "fault"
		}
	}
}

// besideAddition reports a stirring behind something put in: what was measured after both
// says nothing more of it, and it is the second deed of the message.
func (d *draft) besideAddition(x *deed) bool {
	switch x.name {
	case "stirred", "punched down", "degassed":
	default:
		return false
	}
	_, first := d.kind()
	return first == "addition"
}

// pleasant reports "smells of strawberries": of what smells well, and of no known fault.
func (r *reader) pleasant(i int) bool {
	it := &r.items[i]
	for k := i + 1; k < len(r.items) && k < i+3 && !r.items[k].breaks(); k++ {
		if r.items[k].has(cAside, "nice") && Complaint(r.text[it.start:]) == "" {
			return true
		}
	}
	if !strings.HasSuffix(it.fold, " of") && !strings.HasSuffix(it.fold, " like") {
		return false
	}
	k := i + 1
	for k < len(r.items) && r.items[k].kind == tWord && r.items[k].batch == 0 && (r.items[k].is(cArt) || r.items[k].is(cFill) || r.items[k].is(cTaste)) && !r.items[k].is(cFruit) {
		k++
	}
	if k >= len(r.items) || Complaint(r.text[it.start:]) != "" {
		return false
	}
	x := &r.items[k]
	if x.used == "" && (x.is(cFruit) || x.name(cOther) == "thing" && !x.is(cFault)) {
		x.used = "smell"
		return true
	}
	return x.used == "thing" || x.name(cMaterial) == "honey" || x.name(cMaterial) == "yeast"
}

// otherPlaces reads "and gorse to the kitchen" behind the first of several moves.
func (r *reader) otherPlaces(d *draft, x *deed) {
	for k := x.end + 1; k+2 < len(r.items) && x.name == "moved"; k++ {
		if p := &r.items[k-1]; r.items[k].batch == 0 || !p.punct(",") && p.fold != "and" && p.fold != "the" || r.items[k+1].fold != "to" && r.items[k+1].fold != "into" {
			continue
		}
		if p := r.placeAfter(k + 1); p != "" {
			d.claims = append(d.claims, claim{at: k, batch: r.items[k].batch, e: Entry{Quantity: "place", Text: p, Deed: x.name, By: x.by}})
		}
	}
}

// headOfClause reports that nothing but an article or a time stands before
// item k in its clause: a name stands there, "send" of "forgot to send" not.
func (r *reader) headOfClause(k int) bool {
	from, _ := r.clauseOf(k)
	for ; from < k; from++ {
		if it := &r.items[from]; it.used != "time" && it.kind != tPunct && !it.is(cArt) && it.fold != "the" && it.fold != "our" && it.fold != "my" && it.fold != "new" {
			return false
		}
	}
	return true
}

// findUnknownName looks for the name of a batch that is not open: a fruit,
// or an unknown word just before a gravity. An unknown name never goes to
// the active batch (contract, policy 3). A short word before the gravity
// is let pass: labels get mistyped ("ag 1.032").
func (r *reader) findUnknownName(d *draft) {
	for _, m := range d.scopes.batches {
		if m.id != unknownID {
			return
		}
	}
	if r.unknownHead() {
		d.unnamed, d.name = true, r.items[0].text
		return
	}
	for i := range r.items {
		it := &r.items[i]
		if it.unknownNo {
			d.unnamed, d.name = true, it.text
			return
		}
		if r.hasDeedNamed(d, "tasted") || r.hasDeedNamed(d, "fault noted") {
			continue // "cherries" is what it tastes of
		}
		if it.used == "" && it.is(cFruit) && it.batch == 0 && !it.is(cMaterial) && !it.is(cObs) && !it.is(cTType) {
			d.unnamed, d.name = true, it.text
			return
		}
	}
	for i := range d.values {
		v := &d.values[i]
		if v.q != "sg" && v.q != "og" || v.at == 0 {
			continue
		}
		k := v.at - 1
		for k > 0 && (r.items[k].punct(":") || r.items[k].punct("=") || r.items[k].punct("-") || r.items[k].used == "label" || r.items[k].fold == "is" || r.items[k].fold == "at" || r.items[k].fold == "now" || r.items[k].fold == "is at") {
			k--
		}
		it := &r.items[k]
		if it.kind == tWord && it.used == "" && it.batch == 0 && len(it.fold) >= 4 && (len(it.senses) == 0 || it.slip && !it.is(cLabel)) && r.headOfClause(k) {
			d.unnamed, d.name = true, it.text
			return
		}
	}
}

// taste is what a tasting said. A label in front of it, "tasted: sharp", is no part of
// it, as with a note.
func (r *reader) taste(x *deed) string {
	text := r.text
	if k := x.at + 1; x.at == 0 && k+1 < len(r.items) && r.items[k].punct(":") {
		text = text[r.items[k].end:]
	}
	return strings.TrimSpace(text)
}
