package parse

import (
	"strconv"
	"strings"
)

// mostPackets bounds the packets of one message: a kit has no more.
const mostPackets = 6

// numberedPacket reads "packet 3 in", "packets 2 and 3 in": the packets of a kit bear
// numbers, and what a number stands for only the kit's own sheet tells. So it is asked,
// with what the packets usually are; of several each goes in under its number.
func (r *reader) numberedPacket() (Intent, bool) {
	ns, verb := []int(nil), false
	for k := range r.items {
		it := &r.items[k]
		switch {
		case it.is(cMaterial) && it.batch == 0 && !it.is(cVerb), it.is(cUnit) && it.used == "", it.is(cQ), it.is(cPlan), it.is(cCond), it.is(cFuture):
			return Intent{}, false
		case it.kind == tNum && it.used == "" && it.batch == 0:
			if !it.num.whole() || it.num.val < 1 || it.num.val > 12 || !r.packetBefore(k) && !(len(ns) > 0 && r.packetListed(k)) {
				return Intent{}, false
			}
			n := int(it.num.val)
			if len(ns) > 0 && (r.items[k-1].fold == "to" || dash(r.items[k-1].fold)) { // "packets 1 to 3"
				for m := ns[len(ns)-1] + 1; m < n; m++ {
					ns = append(ns, m)
				}
			}
			ns = append(ns, n)
		}
		verb = verb || (it.is(cVerb) || it.name(cDeed) == "stirred") && !r.denied(k)
	}
	if len(ns) == 0 || len(ns) > mostPackets || !verb {
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
	var es []Entry
	for _, n := range ns {
		name := "packet " + strconv.Itoa(n)
		e := Entry{Quantity: "addition", Deed: "addition", Material: name, Text: name}
		for _, t := range r.times {
			if !t.future {
				e.When = t.when
			}
		}
		es = append(es, e)
	}
	if b == 0 {
		if len(r.ctx.Batches) == 0 {
			return Intent{}, false
		}
		return r.askBatch(es, open), true
	}
	for i := range es {
		r.setBatch(&es[i], b)
	}
	if len(es) > 1 {
		return Intent{Kind: Event, Event: "addition", Entries: es, Batch: es[0].BatchN}, true
	}
	e := es[0]
	as := func(deed string, materials ...string) []Entry {
		var es []Entry
		for _, m := range materials {
			x := e
			x.Deed, x.Material = deed, m
			es = append(es, x)
		}
		return es
	}
	return Intent{Kind: Ask, Ask: "material", Event: "addition", Batch: e.BatchN, Args: map[string]any{"packet": ns[0]}, Why: "only the kit's sheet tells what " + e.Material + " is",
		Options: []Option{{Label: "Clay", Entries: as("addition", "bentonite")}, {Label: "Stabiliser, both", Entries: as("stabilised", "sulphite", "sorbate")},
			{Label: "Finings", Entries: as("fined", "finings")}, {Label: "Other", Entries: []Entry{e}}}}, true
}

// packetListed reports that the number at k goes on with a list of packets: "and 3".
func (r *reader) packetListed(k int) bool {
	p := &r.items[k-1]
	return p.fold == "and" || p.fold == "to" || p.punct(",") || p.punct("&") || p.punct("+") || dash(p.fold)
}

// packetBefore reports that the number at k is a packet's own: "packet 3", "sachet
// no 3", "packet #3". "3 packets" counts them.
func (r *reader) packetBefore(k int) bool {
	k--
	for k > 0 && (r.items[k].punct("#") || r.items[k].punct(".") || r.items[k].fold == "no" || r.items[k].fold == "nr" || r.items[k].fold == "number") {
		k--
	}
	if k < 0 || strings.HasSuffix(r.items[k].fold, "s") && !r.packetsNumbered(k) {
		return false
	}
	n := r.items[k].name(cNoun)
	return n == "packet" || n == "sachet"
}

// packetsNumbered reports "packets" before numbers that a list joins: "packets 2 and 3".
func (r *reader) packetsNumbered(k int) bool {
	return k+3 < len(r.items) && r.items[k+1].kind == tNum && r.items[k+3].kind == tNum && r.packetListed(k+3)
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
