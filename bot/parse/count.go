package parse

import (
	"strings"
	"time"
)

// mostBottles bounds a bare count: more is a slip or something else.
const mostBottles = 1000

// countWithin is how long after a count "2 more" is still of the bottles: one evening's
// work (common practice, no source).
const countWithin = 2 * time.Hour

// runningCount reads what is said while bottles are being counted and says nothing of
// bottling: "total 38", "38 in all", "total" alone, "2 more", and a bare number in reply
// to the running count. Anywhere else these words mean nothing here.
func (r *reader) runningCount() (Intent, bool) {
	b, replied := r.countingBatch()
	if b == nil || len(r.items) > 8 {
		return Intent{}, false
	}
	total, more := false, false
	n, has, other := 0.0, false, 0
	for i := 0; i < len(r.items); i++ {
		it := &r.items[i]
		switch {
		case it.kind == tNum && !has && it.num.whole() && it.num.val >= 1 && it.num.val <= mostBottles:
			n, has = it.num.val, true
		case it.kind == tNum || it.punct("?"):
			other++
		case it.is(cTotal):
			total = true
		case it.is(cMore):
			more = true
		case it.batch > 0 || it.kind == tPunct || it.is(cMine) || it.name(cUnit) == "bottle" || it.is(cPron) || it.is(cThanks):
		case it.is(cNumber) && !has:
			if v, ok := r.valueAt(i); ok && v.v >= 1 { // "half a dozen"
				n, has, i = v.v, true, v.end-1
			} else if f, ok := it.wordCount(); ok && f >= 1 && f == float64(int(f)) {
				n, has = f, true
			}
		case !it.is(cFill):
			other++
		}
	}
	if other > 0 || !total && !(has && (replied || more && r.justCounted())) {
		return Intent{}, false
	}
	e := Entry{Quantity: "bottles", Unit: "bottle", Batch: b.Name, BatchN: b.N}
	if !has {
		n = float64(b.BottlesMade)
	}
	e.Value, e.Typed = &n, fmtValue(n)
	in := Intent{Kind: Event, Batch: b.N}
	if total {
		e.Type = "total"
	} else {
		in.Event, e.Deed = "bottled", "bottled"
	}
	in.Entries = []Entry{e}
	return in, true
}

// justCounted reports that the newest entry is a count of bottles of this evening.
func (r *reader) justCounted() bool {
	l := r.ctx.LastEntry
	if l == nil || l.Quantity != "bottles" {
		return !r.ctx.Group
	}
	return r.ctx.Now.Sub(r.lastTyped()) <= countWithin
}

// countingBatch is the batch whose bottles are being counted: named, replied to, or the
// only one; and whether this message answers the bot's count.
func (r *reader) countingBatch() (b *Batch, replied bool) {
	at, n := 0, 0
	for i := range r.ctx.Batches {
		if r.ctx.Batches[i].Counting {
			at, n = i+1, n+1
		}
	}
	if n == 0 {
		return nil, false
	}
	if x := r.replyBatch(); x > 0 && r.ctx.Batches[x-1].Counting {
		at, replied = x, r.ctx.ReplyTo != "" || r.ctx.ReplyN > 0
	} else if x := r.namedBatch(); x > 0 {
		at = x
	} else if n > 1 {
		at = r.index(r.ctx.Active)
	}
	if at == 0 || !r.ctx.Batches[at-1].Counting {
		return nil, false
	}
	return &r.ctx.Batches[at-1], replied
}

// spoonful reports how full a spoon was, with no number before it: one of them is meant.
func (r *reader) spoonful(i int) bool {
	if !r.measureAdjective(i) || i > 0 && (r.items[i-1].kind == tNum || r.items[i-1].is(cArt) || r.items[i-1].name(cNumber) != "") {
		return false
	}
	u := r.items[i+1].name(cUnit)
	n := r.items[i+1].name(cNoun)
	return (u == "tsp" || u == "tbsp" || n == "spoon" || n == "pinch" || n == "scoop" || n == "handful") && !strings.HasSuffix(r.items[i+1].fold, "s")
}

// andHalf adds "and a half" or "and a quarter" to a number in words or digits.
func (r *reader) andHalf(v *value) {
	k := v.end
	if k+1 >= len(r.items) || v.v >= 100 || r.items[k+1].kind != tWord {
		return
	}
	switch r.items[k].fold {
	case "and", "&", "und", "et", "y", "e", "en", "i", "a", "och":
	default:
		return
	}
	f := 0.0
	switch r.items[k+1].name(cNumber) {
	case ".5":
		f = 0.5
	case ".25":
		f = 0.25
	case ".75":
		f = 0.75
	default:
		return
	}
	v.v += f
	v.n.val, v.n.fraction, v.end = v.v, true, k+2
	v.n.typed = r.text[r.items[v.at].start:r.items[v.end-1].end]
}

// dozens counts "a dozen", "two dozen" and "half a dozen".
func (r *reader) dozens(v *value) {
	if v.end >= len(r.items) || r.items[v.end].name(cNumber) != "12d" {
		return
	}
	v.v *= 12
	v.end++
	v.n = number{typed: r.text[r.items[v.at].start:r.items[v.end-1].end], val: v.v, decimals: -1}
}

// countsWhatFollows reports a small number that says how many readings come behind the
// colon: "two for the book: plum 1.042, ginger 1.055".
func (r *reader) countsWhatFollows(v *value) bool {
	if !v.n.whole() || v.v >= 10 || v.end >= len(r.items) || r.items[v.end].punct(":") && !v.n.spoken {
		return false
	}
	for k := v.end; k < len(r.items) && k < v.end+6; k++ {
		it := &r.items[k]
		if it.punct(":") {
			return true
		}
		if it.kind == tNum || it.batch > 0 || it.is(cAmbient) || it.is(cTType) || it.is(cUnit) {
			return false
		}
	}
	return false
}
