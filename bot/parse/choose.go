package parse

import "time"

// suits says which batches a message may be about.
type suits func(*Batch) bool

// deedChoice lets the deed choose: what is opened or given away is
// bottled, what is stirred or read still holds wine. Remarks (a taste, a
// fault, a note) may be about either kind; everything else is about a
// batch that still holds wine.
func deedChoice(deed string) suits {
	switch deed {
	case "opened", "given away", "laid down", "labelled":
		return (*Batch).bottled
	case "tasted", "fault noted", "note", "moved", "poured away", "target set":
		return func(*Batch) bool { return true }
	}
	return func(b *Batch) bool { return !b.bottled() }
}

// choose finds the batch that nothing in the text names: reply, active,
// the only one that fits; 0 if that leaves more than one. fits may be nil.
// The batch that is named in the text is found elsewhere; this is for the
// rest of the rule number > name > reply > active > the only one that
// fits. A batch that the deed cannot be about is passed over even when it
// is active: "opened 2" with a bucket at work means the bottles.
func (r *reader) choose(ok suits, w When, fits func(*Batch) bool) int {
	if b := r.replyBatch(); b > 0 {
		r.foundBy = "it answers a message about it"
		return b
	}
	if b := r.index(r.ctx.Active); b > 0 && ok(&r.ctx.Batches[b-1]) {
		r.foundBy = "it was spoken of last"
		return b
	}
	found := 0
	for i := range r.ctx.Batches {
		b := &r.ctx.Batches[i]
		if !ok(b) || fits != nil && !fits(b) {
			continue
		}
		if found > 0 {
			return 0
		}
		found = i + 1
	}
	if found == 0 {
		return r.index(r.ctx.Active)
	}
	r.foundBy = "it is the only one that fits"
	return found
}

// askBatch asks which batch the entries belong to, with the candidates as
// options. Each option carries the entries already moved to its batch, so
// that a tap stores them without asking anything again.
func (r *reader) askBatch(es []Entry, ok suits) Intent {
	in := Intent{Kind: Ask, Ask: "which_batch", Held: es, Why: "no batch is named, active or the only one that fits"}
	for i := range r.ctx.Batches {
		b := &r.ctx.Batches[i]
		if ok != nil && !ok(b) {
			continue
		}
		in.Options = append(in.Options, Option{Label: b.Name, Entries: moved(es, b)})
	}
	return in
}

// moved is a copy of entries for another batch. The originals are left
// alone: they stay what `Keep` would store.
func moved(es []Entry, b *Batch) []Entry {
	out := make([]Entry, len(es))
	for i, e := range es {
		e.Batch, e.BatchN = b.Name, b.N
		out[i] = e
	}
	return out
}

// fittingSlips are the gravities one slip away that fit the batch; with no
// batch chosen, that fit any open one. A slip must lead to a value that is
// stored without question. Offering one that would be asked about again
// helps nobody.
func (r *reader) fittingSlips(n number, b int, at time.Time) []float64 {
	var out []float64
	for _, s := range slips(n) {
		if s < storeLow-tiny || s > storeHigh+tiny {
			continue
		}
		if b > 0 {
			if r.ctx.Batches[b-1].misfit(Reading{SG: s}, at, nil) == "" {
				out = append(out, s)
			}
			continue
		}
		for i := range r.ctx.Batches {
			x := &r.ctx.Batches[i]
			if !x.bottled() && x.misfit(Reading{SG: s}, at, nil) == "" {
				out = append(out, s)
				break
			}
		}
	}
	return out
}

// fitting lists the open batches that a gravity fits. Bottled batches take
// no readings.
func (r *reader) fitting(sg float64, at time.Time) []int {
	var out []int
	for i := range r.ctx.Batches {
		b := &r.ctx.Batches[i]
		if !b.bottled() && b.misfit(Reading{SG: sg}, at, nil) == "" {
			out = append(out, i+1)
		}
	}
	return out
}
