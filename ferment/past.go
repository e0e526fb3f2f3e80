package ferment

import "time"

// Sources are the numbers of the batches that entries speak of: what the batch was
// split from and what was blended into it.
func Sources(es []Entry) []int {
	var out []int
	for i := range es { // an entry is half a kilobyte, and every message looks here
		if e := &es[i]; e.Quantity == QParent || e.Quantity == QBlend {
			out = append(out, e.Other)
		}
	}
	return out
}

// withParents puts the entries of what a batch was split from, up to the split, before
// the batch's own; and before those what that was split from. A part has a higher number
// than what it was split from, so this comes to an end.
func withParents(n int, own []Entry, others map[int][]Entry) []Entry {
	es := make([]Entry, 0, len(own))
	for _, e := range own {
		if e.Quantity != QParent || e.Other >= n {
			continue
		}
		for _, p := range withParents(e.Other, others[e.Other], others) {
			if !p.At.After(e.At) && ofThePast(p) {
				es = append(es, p)
			}
		}
	}
	return append(es, own...)
}

// ofThePast reports what a part shares with the whole that it was split from.
func ofThePast(e Entry) bool {
	return e.Quantity != QName && e.Quantity != QParent && e.Deed != DeedSplit && e.Deed != DeedDeleted && e.Deed != DeedEmpty && e.Deed != DeedEmptied
}

// pastKey names a batch as it stood just before an entry.
type pastKey struct {
	n    int
	at   int64
	root int64
}

// past is batch n as it stood just before entry e; nil where nothing is known of it. A
// blend looks at what was before it only, and so do the blends that it finds there: this
// comes to an end, also where two wines were topped up with each other.
func (f *folder) past(n int, e *Entry) *State {
	k := pastKey{n, e.At.UnixNano(), e.Root}
	if s, ok := f.in.pasts[k]; ok {
		return s
	}
	f.in.pasts[k] = nil // asked for while it is worked out: at one instant, by itself
	in := f.in
	in.N, in.Now, in.Entries = n, e.At, before(f.in.Others[n], e)
	if n == f.in.N {
		in.Entries = before(f.all, e) // what it was split from stands among them already
	}
	if len(in.Entries) == 0 {
		return nil
	}
	s := Fold(in)
	f.in.pasts[k] = s
	return s
}

// before leaves the entries that stand before e, and a start gravity whenever it was
// typed: that one counts for all the past.
func before(es []Entry, e *Entry) []Entry {
	var out []Entry
	for _, x := range es {
		if x.At.Before(e.At) || x.At.Equal(e.At) && x.Root < e.Root || x.Quantity == QOG {
			out = append(out, x)
		}
	}
	return out
}

// both is the later of two times, zero where one of them is: what holds of a blend only
// if it holds of every part.
func both(a, b time.Time) time.Time {
	if a.IsZero() || b.IsZero() {
		return time.Time{}
	}
	return latest(a, b)
}

// earliest is the first of some times; those that are zero do not count.
func earliest(ts ...time.Time) time.Time {
	var m time.Time
	for _, t := range ts {
		if !t.IsZero() && (m.IsZero() || t.Before(m)) {
			m = t
		}
	}
	return m
}
