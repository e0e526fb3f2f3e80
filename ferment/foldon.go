package ferment

import (
	"slices"
	"sync/atomic"
)

// Kept is a fold from which the next one of the batch can go on. It may be dropped at
// any time.
type Kept struct {
	f     *folder     // before its figures of now were worked out
	grown atomic.Bool // a fold has gone on from here: its slices have others' values behind their end
}

// FoldOn is Fold for a batch of which more and more is entered. Where what is new is
// readings and notes of now, as it mostly is, it goes on from was, which may be nil: the
// fold of entries that these begin with, under the same entries of the house and in the
// same zone. It gives what the next one can go on from, nil for nothing.
func FoldOn(in Input, was *Kept) (*State, *Kept) {
	f := was.onto(in)
	if f == nil {
		f = walked(in)
	}
	kept := f.keep()
	f.finish()
	return f.s, kept
}

// keep copies what finish is about to change.
func (f *folder) keep() *Kept {
	if len(f.in.Entries) == 0 || &f.all[0] != &f.in.Entries[0] || len(f.in.Others) > 0 { // not in the order of what happened, or not alone
		return nil
	}
	c, s := *f, *f.s
	c.s = &s
	return &Kept{f: &c}
}

// onto walks on from k over what is new; nil where that would change what was found
// before.
func (k *Kept) onto(in Input) *folder {
	if k == nil || len(in.Others) > 0 || !begins(in.Entries, k.f.all) {
		return nil
	}
	news := in.Entries[len(k.f.all):]
	if !follow(k.f.all[len(k.f.all)-1], news, k.f.top) {
		return nil
	}
	f, s := *k.f, *k.f.s
	f.s = &s
	if k.grown.Swap(true) {
		s.Readings, s.Temps, s.Notes, f.run = slices.Clip(s.Readings), slices.Clip(s.Temps), slices.Clip(s.Notes), slices.Clip(f.run)
	}
	f.in.Entries, f.in.Now, f.all = in.Entries, in.Now, in.Entries
	f.samples, f.deeds = newSamples(news), map[deedKey]bool{} // those of before are under older messages
	if s.Pitched.IsZero() && f.fallsIn(news) {
		return nil
	}
	for i := range news {
		f.meets(&news[i])
		f.take(&news[i])
	}
	return &f
}

// fallsIn looks on for a fall that shows that yeast went in.
func (f *folder) fallsIn(es []Entry) bool {
	return slices.ContainsFunc(es, func(e Entry) bool { return f.falls(&e) })
}

// begins reports that es begins with these.
func begins(es, with []Entry) bool {
	return len(es) >= len(with) && slices.Equal(es[:len(with)], with)
}

// follow reports that nothing in es touches what was entered before: readings, measures
// and notes alone, each behind the one before it, of messages newer than top.
func follow(last Entry, es []Entry, top int64) bool {
	before := &last
	for i := range es {
		e := &es[i]
		switch q := e.Quantity; {
		case q == QOG, !IsGravity(q) && !slices.Contains(asides, q):
			return false
		case e.DayOnly, e.Deed != "" && e.Deed != DeedNote, e.Message <= top:
			return false
		case e.At.Before(before.At), e.At.Equal(before.At) && typedBefore(e, before):
			return false
		case e.Of != 0 && !slices.ContainsFunc(es, func(x Entry) bool { return x.Root == e.Of }):
			return false
		}
		before = e
	}
	return true
}

// asides are what changes nothing but its own figure.
var asides = []Quantity{QTemp, QAmbient, QPH, QTA, QFreeSO2, QTotalSO2, QNote}
