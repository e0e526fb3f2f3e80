package bot

import (
	"context"
	"fmt"
	"time"

	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// walk goes through a book one batch at a time: a household may have kept a million
// entries, and what reads them all must not hold them all.
type walk struct {
	b    *Bot
	ctx  context.Context
	tx   *store.Tx
	now  time.Time
	book *book          // with the one batch that is visited, or none
	all  schedule.House // what holds for every batch, from all of them
}

// newWalk reads what belongs to the house.
func (b *Bot) newWalk(ctx context.Context, tx *store.Tx, id int64, now time.Time) (*walk, error) {
	house, err := tx.Entries(id, 0)
	if err != nil {
		return nil, fmt.Errorf("read the house: %w", err)
	}
	bk := &book{id: id, settled: house, house: ferment.FoldHouse(house)}
	bk.zone = b.zoneOf(bk.house.ZoneName)
	bk.style = say.Style{Units: bk.house.Units, Comma: bk.house.Flags[commaFlag], Zone: bk.zone, Now: now}
	return &walk{b: b, ctx: ctx, tx: tx, now: now, book: bk}, nil
}

// each visits the batches in the order of their numbers. The state is nil where a
// batch's beginning was taken back.
func (w *walk) each(visit func(n int, s *ferment.State) error) error {
	numbers, err := w.tx.BatchNumbers(w.book.id)
	if err != nil {
		return fmt.Errorf("read batches: %w", err)
	}
	for _, n := range numbers {
		if err := w.ctx.Err(); err != nil {
			return err
		}
		s, err := w.open(n)
		if err != nil {
			return fmt.Errorf("read batch %d: %w", n, err)
		}
		if err := visit(n, s); err != nil {
			return err
		}
	}
	return nil
}

// open folds one batch and makes it the only one of the book.
func (w *walk) open(n int) (*ferment.State, error) {
	bk := w.book
	bk.batches, bk.deleted, bk.entries = nil, nil, map[int][]ferment.Entry{}
	es, err := w.tx.Entries(bk.id, n)
	if err != nil {
		return nil, err
	}
	others := map[int][]ferment.Entry{}
	l := &loading{b: w.b, tx: w.tx, id: bk.id}
	if err := l.spoken(ferment.Sources(es), 0, others, map[int]uint64{}); err != nil {
		return nil, err
	}
	s, _ := bk.fold(n, es, others, w.now, nil)
	bk.add(n, es, s)
	return s, nil
}

// survey goes through the book once for what the plan of each batch needs to know of
// the others: how much works in a place, how much was made this year.
func (w *walk) survey() error {
	w.all = schedule.House{PlaceL: map[string]float64{}}
	return w.each(func(int, *ferment.State) error {
		h := w.book.scheduleHouse(w.now)
		w.all.YearMadeL += h.YearMadeL
		for place, l := range h.PlaceL {
			w.all.PlaceL[place] += l
		}
		return nil
	})
}

// house is what holds for every batch, with the reminders of the one at hand.
func (w *walk) house() schedule.House {
	h := w.book.scheduleHouse(w.now)
	h.PlaceL, h.YearMadeL = w.all.PlaceL, w.all.YearMadeL
	return h
}

// summary is the state of the batch that is visited as other programs read it; nil
// for one that was deleted or never begun. It wants a survey first.
func (w *walk) summary(s *ferment.State) (*Summary, error) {
	if s == nil || !s.Deleted.IsZero() {
		return nil, nil
	}
	var o outlook
	if working(s) {
		o = predict(s)
	}
	r := w.b.newReminding(w.tx, w.book, w.now)
	r.house = w.house()
	items, err := r.plan(s)
	if err != nil {
		return nil, err
	}
	var next []NextItem
	for _, it := range items {
		next = append(next, NextItem{it.Rule, instant(it.Due, w.book.zone)})
	}
	m := summarise(s, o, next, w.book.zone)
	return &m, nil
}
