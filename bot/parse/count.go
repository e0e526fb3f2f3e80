package parse

import "strings"

// mostBottles bounds a bare count: more is a slip or something else.
const mostBottles = 1000

// runningCount reads what is said while bottles are being counted and says nothing of
// bottling: "total 38", "38 in all", "total" alone, and a bare number in reply to the
// running count. Anywhere else these words mean nothing here.
func (r *reader) runningCount() (Intent, bool) {
	b, replied := r.countingBatch()
	if b == nil || len(r.items) > 8 {
		return Intent{}, false
	}
	f := " " + strings.Trim(fold(strings.TrimSpace(r.text)), " .!") + " "
	total := false
	for _, w := range []string{" total ", " in total ", " totals ", " all together ", " altogether ", " in all ", " all told ", " that's all ", " thats all ", " all done "} {
		if strings.Contains(f, w) {
			total = true
		}
	}
	n, has, other := 0.0, false, 0
	for i := range r.items {
		it := &r.items[i]
		switch {
		case it.kind == tNum && !has && it.num.whole() && it.num.val >= 1 && it.num.val <= mostBottles:
			n, has = it.num.val, true
		case it.kind == tNum:
			other++
		case it.batch > 0 || it.kind == tPunct || it.name(cUnit) == "bottle" || it.is(cFill) || it.is(cPron):
		case !strings.Contains(" total totals in all together altogether told that's thats done bottles of for the it is makes mine me ", " "+it.fold+" "):
			other++
		}
	}
	if other > 0 || strings.Contains(r.text, "?") || !total && !(has && replied) {
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
