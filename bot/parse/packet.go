package parse

import (
	"strconv"
	"strings"
)

// numberedPacket reads "packet 3 in": the packets of a kit bear numbers, and what a
// number stands for only the kit's own sheet tells. So it is asked, with what the
// packets usually are.
func (r *reader) numberedPacket() (Intent, bool) {
	n, verb := 0, false
	for k := range r.items {
		it := &r.items[k]
		switch {
		case it.is(cMaterial) && it.batch == 0 && !it.is(cVerb), it.is(cUnit) && it.used == "", it.is(cQ), it.is(cPlan), it.is(cCond), it.is(cFuture):
			return Intent{}, false
		case it.kind == tNum && it.used == "" && it.batch == 0:
			if n > 0 || !it.num.whole() || it.num.val < 1 || it.num.val > 12 || !r.packetBefore(k) {
				return Intent{}, false
			}
			n = int(it.num.val)
		}
		verb = verb || (it.is(cVerb) || it.name(cDeed) == "stirred") && !r.denied(k)
	}
	if n == 0 || !verb {
		return Intent{}, false
	}
	kit := func(b *Batch) bool { return !b.bottled() && b.Kind == "kit" }
	open := func(b *Batch) bool { return !b.bottled() }
	b := r.namedBatch()
	if b == 0 {
		if !r.addressed() && (r.moreThanPacket() || r.countOpen() != 1) {
			return Intent{}, false
		}
		if b = r.choose(kit, When{}, nil); b == 0 || !kit(&r.ctx.Batches[b-1]) {
			b = r.choose(open, When{}, nil)
		}
	}
	name := "packet " + strconv.Itoa(n)
	e := Entry{Quantity: "addition", Deed: "addition", Material: name, Text: name}
	for _, t := range r.times {
		if !t.future {
			e.When = t.when
		}
	}
	if b == 0 {
		if len(r.ctx.Batches) == 0 {
			return Intent{}, false
		}
		return r.askBatch([]Entry{e}, open), true
	}
	r.setBatch(&e, b)
	as := func(deed string, materials ...string) []Entry {
		var es []Entry
		for _, m := range materials {
			x := e
			x.Deed, x.Material = deed, m
			es = append(es, x)
		}
		return es
	}
	return Intent{Kind: Ask, Ask: "material", Event: "addition", Batch: e.BatchN, Args: map[string]any{"packet": n}, Why: "only the kit's sheet tells what " + name + " is",
		Options: []Option{{Label: "Clay", Entries: as("addition", "bentonite")}, {Label: "Stabiliser, both", Entries: as("stabilised", "sulphite", "sorbate")},
			{Label: "Finings", Entries: as("fined", "finings")}, {Label: "Other", Entries: []Entry{e}}}}, true
}

// packetBefore reports that the number at k is a packet's own: "packet 3", "sachet
// no 3", "packet #3". "3 packets" counts them.
func (r *reader) packetBefore(k int) bool {
	k--
	for k > 0 && (r.items[k].punct("#") || r.items[k].punct(".") || r.items[k].fold == "no" || r.items[k].fold == "nr" || r.items[k].fold == "number") {
		k--
	}
	if k < 0 || strings.HasSuffix(r.items[k].fold, "s") {
		return false
	}
	n := r.items[k].name(cNoun)
	return n == "packet" || n == "sachet"
}

// moreThanPacket reports other words beside a packet that went in.
func (r *reader) moreThanPacket() bool {
	for i := range r.items {
		if it := &r.items[i]; it.used == "" && it.kind == tWord && it.batch == 0 && !it.is(cNoun) && !it.is(cPron) && !it.is(cFill) && !it.is(cNow) && !it.is(cVerb) && !it.is(cThanks) && !it.is(cKind) {
			return true
		}
	}
	return false
}

// countOpen is how many batches still hold wine in a vessel.
func (r *reader) countOpen() int {
	n := 0
	for i := range r.ctx.Batches {
		if !r.ctx.Batches[i].bottled() {
			n++
		}
	}
	return n
}

// answerMaterial takes the name that the sheet gives: "bentonite", "it's the clay".
func (r *reader) answerMaterial(p Pending) (Intent, bool) {
	if len(p.Options) == 0 || len(p.Options[0].Entries) == 0 || len(r.items) > 5 {
		return Intent{}, false
	}
	for i := range r.items {
		m := r.items[i].name(cMaterial)
		if m == "" || r.items[i].batch > 0 {
			continue
		}
		e := p.Options[0].Entries[0]
		e.Material = m
		return r.stored([]Entry{e}), true
	}
	return Intent{}, false
}
