package parse

import (
	"strings"
	"time"
)

// undoWindow is how long the newest entry can be repaired without naming
// it.
const undoWindow = 48 * time.Hour

// hasUndo reports a word that takes something back, anywhere.
func (r *reader) hasUndo() bool {
	for i := range r.items {
		if r.items[i].is(cUndo) {
			return true
		}
	}
	return false
}

// undoNamed reads "undo the racking on 3 may": the entry is for the book
// to find. The bot searches the book for it and asks if it finds two; 48
// hours do not matter here.
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

// undoWithReason reports "delete that, wrong jar": a clause that takes back,
// and others that only say why. A number or a batch in them would be the
// right one.
func (r *reader) undoWithReason() bool {
	if !r.addressed() {
		return false
	}
	if last := &r.items[len(r.items)-1]; last.is(cUndo) && strings.Contains(last.fold, " ") && !r.hasNumber() && r.namedBatch() == 0 && !strings.Contains(last.fold, "the") { // "held it upside down, ignore that"
		return true
	}
	alone := false
	for i := range r.items {
		it := &r.items[i]
		if it.kind == tNum && it.used == "" || it.batch > 0 || it.is(cDeed) || it.punct("?") {
			return false
		}
		if !it.is(cUndo) {
			continue
		}
		from, to := r.clauseOf(i)
		small := true
		for k := from; k < to; k++ {
			x := &r.items[k]
			small = small && (x.kind == tPunct || x.is(cFill) || x.is(cPron) || x.is(cThanks) || x.is(cUndo) || x.is(cSay) || x.is(cNow))
		}
		alone = alone || small
	}
	return alone
}

// ownLast reports that the newest entry is the sender's own.
func (r *reader) ownLast() bool {
	l := r.ctx.LastEntry
	return l != nil && (l.By == "" || fold(l.By) == fold(r.ctx.Sender))
}

// lastTyped is when the newest entry was sent; an entry made for Sunday
// may have been typed just now.
func (r *reader) lastTyped() time.Time {
	l := r.ctx.LastEntry
	if !l.Typed.IsZero() {
		return l.Typed
	}
	if l.Day { // as late as that day may have been
		if end := l.When.AddDate(0, 0, 1); end.Before(r.ctx.Now) {
			return end
		}
		return r.ctx.Now
	}
	return l.When
}

// lastState says what stands in the way of a repair: "what" (nothing in 48
// h), "whose" (somebody else's), "" for none. The window is the 48 hours
// of the contract.
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

// undo takes back the last entry, or asks what stands in its way.
func (r *reader) undo() (Intent, bool) {
	switch r.lastState() {
	case "what":
		if r.ctx.Group && !r.addressed() && r.ctx.LastEntry == nil {
			return r.ignore("nothing to take back"), true
		}
		return Intent{Kind: Ask, Ask: "correct_what", Why: "nothing was logged in the last 48 hours"}, true
	case "whose":
		in := Intent{Kind: Ask, Ask: "undo_whose", Action: "delete_last", Batch: r.lastBatch(), Why: "the newest entry is " + r.ctx.LastEntry.By + "'s",
			Options: []Option{{Label: "Take it back", Replace: true, Whose: Theirs}}}
		if r.ctx.OwnEntry != nil {
			in.Options = append(in.Options, Option{Label: "Mine", Replace: true, Whose: Mine})
		}
		return in, true
	}
	return Intent{Kind: Correction, Action: "delete_last", Batch: r.lastBatch()}, true
}

// lastBatch is the number of the last entry's batch, 0 if it is not open.
func (r *reader) lastBatch() int {
	if i := r.lastIndex(); i > 0 {
		return r.ctx.Batches[i-1].N
	}
	return 0
}

// lastIndex finds it in the context (index+1).
func (r *reader) lastIndex() int {
	for i := range r.ctx.Batches {
		if r.ctx.LastEntry != nil && r.ctx.Batches[i].Name == r.ctx.LastEntry.Batch {
			return i + 1
		}
	}
	return 0
}

// rename reads "rename gorse to sunny", "rename #2 sunny". The new name is
// taken as typed, to the end of the text.
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
	if b == 0 && r.addressed() {
		b = r.choose(func(*Batch) bool { return true }, When{}, nil)
	}
	if b == 0 {
		return Intent{}, false
	}
	name := strings.Trim(r.text[r.items[k].start:], " .!\"'\n")
	e := Entry{Quantity: "name", Text: name}
	r.setBatch(&e, b)
	return Intent{Kind: Correction, Action: "rename", Entries: []Entry{e}, Batch: e.BatchN}, true
}
