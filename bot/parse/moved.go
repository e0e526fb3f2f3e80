package parse

import "strings"

// movesLast reads "oh, that went in the plum" and "the last one was the plum's": nothing
// but words that point to the newest entry, and the batch that it belongs to. In a group
// the sender's own entry must be fresh.
func (r *reader) movesLast() (Intent, bool) {
	b := r.namedBatch()
	if b == 0 || b == r.lastIndex() || r.lastIndex() == 0 || !r.ownLast() || r.lastState() != "" || len(r.items) > 12 || r.saidInGroup() && !r.justLogged() && !r.deniesLastName() {
		return Intent{}, false
	}
	points := false
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.batch == b, it.batch == r.lastIndex(), it.batch == 0 && (it.kind == tPunct && !it.punct("?") || it.is(cSay) || sigh(it.fold)):
			points = points || it.is(cSay) && it.name(cSay) == "no"
			continue
		case it.batch > 0 || it.kind != tWord:
			return Intent{}, false
		}
		switch strings.TrimSuffix(it.fold, "'s") {
		case "that", "this", "that's", "thats", "last one", "last", "that one", "it", "it's", "its":
			points = true
		case "reading", "entry", "one", "addition", "dose", "the", "a", "to", "in", "into", "in the", "on", "for", "of", "was", "were", "went", "went in", "goes", "go", "is", "should", "should've", "should have", "be", "been", "have", "has", "belongs", "all", "not", "no", "so", "then", "actually", "really", "of course", "meant", "i", "put", "both", "lot", "them", "these", "those", "my", "batch", "wine", "gone", "instead", "please", "under", "against", "sorry", "jar", "book":
		default:
			return Intent{}, false
		}
	}
	if !points {
		return Intent{}, false
	}
	e := r.lastAs(r.ctx.LastEntry.Value)
	r.setBatch(&e, b)
	return Intent{Kind: Correction, Action: "move_last", Entries: []Entry{e}, Batch: e.BatchN}, true
}

// undoThenReason reports "take that off i read the wrong side": what takes back, and
// behind it, with no sign between, why. A number, a deed or a batch would be news.
func (r *reader) undoThenReason() bool {
	first := &r.items[0]
	plain := strings.HasPrefix(first.fold, "undo")
	if !first.is(cUndo) || !plain && (!r.addressed() || !strings.Contains(first.fold, " ")) || !plain && !r.ownLast() || plain && r.saidInGroup() && !(r.ownLast() && r.justLogged()) {
		return false
	}
	k := 1
	for k < len(r.items) && (r.items[k].kind == tPunct || r.items[k].is(cThanks) || r.items[k].fold == "please") {
		k++
	}
	if k == len(r.items) {
		return true
	}
	parted := k > 1 && r.items[k-1].kind == tPunct // "…, fruit stuck to the hydrometer"
	for j := k; j < len(r.items); j++ {
		if it := &r.items[j]; it.kind == tNum || it.batch > 0 || it.is(cDeed) && !r.denied(j) || it.punct("?") || len(r.times) > 0 || !parted && (it.is(cMaterial) && !it.is(cObs) || it.is(cLabel)) {
			return false
		}
	}
	if parted {
		return true
	}
	switch r.items[k].fold {
	case "i", "i've", "we", "we've", "it", "it's", "its", "was", "wrong", "my", "because", "cos", "misread", "that", "that's", "thats", "he", "she", "somebody", "someone", "the":
		return true
	}
	return r.items[k].is(cSay) || r.isMember(r.items[k].fold)
}

// deniesLastName reports that the batch of the newest entry is named behind "not": whoever
// says what it was not speaks of that entry, however long ago it was.
func (r *reader) deniesLastName() bool {
	for i := range r.items {
		if r.items[i].used == "denied" && r.items[i].batch == r.lastIndex() {
			return true
		}
	}
	return false
}
