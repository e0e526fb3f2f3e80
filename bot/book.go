package bot

import (
	"fmt"
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// book is a household's records as one message sees them: every batch folded.
type book struct {
	id      int64
	house   ferment.House
	settled []ferment.Entry // the house's entries
	zone    *time.Location
	batches []*ferment.State // in order of number, deleted ones left out
	deleted []*ferment.State
	entries map[int][]ferment.Entry
	style   say.Style

	versions  map[int]uint64     // of the entries of each batch, 0 the house
	described map[int]*described // by batch; missing: nothing is remembered
}

// load reads and folds a book as of now. Entries of the message `without` are left
// out: an edited message is understood as if it had not been there.
func (b *Bot) load(tx *store.Tx, id int64, now time.Time, without int64) (*book, error) {
	if err := tx.Gather(id); err != nil {
		return nil, fmt.Errorf("read the book: %w", err)
	}
	l := &loading{b: b, tx: tx, id: id}
	house, err := l.entries(0)
	if err != nil {
		return nil, fmt.Errorf("load the house: %w", err)
	}
	bk := &book{id: id, settled: house.entries, entries: map[int][]ferment.Entry{}, versions: map[int]uint64{0: house.version}, described: map[int]*described{}}
	bk.house = ferment.FoldHouse(house.entries)
	bk.zone = b.zoneOf(bk.house.ZoneName)
	bk.style = say.Style{Units: bk.house.Units, Comma: bk.house.Flags["decimal comma"], Zone: bk.zone, Now: now}
	numbers, err := tx.BatchNumbers(id)
	if err != nil {
		return nil, fmt.Errorf("load batches: %w", err)
	}
	for _, n := range numbers {
		if err := l.batch(bk, n, now, without); err != nil {
			return nil, fmt.Errorf("load batch %d: %w", n, err)
		}
	}
	return bk, nil
}

func leaveOut(es []ferment.Entry, message int64) []ferment.Entry {
	if message == 0 {
		return es
	}
	out := es[:0:0]
	for _, e := range es {
		if e.Message != message {
			out = append(out, e)
		}
	}
	return out
}

// fold folds a batch of which more was entered than is remembered; nil where its
// beginning was taken back. others are the entries of the batches it speaks of.
func (bk *book) fold(n int, es []ferment.Entry, others map[int][]ferment.Entry, now time.Time, was *ferment.Kept) (*ferment.State, *ferment.Kept) {
	for i := range es { // mostly the first
		if q := es[i].Quantity; q == ferment.QNewBatch || q == ferment.QParent {
			return ferment.FoldOn(ferment.Input{N: n, Entries: es, House: bk.settled, Zone: bk.zone, Now: now, Others: others}, was)
		}
	}
	return nil, nil
}

// add puts a folded batch among those of the book.
func (bk *book) add(n int, es []ferment.Entry, s *ferment.State) {
	bk.entries[n] = es
	switch {
	case s == nil:
	case !s.Deleted.IsZero():
		bk.deleted = append(bk.deleted, s)
	default:
		bk.batches = append(bk.batches, s)
	}
}

func (b *Bot) zoneOf(name string) *time.Location {
	if name != "" && b.Zone != nil {
		if z, err := b.Zone(name); err == nil {
			return z
		}
	}
	if b.Default != nil {
		return b.Default
	}
	return time.UTC
}

// newest is the first entry of the newest message that typed one of these; nil where
// there is none.
func (bk *book) newest(of func(*ferment.Entry) bool) *ferment.Entry {
	var top *ferment.Entry
	look := func(es []ferment.Entry) {
		for i := len(es) - 1; i >= 0; i-- { // the newest are mostly last
			e := &es[i]
			if e.Message == 0 || top != nil && e.TypedAt.Before(top.TypedAt) || !of(e) {
				continue
			}
			if top == nil || e.Message != top.Message && newer(e, top) || e.Message == top.Message && e.Ordinal < top.Ordinal {
				top = e
			}
		}
	}
	look(bk.settled)
	for _, es := range bk.entries {
		look(es)
	}
	return top
}

// together are the entries of a batch that were said in one breath with one of them.
// What was corrected since stands under the message that corrected it, at the time of
// before.
func (bk *book) together(e ferment.Entry) []ferment.Entry {
	var out []ferment.Entry
	for _, x := range bk.entries[e.Batch] {
		if x.Message == e.Message || x.At.Equal(e.At) && !e.DayOnly && x.Author == e.Author {
			out = append(out, x)
		}
	}
	return out
}

func newer(a, b *ferment.Entry) bool {
	if !a.TypedAt.Equal(b.TypedAt) {
		return a.TypedAt.After(b.TypedAt)
	}
	return a.Message > b.Message
}

// batch returns a batch by number, nil where there is none.
func (bk *book) batch(n int) *ferment.State {
	for _, s := range bk.batches {
		if s.N == n {
			return s
		}
	}
	return nil
}

// open lists the batches that still hold wine.
func (bk *book) open() []*ferment.State {
	var out []*ferment.State
	for _, s := range bk.batches {
		if s.Stage != ferment.Empty {
			out = append(out, s)
		}
	}
	return out
}

// titles are the names of the batches as answers have them.
func (bk *book) titles() []string {
	var out []string
	for _, s := range bk.batches {
		out = append(out, say.Title(s.Name), say.ShortName(s.Name))
	}
	return out
}

// known describes the open batches to the understanding of messages.
func (bk *book) known() []parse.Batch {
	open := bk.open()
	out := make([]parse.Batch, 0, len(open))
	for _, s := range open {
		d := bk.described[s.N]
		if d == nil {
			d = &described{}
		}
		if d.of != s {
			*d = described{s, bk.describe(s)}
		}
		out = append(out, d.Batch)
		out[len(out)-1].Counting = counting(s, bk.style.Now)
	}
	return out
}

// describe is what holds of a state at any time.
func (bk *book) describe(s *ferment.State) parse.Batch {
	p := parse.Batch{N: s.N, Name: s.Name, Nicks: s.Names, Kind: string(s.Kind), VolumeL: s.VolumeL, Stage: string(s.Stage),
		Malolactic: s.Has(ferment.Malolactic), OG: float64(s.OG), Pitched: bk.local(s.Pitched), Started: bk.local(s.Started),
		Stable: s.Stop.Proven() || s.Stop.Verdict == ferment.StopAsk, Stabilised: !s.Stabilised.IsZero(), MLFWanted: s.Plan.MLF == "wanted",
		OnPulp: s.OnPulp, BottlesLeft: s.BottlesLeft, BottlesMade: s.BottlesMade}
	if s.PH != nil {
		p.PH = s.PH.Value
	}
	if s.FreeSO2 != nil {
		p.FreeSO2 = s.FreeSO2.Value
	}
	p.Readings = make([]parse.Reading, 0, len(s.Readings))
	p.Recent = make([]parse.Deed, 0, len(s.Deeds)+len(s.Additions))
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Counts && !stirredSince(s, r.At) {
			p.Readings = append(p.Readings, parse.Reading{When: bk.local(r.At), SG: r.Typed, TempC: r.TempC})
			p.LastSG, p.LastTempC, p.LastWhen = r.Typed, r.TempC, bk.local(r.At)
		}
	}
	for _, d := range s.Deeds {
		p.Recent = append(p.Recent, parse.Deed{What: d.What, By: d.By, When: bk.local(d.At)})
	}
	for _, a := range s.Additions {
		d := parse.Deed{What: strings.TrimSpace("addition " + a.Material), By: a.By, When: bk.local(a.At), Unit: a.Unit}
		if a.Has {
			d.Value = &a.Amount
		}
		p.Recent = append(p.Recent, d)
	}
	return p
}

func (bk *book) local(t time.Time) time.Time {
	if t.IsZero() {
		return t
	}
	return t.In(bk.zone)
}

// stirredSince reports a must that was stirred after a reading: what lay on the
// bottom is in the next one, which may be higher.
func stirredSince(s *ferment.State, at time.Time) bool {
	if s.Stage != ferment.Must {
		return false
	}
	d, ok := s.Did(ferment.DeedStirred)
	return s.Sheet == ferment.SheetUnder || ok && d.At.After(at)
}
