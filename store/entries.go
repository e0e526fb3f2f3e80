package store

import (
	"database/sql"
	"math"
	"slices"
	"time"

	"mustbook/ferment"
)

// EntryRow is a row of the book with its place in the chain of its root.
type EntryRow struct {
	ferment.Entry
	Void       bool  // taken back
	Supersedes int64 // the row it replaces; 0: the first of its root
	Live       bool  // the newest of its root, and not void
}

const entryColumns = "id, root, batch, message, ordinal, quantity, value, unit, typed, deed, material, basis, done_by, text, " +
	"instrument, type, key, other, of_root, approx, at, day_only, author, author_name, typed_at, void, supersedes, live"

// entriesAtOnce bounds the rows of one statement; a message seldom has more.
const entriesAtOnce = 8

// insertEntries has the statement for one row at 0, for two at 1, and so on.
var insertEntries = func() (out [entriesAtOnce]string) {
	const row = "(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)"
	q := `INSERT INTO entry (id, root, book, batch, message, ordinal, quantity, value, unit, typed, deed,
	material, basis, done_by, text, instrument, type, key, other, of_root, approx, at, day_only, author, author_name,
	typed_at, void, supersedes, live) VALUES ` + row
	for i := range out {
		out[i], q = q, q+", "+row
	}
	return out
}()

func scanEntry(s scanner) (r EntryRow, err error) {
	var v sql.NullFloat64
	e := &r.Entry
	err = s.Scan(i64(&e.ID), i64(&e.Root), num(&e.Batch), i64(&e.Message), num(&e.Ordinal), (*string)(&e.Quantity), &v, &e.Unit, &e.Typed, &e.Deed,
		&e.Material, &e.Basis, &e.By, &e.Text, &e.Instrument, &e.Type, &e.Key, num(&e.Other), i64(&e.Of), yes(&e.Approx), at(&e.At), yes(&e.DayOnly),
		i64(&e.Author), &e.AuthorName, at(&e.TypedAt), yes(&r.Void), i64(&r.Supersedes), yes(&r.Live))
	e.Value, e.Has = v.Float64, v.Valid
	return r, err
}

func scanLive(s scanner) (ferment.Entry, error) {
	r, err := scanEntry(s)
	return r.Entry, err
}

// NewBatch gives a book its next batch number; numbers are never used again.
func (tx *Tx) NewBatch(book int64, now time.Time) (int, error) {
	n, err := one(tx, scanInt, "SELECT COALESCE(MAX(n), 0) + 1 FROM batch WHERE book = ?", book)
	if err != nil {
		return 0, err
	}
	tx.wrote(shelfBatches, shelfKey{book: book})
	return int(n), tx.exec("INSERT INTO batch (book, n, created) VALUES (?, ?, ?)", book, n, toText(now))
}

// BatchNumbers returns the numbers of a book's batches in order, those included
// whose every entry was taken back.
func (tx *Tx) BatchNumbers(book int64) ([]int, error) {
	ns, _, err := remembered(tx, shelfBatches, shelfKey{book: book}, rowsOf[int], func() ([]int, error) {
		return all(tx, func(s scanner) (int, error) { n, err := scanInt(s); return int(n), err },
			"SELECT n FROM batch WHERE book = ? ORDER BY n", book)
	})
	return ns, err
}

// AddEntries writes entries. One with a Root supersedes the newest row of that
// root; one without begins its own. The rows come back with ID and Root. It is
// ErrTwice where a message begins a root at an ordinal for the second time (the
// message was delivered again), ErrNotFound where a batch, a message or a root is
// not the book's, ErrNumber for a value that is not finite.
func (tx *Tx) AddEntries(book int64, es []ferment.Entry) ([]ferment.Entry, error) {
	out := make([]ferment.Entry, len(es))
	var rows []EntryRow // each begins a root: nothing that is there changes with them
	for i, e := range es {
		if i == 0 || e.Batch != es[i-1].Batch || e.Message != es[i-1].Message {
			if err := tx.belongs(book, e); err != nil {
				return nil, err
			}
		}
		r := EntryRow{Entry: e}
		if e.Root != 0 || len(rows) == entriesAtOnce {
			if err := tx.putRows(book, rows); err != nil {
				return nil, err
			}
			rows = nil
		}
		var err error
		if e.Root != 0 {
			out[i], err = tx.addRow(book, r)
		} else if err = tx.place(&r); err == nil {
			rows, out[i] = append(rows, r), r.Entry
		}
		if err != nil {
			return nil, err
		}
	}
	return out, tx.putRows(book, rows)
}

// addRow writes a row on top of those of its root, if it has one.
func (tx *Tx) addRow(book int64, r EntryRow) (ferment.Entry, error) {
	was := r.Batch
	if r.Root != 0 {
		var err error
		if r.Supersedes, was, err = tx.supersede(book, r.Root); err != nil {
			return r.Entry, err
		}
	}
	if err := tx.place(&r); err != nil {
		return r.Entry, err
	}
	if was != r.Batch {
		tx.wrote(shelfEntries, shelfKey{book, int64(was), 0})
	}
	return r.Entry, tx.putRows(book, []EntryRow{r})
}

// place gives a row its id, and its root where it begins one.
func (tx *Tx) place(r *EntryRow) error {
	e := &r.Entry
	if e.Has && (math.IsNaN(e.Value) || math.IsInf(e.Value, 0)) {
		return ErrNumber // SQLite would keep NaN as NULL without a word
	}
	var err error
	if e.ID, err = tx.nextID("entry"); err != nil {
		return err
	}
	tx.gave("entry", e.ID)
	if e.Root == 0 {
		e.Root = e.ID
	}
	return nil
}

// putRows writes rows that have their place, at most entriesAtOnce. They must not be
// changed any more.
func (tx *Tx) putRows(book int64, rows []EntryRow) error {
	if len(rows) == 0 {
		return nil
	}
	err := tx.execMade(insertEntries[len(rows)-1], func() []any {
		args := make([]any, 0, 29*len(rows))
		for i := range rows {
			r, e := &rows[i], &rows[i].Entry
			v := sql.NullFloat64{Float64: e.Value, Valid: e.Has}
			args = append(args, e.ID, e.Root, book, e.Batch, e.Message, e.Ordinal, string(e.Quantity), v, e.Unit, e.Typed, e.Deed, e.Material, e.Basis, e.By,
				e.Text, e.Instrument, e.Type, e.Key, e.Other, e.Of, bit(e.Approx), toText(e.At), bit(e.DayOnly), e.Author, e.AuthorName,
				toText(e.TypedAt), bit(r.Void), r.Supersedes, bit(!r.Void))
		}
		return args
	})
	if err != nil {
		return err
	}
	tx.entered += len(rows)
	for i := range rows {
		tx.shelve(book, &rows[i])
	}
	return nil
}

// supersede marks the newest row of a root as no longer live, and gives its id and
// batch.
func (tx *Tx) supersede(book, root int64) (id int64, batch int, err error) {
	id, err = one(tx, func(s scanner) (id int64, err error) { return id, s.Scan(i64(&id), num(&batch)) },
		"SELECT id, batch FROM entry WHERE root = ? AND book = ? ORDER BY id DESC LIMIT 1", root, book)
	if err != nil {
		return 0, 0, err
	}
	return id, batch, tx.exec("UPDATE entry SET live = 0 WHERE id = ?", id)
}

// belongs is nil where the batch and the message of an entry are the book's.
func (tx *Tx) belongs(book int64, e ferment.Entry) error {
	if e.Message != 0 && e.Message == tx.fresh && book == tx.freshOf {
		ns, err := tx.BatchNumbers(book)
		if err != nil {
			return err
		}
		if _, found := slices.BinarySearch(ns, e.Batch); found || e.Batch == 0 {
			return nil
		}
		return ErrNotFound
	}
	const query = `SELECT (? = 0 OR EXISTS (SELECT 1 FROM batch WHERE book = ? AND n = ?))
		AND (? = 0 OR EXISTS (SELECT 1 FROM message WHERE id = ? AND book = ?))`
	ok, err := one(tx, scanInt, query, e.Batch, book, e.Batch, e.Message, e.Message, book)
	if err == nil && ok == 0 {
		return ErrNotFound
	}
	return err
}

// VoidRoots takes entries back: a void row with its author and instant supersedes
// each, and the history stays. What is taken back already stays as it is.
// ErrNotFound where a root is not the book's.
func (tx *Tx) VoidRoots(book int64, roots []int64, author int64, now time.Time) error {
	for _, root := range roots {
		r, err := tx.newest(book, root)
		if err != nil {
			return err
		}
		if r.Void {
			continue
		}
		r.Author, r.TypedAt, r.Void = author, now, true
		if _, err := tx.addRow(book, r); err != nil {
			return err
		}
	}
	return nil
}

// ReviveRoots brings entries back as they were before they were taken back, author
// and instant too. What is live stays as it is. ErrNotFound as with VoidRoots.
func (tx *Tx) ReviveRoots(book int64, roots []int64) error {
	for _, root := range roots {
		top, err := tx.newest(book, root)
		if err != nil {
			return err
		}
		if !top.Void {
			continue
		}
		r, err := one(tx, scanEntry,
			"SELECT "+entryColumns+" FROM entry WHERE root = ? AND book = ? AND void = 0 ORDER BY id DESC LIMIT 1",
			root, book)
		if err != nil {
			return err
		}
		if _, err := tx.addRow(book, EntryRow{Entry: r.Entry}); err != nil {
			return err
		}
	}
	return nil
}

func (tx *Tx) newest(book, root int64) (EntryRow, error) {
	return one(tx, scanEntry,
		"SELECT "+entryColumns+" FROM entry WHERE root = ? AND book = ? ORDER BY id DESC LIMIT 1",
		root, book)
}

// Entry returns the live entry of a root; ErrNotFound where it was taken back or is
// another book's.
func (tx *Tx) Entry(book, root int64) (ferment.Entry, error) {
	r, err := tx.newest(book, root)
	if err == nil && r.Void {
		return r.Entry, ErrNotFound
	}
	return r.Entry, err
}

// Entries returns the live entries of a batch in the order their rows were written;
// batch 0 is the house. Empty, and no error, for another book's. Nobody may change
// them.
func (tx *Tx) Entries(book int64, batch int) ([]ferment.Entry, error) {
	es, _, err := tx.Live(book, batch)
	return es, err
}

// Live is Entries with a version: another set of entries never has the same. It is
// 0 in a transaction that only reads, where nothing is remembered.
func (tx *Tx) Live(book int64, batch int) (es []ferment.Entry, version uint64, err error) {
	es, version, err = remembered(tx, shelfEntries, shelfKey{book, int64(batch), 0}, rowsOf[ferment.Entry], func() ([]ferment.Entry, error) {
		return tx.live(ofBatch, book, batch)
	})
	return slices.Clip(es), version, err // an entry added later goes behind these in the same array
}

// AllEntries returns every row of a batch, superseded and taken back ones too.
func (tx *Tx) AllEntries(book int64, batch int) ([]EntryRow, error) {
	return all(tx, scanEntry, "SELECT "+entryColumns+" FROM entry WHERE book = ? AND batch = ? ORDER BY id", book, batch)
}

// Chain returns every row of a root, the oldest first.
func (tx *Tx) Chain(book, root int64) ([]EntryRow, error) {
	return all(tx, scanEntry, "SELECT "+entryColumns+" FROM entry WHERE root = ? AND book = ? ORDER BY id", root, book)
}

// EntriesOfMessage returns the live entries that a message made, in the order of
// its text. An entry repaired by a later message counts as that one's.
func (tx *Tx) EntriesOfMessage(book, message int64) ([]ferment.Entry, error) {
	return all(tx, scanLive,
		"SELECT "+entryColumns+" FROM entry WHERE message = ? AND book = ? AND live = 1 ORDER BY ordinal, id",
		message, book)
}

// EntriesOfOrigin returns the live entries that the messages of one origin made, in the
// order of those messages: all that one import put in.
func (tx *Tx) EntriesOfOrigin(book, originChat int64) ([]ferment.Entry, error) {
	return all(tx, scanLive,
		"SELECT "+of("e", entryColumns)+" FROM message m CROSS JOIN entry e ON e.message = m.id WHERE m.origin_chat = ? AND m.book = ? AND e.live = 1 ORDER BY m.origin_chat, m.platform_message",
		originChat, book)
}

// EachEntry calls f for every row of a book, by batch and age, without holding
// them all.
func (tx *Tx) EachEntry(book int64, f func(EntryRow) error) error {
	return each(tx, scanEntry, f, "SELECT "+entryColumns+" FROM entry WHERE book = ? ORDER BY batch, id", book)
}
