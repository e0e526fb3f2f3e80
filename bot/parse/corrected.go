package parse

import "strings"

// correct reads the rest of a repair from item k: a value, a batch, a
// time, a unit. Talk that begins like a repair ("no, 19 people") has a
// word in it that no repair has, and is left alone. Somebody else's entry
// is never changed without asking (contract, policy 9).
func (r *reader) correct(k int) (Intent, bool) {
	in, ok := r.correctWhole(k)
	if ok && in.Kind != Ignore {
		return in, true
	}
	if end := r.deniedFirst(k); end > 0 { // "27 not 28. Ines counted the one I drank"
		all := r.items
		r.items = all[:end]
		first, done := r.correctWhole(k)
		if r.items = all; done && first.Kind == Correction {
			return first, true
		}
	}
	if end := r.saidFirst(k); end > 0 { // "sorry, 29 bottles. three were under the bench"
		all := r.items
		r.items = all[:end]
		first, done := r.correctWhole(k)
		if r.items = all; done && first.Kind != Ignore {
			return first, true
		}
	}
	return in, ok
}

// deniedFirst is where a clause ends that gives a number and denies the newest entry's own
// value, if more is told behind it; 0 else. Whatever reason follows, nothing else is meant.
func (r *reader) deniedFirst(k int) int {
	l := r.ctx.LastEntry
	for i := k + 2; i+1 < len(r.items) && i < k+6 && l != nil && l.Value != nil && r.ownLast() && r.justLogged(); i++ {
		if it := &r.items[i-1]; r.items[i].breaks() && it.kind == tNum && r.items[i-2].name(cSay) == "not" && (it.num.val == *l.Value || gravityValue(it.num) == *l.Value) {
			return i
		}
	}
	return 0
}

// saidFirst is where the first sentence ends that repairs, with its value, if more is told
// behind it; 0 else. Another gravity behind it is no reason given.
func (r *reader) saidFirst(k int) int {
	value := false
	for i := k; i < len(r.items); i++ {
		it := &r.items[i]
		value = value || it.kind == tNum && it.used == ""
		if !value || it.kind != tLine && !it.punct(".") && !it.punct("!") || it.used != "" {
			continue
		}
		for j := i + 1; j < len(r.items); j++ {
			if gravityItem(&r.items[j]) || r.items[j].batch > 0 || r.items[j].is(cDeed) && !(r.items[j].name(cDeed) == "opened" && r.countsBottles()) || r.items[j].punct("?") {
				return 0
			}
		}
		if i+1 == len(r.items) || r.ctx.Group && !r.justLogged() {
			return 0
		}
		return i
	}
	return 0
}

// correctWhole is correct for all that is told.
func (r *reader) correctWhole(k int) (Intent, bool) {
	if r.isPlanRest(k) {
		return Intent{}, false
	}
	vs := r.valuesFrom(k)
	r.lastMeant(vs)
	batch := r.lastNamed(k)
	if batch == 0 {
		batch = r.otherThanLast(k)
	}
	w, timed := r.timeFrom(0)
	u := r.unitAlone(k)
	m := r.materialAlone(k)
	if len(vs) == 0 && batch == 0 && !timed && u == "" && m == "" || len(vs) > 2 || r.strange(k, vs) {
		return Intent{}, false
	}
	if r.ctx.LastEntry == nil && r.namedBatch() > 0 && len(vs) > 0 && vs[0].n.decimals == 3 && gravityShaped(vs[0].n) { // "sorry forgot, sloe 1.043 last night"
		return Intent{}, false
	}
	if r.saidInGroup() && (r.ctx.LastEntry == nil || r.otherTalk(vs, batch, timed)) {
		return r.ignore("nothing to repair"), true
	}
	if r.otherAmount(vs) {
		return Intent{}, false
	}
	switch r.lastState() {
	case "what":
		return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing was logged in the last 48 hours"}, true
	}
	in, ok := r.corrected(vs, batch, w, timed, u, m)
	if !ok {
		return Intent{}, false
	}
	if by := r.ctx.LastEntry.By; r.lastState() == "whose" {
		in.Held, in.Entries = in.Entries, nil
		in.Options = []Option{{Label: "Change it", Entries: in.Held, Replace: true, Whose: Theirs}}
		if own := r.ctx.OwnEntry; own != nil {
			r.ctx.LastEntry = own
			if x, ok := r.corrected(vs, batch, w, timed, u, m); ok && x.Kind == Correction && x.Action == in.Action {
				in.Options = append(in.Options, Option{Label: "Mine", Entries: x.Entries, Replace: true, Whose: Mine})
			}
		}
		in.Kind, in.Ask, in.Why = Ask, "correct_whose", "the newest entry is "+by+"'s"
	}
	return in, true
}

// otherTalk reports what a group says of other things in the words of a repair: "make it
// 8 o'clock", "actually it was 7".
func (r *reader) otherTalk(vs []value, batch int, timed bool) bool {
	if len(vs) == 0 {
		return timed && batch == 0 && (r.items[0].name(cSay) == "make" || r.deniesOtherHour())
	}
	v := vs[0]
	if len(vs) > 1 && v.q == "bare" && vs[1].q == "bare" && v.n.whole() && vs[1].n.whole() && len(v.n.digits) < 3 && len(vs[1].n.digits) < 3 { // "no, 24 to 10"
		return true
	}
	if v.q == "bare" && v.n.whole() && len(v.n.digits) < 3 && r.isGravity() && len(r.fittingSlips(v.n, r.lastIndex(), r.ctx.LastEntry.When)) == 0 { // "no it was 12 all"
		return true
	}
	return v.q == "bare" && tail(v.n) && r.isGravity() && !r.justTyped() || v.q == "bare" && v.n.whole() && len(v.n.digits) == 1 && r.isGravity()
}

// countsBottles reports that the newest entry is a number of bottles.
func (r *reader) countsBottles() bool {
	return r.ctx.LastEntry != nil && strings.HasPrefix(r.ctx.LastEntry.Quantity, "bottles")
}

// deniesOtherHour reports an hour behind "not" that the newest entry does not have: "7:30
// not 6" is said of a meeting.
func (r *reader) deniesOtherHour() bool {
	for k := 1; k < len(r.items); k++ {
		it := &r.items[k]
		if it.kind != tNum || !it.num.whole() || r.items[k-1].name(cSay) != "not" {
			continue
		}
		at, minute := r.ctx.LastEntry.When, 0
		if k+2 < len(r.items) && r.items[k+1].punct(":") && r.items[k+2].kind == tNum {
			minute = int(r.items[k+2].num.val)
		}
		apart := (at.Hour()%12*60 + at.Minute()) - (int(it.num.val)%12*60 + minute)
		return r.ctx.LastEntry.Day || apart > 15 || apart < -15
	}
	return false
}

// isGravity reports that the newest entry is a gravity.
func (r *reader) isGravity() bool {
	switch r.ctx.LastEntry.Quantity {
	case "sg", "og", "target_sg":
		return true
	}
	return false
}

// otherAmount reports an amount where the newest entry is a gravity: "no, 1.5 kg" repairs
// none.
func (r *reader) otherAmount(vs []value) bool {
	return r.ctx.LastEntry != nil && len(vs) > 0 && vs[0].q == "amount" && vs[0].unit != "" && r.isGravity()
}

// corrected makes the repaired entry. The order is: a value beats a unit,
// a unit a material, a material a batch, a batch a time. Entry, time and
// batch stay those of the last entry where the text does not say
// otherwise.
func (r *reader) corrected(vs []value, batch int, w When, timed bool, u, m string) (Intent, bool) {
	l := r.ctx.LastEntry
	in := Intent{Kind: Correction, Batch: r.lastBatch()}
	e := r.lastAs(l.Value)
	switch {
	case len(vs) > 0:
		in.Action = "replace_last"
		in, ok := r.replaced(in, e, vs[0])
		r.alsoTemp(&in, vs)
		return in, ok
	case u != "":
		in.Action = "edit_field"
		e.Unit = u
	case m != "" && l.Quantity == "addition":
		in.Action = "edit_field"
		e.Material = m
	case batch > 0:
		in.Action = "move_last"
		r.setBatch(&e, batch)
		in.Batch = e.BatchN
		if timed && !w.Now() {
			e.When = w
		}
	case timed:
		in.Action = "retime_last"
		e.When = w
	default:
		return in, false
	}
	in.Entries = []Entry{e}
	return in, true
}

// lastAs is the last entry again, at its own time. The digits are those of
// the number, as the caller does not hand the typed ones.
func (r *reader) lastAs(v *float64) Entry {
	l := r.ctx.LastEntry
	e := Entry{Quantity: l.Quantity, Value: v, Unit: l.Unit, When: When{At: l.When, Day: l.Day}, Batch: l.Batch}
	if i := r.lastIndex(); i > 0 {
		e.BatchN = r.ctx.Batches[i-1].N
	}
	if v != nil {
		e.Typed = fmtValue(*v)
	}
	return e
}

// replaced puts the new value in place of the last; a value of another
// quantity repairs that field of the same message. A temperature after a
// gravity does not replace it: it completes the same message, as an edited
// field. New digits meet the same limits as a first reading.
func (r *reader) replaced(in Intent, e Entry, v value) (Intent, bool) {
	c := claim{v: &v}
	l := r.ctx.LastEntry
	q := v.q
	if l.Quantity == "event" && (q == "bare" || q == "sg") { // a deed has no figure that could be wrong: the reading before it is meant
		if !gravityShaped(v.n) {
			return in, false
		}
		q, v.v, e.Unit = "sg", gravityValue(v.n), "sg"
	} else if q == "bare" || q == "sg" && !v.label && l.Quantity != "sg" {
		q = l.Quantity
		if q == "sg" && gravityShaped(v.n) || q == "og" {
			v.v = gravityValue(v.n)
		}
	} else if q == "sg" && l.Quantity == "og" {
		q = "og"
	} else if q == "amount" {
		q = l.Quantity
		if v.unit == "" {
			v.unit = l.Unit
		}
	} else if q == "temp" && l.Quantity == "ambient_temp" {
		q = "ambient_temp"
	}
	if q == "sg" || q == "og" || q == "target_sg" {
		v.v = gravityValue(v.n)
		if tooFewDigits(v.n) {
			return r.askDigits(in, v)
		}
		if v.v < askLow || v.v > askHigh {
			s := r.fittingSlips(v.n, r.lastIndex(), e.When.At)
			if len(s) != 1 {
				return Intent{Kind: Reject, Reason: "impossible_sg", Why: "no such gravity: " + v.n.typed}, true
			}
			e.Value = &s[0]
			return Intent{Kind: Ask, Ask: "magnitude", Action: in.Action, Options: []Option{{Label: fmtSG(s[0]), Entries: []Entry{e}, Replace: true}}, Batch: in.Batch}, true
		}
		v.unit = "sg"
	}
	e.Quantity = q
	unit := v.unit
	r.fill(&e, &c, &v)
	if unit == "" || unit == "deg" {
		e.Unit = l.Unit
		if q != l.Quantity {
			e.Unit = labelUnit[q]
			if q == "temp" {
				e.Unit = r.tempUnit()
			}
		}
	}
	if q != l.Quantity {
		in.Action = "edit_field"
	}
	if w, ok := r.timeFrom(0); ok && !w.Now() {
		e.When = w
	}
	in.Entries = []Entry{e}
	return in, true
}

// alsoTemp adds the temperature of "no, 1.032 19c". Otherwise the
// temperature would be lost: only one value can replace the last.
func (r *reader) alsoTemp(in *Intent, vs []value) {
	if len(vs) < 2 || len(in.Entries) != 1 || in.Entries[0].Quantity != "sg" {
		return
	}
	v := vs[1]
	c := claim{}
	if v.q == "bare" && tempSized(v.n) {
		v.q = "temp"
	}
	if v.q != "temp" {
		return
	}
	r.tempClaim(&c, &v)
	if c.ask == "" && c.reject == "" {
		c.e.When, c.e.Batch, c.e.BatchN = in.Entries[0].When, in.Entries[0].Batch, in.Entries[0].BatchN
		in.Entries = append(in.Entries, c.e)
	}
}

// askDigits wants the whole number before it replaces anything.
func (r *reader) askDigits(in Intent, v value) (Intent, bool) {
	return Intent{Kind: Ask, Ask: "digits", Action: in.Action, Batch: in.Batch, Why: v.n.typed + " lacks digits"}, true
}

// valuesFrom reads the numbers behind item k. A number behind "not" is the
// wrong one and is left out.
func (r *reader) valuesFrom(k int) []value {
	var vs []value
	for i := k; i < len(r.items); {
		v, ok := r.valueAt(i)
		if !ok {
			i++
			continue
		}
		neg := false
		for j := i - 1; j >= 0 && j >= i-2; j-- {
			neg = neg || r.items[j].fold == "not" || r.items[j].fold == "instead of" || r.items[j].fold == "rather than"
		}
		if !neg {
			vs = append(vs, v)
		}
		i = v.end
	}
	return vs
}

// lastNamed is the batch meant by "not gorse, damson": the last one not
// denied. The batch behind "not" is the one that it was not.
func (r *reader) lastNamed(k int) int {
	b := 0
	for i := k; i < len(r.items); i++ {
		if r.items[i].batch > 0 && !(i > 0 && r.items[i-1].is(cSay) && r.items[i-1].name(cSay) == "not") && !(i > 1 && r.items[i-1].fold == "the" && r.items[i-2].fold == "not") {
			b = r.items[i].batch
		}
	}
	return b
}

// otherThanLast is the open batch that "the other one" means: of two, the one
// that the last entry is not in.
func (r *reader) otherThanLast(k int) int {
	said := false
	for ; k < len(r.items); k++ {
		said = said || r.items[k].fold == "the other one" || r.items[k].fold == "other one" || r.items[k].fold == "other" && k+1 < len(r.items) && r.items[k+1].fold == "one" || r.items[k].fold == "the other"
	}
	last, found := r.lastIndex(), 0
	if !said || last == 0 {
		return 0
	}
	for i := range r.ctx.Batches {
		if i+1 != last && !r.ctx.Batches[i].bottled() {
			if found > 0 {
				return 0
			}
			found = i + 1
		}
	}
	return found
}

// timeFrom is the first time in the text that names a past; "today" is its
// date here, since a repair of the time must say one.
func (r *reader) timeFrom(k int) (When, bool) {
	for _, t := range r.times {
		if t.from >= k && !t.future && (t.dated || !t.when.Now()) {
			if t.today {
				return When{At: midnight(r.ctx.Now), Day: true}, true
			}
			return t.when, true
		}
	}
	return When{}, false
}

// unitAlone: "no, fahrenheit". It must be the last word: "no, 2 l" is a
// value.
func (r *reader) unitAlone(k int) string {
	if k < len(r.items) && r.items[k].is(cUnit) && r.items[k].kind == tWord && r.onlyDenied(k+1) {
		c := claim{}
		e := Entry{}
		v := value{unit: r.items[k].name(cUnit)}
		r.fill(&e, &c, &v)
		return e.Unit
	}
	return ""
}

// onlyDenied reports that nothing but another unit that is denied stands from item k on:
// "litres, not gallons".
func (r *reader) onlyDenied(k int) bool {
	not := false
	for ; k < len(r.items); k++ {
		it := &r.items[k]
		switch {
		case it.kind == tPunct:
		case it.name(cSay) == "not" || it.fold == "not":
			not = true
		case it.is(cUnit) && not:
		default:
			return false
		}
	}
	return true
}

// materialAlone: "no, honey". The first that is not denied.
func (r *reader) materialAlone(k int) string {
	for ; k < len(r.items); k++ {
		if m := r.items[k].name(cMaterial); m != "" && !(k > 0 && r.items[k-1].fold == "not") {
			return m
		}
	}
	return ""
}

// strange reports words that no repair has: "no, 19 people". Deeds,
// questions and other topics are none of a repair either. Beside a gravity
// with all its digits two unknown words are let pass: "1.026, fat fingers".
func (r *reader) strange(k int, vs []value) bool {
	unknown := 0
	if (r.addressed() || r.justLogged() && r.ownLast()) && len(vs) == 1 && vs[0].n.decimals >= 3 && gravityShaped(vs[0].n) {
		unknown = -2
	}
	if unknown == 0 && (r.addressed() || r.justLogged() && r.ownLast()) && len(vs) == 1 && r.readHow(&vs[0]) {
		unknown = -3
	}
	if r.deniesLast() { // "27 bottles not 28, I counted again"
		unknown = -4
	}
	for ; k < len(r.items); k++ {
		it := &r.items[k]
		if it.used != "" || it.batch > 0 || it.kind != tWord || r.ctx.LastEntry != nil && it.fold == fold(r.ctx.LastEntry.By) {
			continue
		}
		if it.is(cOther) && !it.cellar() || it.is(cOthers) || it.is(cDeed) || it.is(cQ) && !it.is(cFill) && !it.is(cSay) {
			return true
		}
		if !it.known() {
			unknown++
		}
	}
	return unknown > 0
}

// readHow reports a value of what the newest entry is, with a point or its unit, behind
// which the clause ends or goes on with how it was read: "3.6 on the second strip".
func (r *reader) readHow(v *value) bool {
	l := r.ctx.LastEntry
	if l == nil || r.isGravity() || v.n.whole() && v.unit == "" && l.Quantity != "temp" || v.label && v.q != l.Quantity || v.unit != "" && v.unit != "deg" && v.unit != l.Unit {
		return false
	}
	if v.end == len(r.items) || r.items[v.end].breaks() {
		return true
	}
	switch r.items[v.end].fold {
	case "on", "with", "by", "at", "after", "from", "using", "when":
		return true
	}
	return false
}

// deniesLast reports the value of the newest entry behind "not": nothing else is meant.
func (r *reader) deniesLast() bool {
	l := r.ctx.LastEntry
	for k := 1; k < len(r.items) && l != nil && l.Value != nil; k++ {
		if it := &r.items[k]; it.kind == tNum && r.items[k-1].name(cSay) == "not" && (it.num.val == *l.Value || gravityValue(it.num) == *l.Value) {
			return true
		}
	}
	return false
}

// isPlanRest: "should be 0.995 by june" is a hope, not a repair. A wish or
// a condition, and a time to come, likewise.
func (r *reader) isPlanRest(k int) bool {
	for _, t := range r.times {
		if t.future {
			return true
		}
	}
	for ; k < len(r.items); k++ {
		if r.items[k].is(cPlan) && !r.items[k].is(cSay) || r.items[k].fold == "by" && k+1 < len(r.items) && r.items[k+1].used == "time" || r.items[k].is(cCond) {
			return true
		}
	}
	return false
}
