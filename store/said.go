package store

import (
	"errors"
	"slices"
	"time"
)

// Subject is what a reminder is about, with the next instant that one is due. The
// tick asks for due subjects only, so its cost goes with what is due and not with
// how many batches are open.
type Subject struct {
	Book    int64
	Kind    string    // batch, member, instrument, tub, book
	N       int64     // number of the batch, id of the member, …; 0 for the book
	NextDue time.Time // zero: never
}

// SetNextDue writes when a subject must be looked at next; zero: never. It is
// called with every entry, so that a tick never has to fold a batch to find out
// that nothing is due.
func (tx *Tx) SetNextDue(s Subject) error {
	k := shelfKey{s.Book, s.N, 0}
	due := asRead(s.NextDue)
	if tx.shelf != nil {
		if x, ok := tx.shelf.get(shelfDue+s.Kind, k); ok && x.value.(time.Time).Equal(due) {
			return nil
		}
		tx.keep(shelfDue+s.Kind, k, due, 1)
	}
	return tx.exec(
		"INSERT INTO subject (book, kind, n, next_due) VALUES (?,?,?,?) ON CONFLICT DO UPDATE SET next_due = excluded.next_due",
		s.Book, s.Kind, s.N, nullText(s.NextDue))
}

// DueSubjects returns at most limit subjects due at now, the longest due first. An
// instant is due at that instant. The caller moves each on with SetNextDue, else
// it comes again.
func (tx *Tx) DueSubjects(now time.Time, limit int) ([]Subject, error) {
	return all(tx, func(s scanner) (x Subject, err error) {
		return x, s.Scan(&x.Book, &x.Kind, &x.N, at(&x.NextDue))
	},
		"SELECT book, kind, n, next_due FROM subject WHERE next_due IS NOT NULL AND next_due <= ? ORDER BY next_due LIMIT ?",
		toText(now), limit)
}

// SaidRow is a reminder that was made, and what became of it. Its key is rule,
// subject, anchor and occurrence; the due time is not part of it, so that an edited
// reading does not remind again.
type SaidRow struct {
	ID                    int64
	Book                  int64
	Rule, Kind            string
	N                     int64 // of the subject
	Anchor                int64 // root of the entry that it counts from; 0: none
	Occurrence            int   // 0 for the first
	MadeAt, Due           time.Time
	AnsweredAt, SnoozedTo time.Time
	Answer                string
	Muted                 bool
	Out                   int64
}

const saidColumns = "id, book, rule, kind, n, anchor, occurrence, made, due, answered, answer, snoozed, muted, outbox"

func scanSaid(s scanner) (r SaidRow, err error) {
	err = s.Scan(&r.ID, &r.Book, &r.Rule, &r.Kind, &r.N, &r.Anchor, &r.Occurrence,
		at(&r.MadeAt), at(&r.Due), at(&r.AnsweredAt), &r.Answer, at(&r.SnoozedTo), &r.Muted, &r.Out)
	return r, err
}

// Said returns what was said of a subject, the oldest first.
func (tx *Tx) Said(book int64, kind string, n int64) ([]SaidRow, error) {
	rs, _, err := tx.SaidAs(book, kind, n)
	return rs, err
}

// SaidAs is Said with a version, as Live has it. Nobody may change the rows.
func (tx *Tx) SaidAs(book int64, kind string, n int64) (rs []SaidRow, version uint64, err error) {
	return remembered(tx, shelfSaid+kind, shelfKey{book, n, 0}, rowsOf[SaidRow], func() ([]SaidRow, error) {
		return all(tx, scanSaid, // the cast: see ofBatch
			"SELECT "+saidColumns+" FROM said WHERE book = ? AND kind = ? AND n = CAST(? AS INTEGER) ORDER BY id", book, kind, n)
	})
}

// AddSaid notes a reminder as made; dup where its key was made before, and then
// nothing is written. It belongs into the transaction of the outbox row: so a
// reminder is made once, whatever dies.
func (tx *Tx) AddSaid(r SaidRow) (id int64, dup bool, err error) {
	id, err = tx.insert(
		`INSERT INTO said (book, rule, kind, n, anchor, occurrence, made, due, answered, answer, snoozed, muted, outbox)
			VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?)`,
		r.Book, r.Rule, r.Kind, r.N, r.Anchor, r.Occurrence, toText(r.MadeAt), toText(r.Due),
		nullText(r.AnsweredAt), r.Answer, nullText(r.SnoozedTo), bit(r.Muted), r.Out)
	if errors.Is(err, ErrTwice) {
		return 0, true, nil
	}
	if err != nil {
		return 0, false, err
	}
	// A tick plans anew right after it: what lies on the shelf goes on.
	k := shelfKey{r.Book, r.N, 0}
	if tx.shelf == nil {
		return id, false, nil
	}
	x, known := tx.shelf.get(shelfSaid+r.Kind, k)
	if !known {
		tx.wrote(shelfSaid+r.Kind, k)
		return id, false, nil
	}
	r.ID, r.MadeAt, r.Due, r.AnsweredAt, r.SnoozedTo = id, asRead(r.MadeAt), asRead(r.Due), asRead(r.AnsweredAt), asRead(r.SnoozedTo)
	rs := append(slices.Clip(x.value.([]SaidRow)), r)
	tx.keep(shelfSaid+r.Kind, k, rs, rowsOf(rs))
	return id, false, nil
}

// UpdateSaid notes an answer, a snooze, a mute or the row that carried it;
// ErrNotFound where the book has no such row.
func (tx *Tx) UpdateSaid(r SaidRow) error {
	tx.wroteAll(shelfSaid + r.Kind)
	return tx.must(
		"UPDATE said SET answered = ?, answer = ?, snoozed = ?, muted = ?, outbox = ? WHERE id = ? AND book = ?",
		nullText(r.AnsweredAt), r.Answer, nullText(r.SnoozedTo), bit(r.Muted), r.Out, r.ID, r.Book)
}
