package parse

import (
	"strings"
	"time"
)

// undoWindow is how long the newest entry can be repaired without naming it.
const undoWindow = 48 * time.Hour

// repair reads what takes back, replaces, moves or retimes the sender's last entry,
// and what renames a batch.
func (r *reader) repair() (Intent, bool) {
	first := &r.items[0]
	if first.is(cRename) {
		return r.rename()
	}
	if first.is(cRedo) && r.onlySmallWords(1) {
		return Intent{Kind: Correction, Action: "redo"}, true
	}
	if r.ctx.Group && !r.addressed() && !plainRepair(first.fold) && !r.justLogged() && (first.is(cSay) || first.is(cUndo)) {
		return r.ignore("talk, not a repair"), r.namedBatch() == 0
	}
	if r.hasUndo() && r.onlySmallWords(0) || first.is(cUndo) && r.lastValueOnly() {
		return r.undo()
	}
	if first.is(cUndo) && len(r.items) > 1 {
		return r.undoNamed()
	}
	if in, ok := r.editNamed(); ok {
		return in, true
	}
	if !first.is(cSay) {
		if r.oneNotOther() || r.ownLast() && r.saidAfter() {
			return r.correct(0)
		}
		return Intent{}, false
	}
	k := 0
	for k < len(r.items) && (r.items[k].is(cSay) || r.items[k].kind == tPunct || r.items[k].is(cArt) || r.items[k].is(cPron) || r.items[k].fold == "the" || r.items[k].fold == "was" || r.items[k].is(cApprox) && r.items[k].fold == "i think") && r.items[k].used == "" && !r.items[k].punct("#") {
		k++
	}
	if k == len(r.items) {
		return r.bareNo()
	}
	return r.correct(k)
}

// plainRepair are the words that in a group too begin a repair of an older entry.
func plainRepair(w string) bool {
	switch w {
	case "undo", "undo that", "no", "nope", "sorry", "oops", "correction", "typo", "nein", "non", "nee", "nie", "ne", "nej", "nao":
		return true
	}
	return false
}

// justLogged: in a group, talk is taken for a repair only while one's own entry is fresh.
func (r *reader) justLogged() bool {
	return r.ctx.LastEntry != nil && r.ctx.Now.Sub(r.lastTyped()) <= 30*time.Minute
}

func (r *reader) hasUndo() bool {
	for i := range r.items {
		if r.items[i].is(cUndo) {
			return true
		}
	}
	return false
}

// lastValueOnly reports "undo 1.034": the value of the last entry.
func (r *reader) lastValueOnly() bool {
	l := r.ctx.LastEntry
	for i := 1; i < len(r.items); i++ {
		it := &r.items[i]
		if it.kind == tNum && l != nil && l.Value != nil && (it.num.val == *l.Value || gravityValue(it.num) == *l.Value) {
			continue
		}
		if it.is(cFill) || it.is(cLabel) || it.kind == tPunct || it.fold == "reading" || it.fold == "entry" {
			continue
		}
		return false
	}
	return l != nil
}

// undoNamed reads "undo the racking on 3 may": the entry is for the book to find.
func (r *reader) undoNamed() (Intent, bool) {
	args := map[string]any{}
	for i := 1; i < len(r.items); i++ {
		it := &r.items[i]
		switch {
		case it.name(cDeed) != "":
			args["deed"] = it.name(cDeed)
		case it.name(cAct) != "" && it.name(cAct) != "read":
			args["deed"] = it.name(cAct)
		case it.name(cMaterial) != "":
			args["material"] = it.name(cMaterial)
		case it.name(cLabel) != "":
			args["quantity"] = it.name(cLabel)
		case it.kind == tNum && it.used == "" && gravityShaped(it.num):
			args["value"] = gravityValue(it.num)
		}
	}
	if w, ok := r.timeFrom(0); ok {
		args["when"] = w.String()
	}
	if len(args) == 0 || r.ctx.Group && !r.addressed() && r.namedBatch() == 0 && r.ctx.LastEntry == nil {
		return Intent{}, false
	}
	return Intent{Kind: Correction, Action: "delete_entry", Args: args, Batch: r.meantBatch()}, true
}

// editNamed reads "change sunday's reading to 1.044" and "sunday was 1.044 not 1.041":
// a repair of an entry that a day names.
func (r *reader) editNamed() (Intent, bool) {
	verb := false
	switch r.items[0].fold {
	case "change", "correct", "edit", "fix", "amend":
		verb = true
	}
	w, ok := r.timeFrom(0)
	if !ok || w.Now() || !verb && !r.deniesValue() || r.ctx.Group && !r.addressed() && r.namedBatch() == 0 {
		return Intent{}, false
	}
	vs := r.valuesFrom(0)
	if len(vs) == 0 || r.strange(1) {
		return Intent{}, false
	}
	v := vs[len(vs)-1]
	e := Entry{Quantity: v.q, Unit: v.unit, When: w}
	if v.q == "sg" || v.q == "bare" && gravityShaped(v.n) {
		e.Quantity, e.Unit, v.v = "sg", "sg", gravityValue(v.n)
	} else if v.q != "temp" {
		return Intent{}, false
	}
	f := v.v
	e.Value, e.Typed = &f, v.n.typed
	b := r.namedBatch()
	if b == 0 {
		b = r.choose(func(b *Batch) bool { return !b.bottled() }, When{}, nil)
	}
	if b == 0 {
		return r.askBatch([]Entry{e}, nil), true
	}
	r.setBatch(&e, b)
	return Intent{Kind: Correction, Action: "edit_entry", Entries: []Entry{e}, Batch: e.BatchN}, true
}

// deniesValue reports a value that is said to be wrong: "not 1.041".
func (r *reader) deniesValue() bool {
	for k := 1; k < len(r.items); k++ {
		if r.items[k].kind == tNum && r.items[k-1].name(cSay) == "not" {
			return true
		}
	}
	return false
}

// oneNotOther reports "1.033 not 1.034" and "damson not gorse".
func (r *reader) oneNotOther() bool {
	if len(r.items) == 3 && r.items[0].batch > 0 && r.items[2].batch > 0 && r.items[1].name(cSay) == "not" {
		return true
	}
	for k := 1; k+1 < len(r.items); k++ {
		if r.items[k].fold == "not" || r.items[k].fold == "instead of" {
			return r.items[0].kind == tNum && r.items[k+1].kind == tNum && len(r.items) <= 8
		}
	}
	return false
}

// saidAfter reports "1.032 sorry" and the star of chats: "*1.032".
func (r *reader) saidAfter() bool {
	n := len(r.items)
	if r.items[0].punct("*") {
		return n >= 2 && n <= 3 && r.items[1].kind == tNum
	}
	if l := r.ctx.LastEntry; r.items[0].kind == tNum && n > 3 && l.Value != nil && gravityValue(r.items[0].num) == *l.Value && r.hasWord(1, "wrong", "not right", "typo") {
		r.items[0].used = "denied"
		return true
	}
	if r.items[0].kind != tNum || n < 2 || n > 4 {
		return false
	}
	switch r.items[n-1].fold {
	case "sorry", "typo", "oops", "i mean", "i meant", "correction", "*", "my mistake":
		return true
	}
	return false
}

// onlySmallWords reports that nothing but filler stands from item k on.
func (r *reader) onlySmallWords(k int) bool {
	for ; k < len(r.items); k++ {
		it := &r.items[k]
		if it.kind == tPunct || it.is(cFill) || it.is(cPron) || it.is(cThanks) || it.is(cUndo) || it.is(cSay) || it.is(cNow) {
			continue
		}
		return false
	}
	return true
}

// bareNo: "sorry" or "wrong" alone means nothing to the book.
func (r *reader) bareNo() (Intent, bool) {
	if r.items[0].fold == "wrong batch" || r.items[0].fold == "wrong one" {
		if l := r.ctx.LastEntry; l != nil && r.ownLast() {
			in := r.askBatch([]Entry{r.lastAs(l.Value)}, nil)
			for i := range in.Options {
				in.Options[i].Replace = true
			}
			in.Action = "move_last"
			return in, true
		}
		return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing was logged in the last 48 hours"}, true
	}
	return Intent{}, false
}

func (r *reader) ownLast() bool {
	l := r.ctx.LastEntry
	return l != nil && (l.By == "" || fold(l.By) == fold(r.ctx.Sender))
}

func (r *reader) lastTyped() time.Time {
	l := r.ctx.LastEntry
	if !l.Typed.IsZero() {
		return l.Typed
	}
	return l.When
}

// lastState says what stands in the way of a repair: "what" (nothing in 48 h),
// "whose" (somebody else's), "" for none.
func (r *reader) lastState() string {
	l := r.ctx.LastEntry
	switch {
	case l == nil || r.ctx.Now.Sub(r.lastTyped()) > undoWindow:
		return "what"
	case !r.ownLast():
		return "whose"
	}
	return ""
}

func (r *reader) undo() (Intent, bool) {
	switch r.lastState() {
	case "what":
		if r.ctx.Group && !r.addressed() && r.ctx.LastEntry == nil {
			return r.ignore("nothing to take back"), true
		}
		return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing was logged in the last 48 hours"}, true
	case "whose":
		return Intent{Kind: Ask, Ask: "undo_whose", Action: "delete_last", Batch: r.lastBatch(), Why: "the newest entry is " + r.ctx.LastEntry.By + "'s",
			Options: []Option{{Label: "Take it back", Replace: true}}}, true
	}
	return Intent{Kind: Correction, Action: "delete_last", Batch: r.lastBatch()}, true
}

func (r *reader) lastBatch() int {
	if i := r.lastIndex(); i > 0 {
		return r.ctx.Batches[i-1].N
	}
	return 0
}

func (r *reader) lastIndex() int {
	for i := range r.ctx.Batches {
		if r.ctx.LastEntry != nil && r.ctx.Batches[i].Name == r.ctx.LastEntry.Batch {
			return i + 1
		}
	}
	return 0
}

// correct reads the rest of a repair from item k: a value, a batch, a time, a unit.
func (r *reader) correct(k int) (Intent, bool) {
	if r.isPlanRest(k) {
		return Intent{}, false
	}
	vs := r.valuesFrom(k)
	batch := r.lastNamed(k)
	w, timed := r.timeFrom(0)
	u := r.unitAlone(k)
	m := r.materialAlone(k)
	if len(vs) == 0 && batch == 0 && !timed && u == "" && m == "" || len(vs) > 2 || r.strange(k) {
		return Intent{}, false
	}
	if r.ctx.Group && !r.addressed() && r.ctx.LastEntry == nil {
		return r.ignore("nothing to repair"), true
	}
	switch r.lastState() {
	case "what":
		return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing was logged in the last 48 hours"}, true
	}
	in, ok := r.corrected(vs, batch, w, timed, u, m)
	if !ok {
		return Intent{}, false
	}
	if r.lastState() == "whose" {
		in.Held, in.Entries = in.Entries, nil
		in.Options = []Option{{Label: "Change it", Entries: in.Held, Replace: true}}
		in.Kind, in.Ask, in.Why = Ask, "correct_whose", "the newest entry is "+r.ctx.LastEntry.By+"'s"
	}
	return in, true
}

// corrected makes the repaired entry.
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

// lastAs is the last entry again, at its own time.
func (r *reader) lastAs(v *float64) Entry {
	l := r.ctx.LastEntry
	e := Entry{Quantity: l.Quantity, Value: v, Unit: l.Unit, When: When{At: l.When}, Batch: l.Batch}
	if i := r.lastIndex(); i > 0 {
		e.BatchN = r.ctx.Batches[i-1].N
	}
	if v != nil {
		e.Typed = fmtValue(*v)
	}
	return e
}

// replaced puts the new value in place of the last; a value of another quantity
// repairs that field of the same message.
func (r *reader) replaced(in Intent, e Entry, v value) (Intent, bool) {
	c := claim{v: &v}
	l := r.ctx.LastEntry
	q := v.q
	if q == "bare" || q == "sg" && !v.label && l.Quantity != "sg" {
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

// alsoTemp adds the temperature of "no, 1.032 19c".
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

func (r *reader) askDigits(in Intent, v value) (Intent, bool) {
	return Intent{Kind: Ask, Ask: "digits", Action: in.Action, Batch: in.Batch, Why: v.n.typed + " lacks digits"}, true
}

// valuesFrom reads the numbers behind item k.
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

// lastNamed is the batch meant by "not gorse, damson": the last one not denied.
func (r *reader) lastNamed(k int) int {
	b := 0
	for i := k; i < len(r.items); i++ {
		if r.items[i].batch > 0 && !(i > 0 && r.items[i-1].is(cSay) && r.items[i-1].name(cSay) == "not") && !(i > 1 && r.items[i-1].fold == "the" && r.items[i-2].fold == "not") {
			b = r.items[i].batch
		}
	}
	return b
}

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

// unitAlone: "no, fahrenheit".
func (r *reader) unitAlone(k int) string {
	if k == len(r.items)-1 && r.items[k].is(cUnit) && r.items[k].kind == tWord {
		c := claim{}
		e := Entry{}
		v := value{unit: r.items[k].name(cUnit)}
		r.fill(&e, &c, &v)
		return e.Unit
	}
	return ""
}

// materialAlone: "no, honey".
func (r *reader) materialAlone(k int) string {
	for ; k < len(r.items); k++ {
		if m := r.items[k].name(cMaterial); m != "" && !(k > 0 && r.items[k-1].fold == "not") {
			return m
		}
	}
	return ""
}

// strange reports words that no repair has: "no, 19 people".
func (r *reader) strange(k int) bool {
	for ; k < len(r.items); k++ {
		it := &r.items[k]
		if it.used != "" || it.batch > 0 || it.kind != tWord {
			continue
		}
		if it.is(cOther) && !it.cellar() || it.is(cOthers) || it.is(cDeed) || it.is(cQ) && !it.is(cFill) && !it.is(cSay) || !it.known() {
			return true
		}
	}
	return false
}

// isPlanRest: "should be 0.995 by june" is a hope, not a repair.
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

// rename reads "rename gorse to sunny", "rename #2 sunny".
func (r *reader) rename() (Intent, bool) {
	k := 1
	for k < len(r.items) && (r.items[k].fold == "the" || r.items[k].fold == "it" || r.items[k].fold == "batch") {
		k++
	}
	b := 0
	if k < len(r.items) && r.items[k].batch > 0 {
		b = r.items[k].batch
		k++
	}
	for k < len(r.items) && (r.items[k].fold == "to" || r.items[k].fold == "as" || r.items[k].punct(":") || r.items[k].punct(",") || r.items[k].punct("-") || r.items[k].punct(">") || r.items[k].punct("→")) {
		k++
	}
	if k >= len(r.items) {
		return Intent{}, false
	}
	if b == 0 {
		b = r.choose(func(*Batch) bool { return true }, When{}, nil)
	}
	if b == 0 || r.ctx.Group && !r.addressed() && r.namedBatch() == 0 {
		return Intent{}, false
	}
	name := strings.Trim(r.text[r.items[k].start:], " .!\"'\n")
	e := Entry{Quantity: "name", Text: name}
	r.setBatch(&e, b)
	return Intent{Kind: Correction, Action: "rename", Entries: []Entry{e}, Batch: e.BatchN}, true
}
