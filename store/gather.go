package store

import (
	"slices"

	"mustbook/ferment"
)

// gathersUpTo bounds what is read of a household in one go, in batches. A household
// with more would push from the shelf what it has just laid there.
const gathersUpTo = 500

// Gather reads in one go what a message or a reminder asks of each batch in turn: the
// live entries, what was said of it, its forecast. Three statements stand in place of
// three a batch. It does nothing where the household was read before and where nothing
// is remembered; another's book is empty.
func (tx *Tx) Gather(book int64) error {
	if tx.shelf == nil {
		return nil
	}
	if _, known := tx.shelf.get(shelfEntries, shelfKey{book: book}); known {
		return nil
	}
	numbers, err := tx.BatchNumbers(book)
	if err != nil || len(numbers) > gathersUpTo {
		return err
	}
	if err := tx.gatherEntries(book, numbers); err != nil {
		return err
	}
	if err := tx.gatherSaid(book, numbers); err != nil {
		return err
	}
	return tx.gatherForecasts(book, numbers)
}

// lay puts on the shelf what is not there; what is keeps its version.
func lay[T any](tx *Tx, of string, k shelfKey, v T, weight int) {
	if _, known := tx.shelf.get(of, k); !known {
		tx.shelf.put(of, k, v, weight)
	}
}

func (tx *Tx) gatherEntries(book int64, numbers []int) error {
	of := map[int][]ferment.Entry{}
	es, err := tx.live(ofBook, book)
	if err != nil {
		return err
	}
	for i := 0; i < len(es); {
		begin := i
		for i < len(es) && es[i].Batch == es[begin].Batch {
			i++
		}
		of[es[begin].Batch] = slices.Clone(es[begin:i]) // each may leave the shelf alone
	}
	for _, n := range append([]int{0}, numbers...) {
		lay(tx, shelfEntries, shelfKey{book, int64(n), 0}, of[n], rowsOf(of[n]))
	}
	return nil
}

func (tx *Tx) gatherSaid(book int64, numbers []int) error {
	type subject struct {
		kind string
		n    int64
	}
	of := map[subject][]SaidRow{{kind: "book"}: nil} // nothing said is worth knowing too
	for _, n := range numbers {
		of[subject{"batch", int64(n)}] = nil
	}
	err := each(tx, scanSaid, func(r SaidRow) error {
		s := subject{r.Kind, r.N}
		of[s] = append(of[s], r)
		return nil
	}, "SELECT "+saidColumns+" FROM said WHERE book = ? ORDER BY id", book)
	if err != nil {
		return err
	}
	for s, rs := range of {
		lay(tx, shelfSaid+s.kind, shelfKey{book, s.n, 0}, rs, rowsOf(rs))
	}
	return nil
}

func (tx *Tx) gatherForecasts(book int64, numbers []int) error {
	type batched struct {
		n int
		forecastRow
	}
	of := map[int]forecastRow{}
	err := each(tx, func(s scanner) (b batched, err error) {
		b.there = true
		return b, s.Scan(num(&b.n), &b.entry, &b.body)
	}, func(b batched) error { of[b.n] = b.forecastRow; return nil },
		"SELECT batch, entry, blob FROM forecast WHERE book = ?", book)
	if err != nil {
		return err
	}
	for _, n := range numbers {
		lay(tx, shelfForecast, shelfKey{book, int64(n), 0}, of[n], 1)
	}
	return nil
}
