package store

import (
	"errors"
	"time"
)

// Subject is what a reminder is about, with the next instant that one is due.
type Subject struct {
	Book    int64
	Kind    string // batch, member, instrument, tub, book
	N       int64
	NextDue time.Time
}

// SetNextDue writes when a subject must be looked at next; zero: never.
func (tx *Tx) SetNextDue(s Subject) error {
	return tx.exec(
		"INSERT INTO subject (book, kind, n, next_due) VALUES (?,?,?,?) ON CONFLICT DO UPDATE SET next_due = excluded.next_due",
		s.Book, s.Kind, s.N, nullText(s.NextDue))
}

// DueSubjects returns the subjects due at now, the longest due first.
func (tx *Tx) DueSubjects(now time.Time, limit int) ([]Subject, error) {
	return all(tx, func(s scanner) (x Subject, err error) {
		return x, s.Scan(&x.Book, &x.Kind, &x.N, at(&x.NextDue))
	},
		"SELECT book, kind, n, next_due FROM subject WHERE next_due IS NOT NULL AND next_due <= ? ORDER BY next_due LIMIT ?",
		toText(now), limit)
}

// SaidRow is a reminder that was made, and what became of it.
type SaidRow struct {
	ID                    int64
	Book                  int64
	Rule, Kind            string
	N, Anchor             int64
	Occurrence            int
	MadeAt, Due           time.Time
	AnsweredAt, SnoozedTo time.Time
	Answer                string
	Muted                 bool
	Out                   int64
}

const saidColumns = "id, book, rule, kind, n, anchor, occurrence, made, due, answered, answer, snoozed, muted, outbox"

func scanSaid(s scanner) (r SaidRow, err error) {
	err = s.Scan(&r.ID, &r.Book, &r.Rule, &r.Kind, &r.N, &r.Anchor, &r.Occurrence, at(&r.MadeAt), at(&r.Due), at(&r.AnsweredAt), &r.Answer, at(&r.SnoozedTo), &r.Muted, &r.Out)
	return r, err
}

// Said returns what was said of a subject.
func (tx *Tx) Said(book int64, kind string, n int64) ([]SaidRow, error) {
	return all(tx, scanSaid,
		"SELECT "+saidColumns+" FROM said WHERE book = ? AND kind = ? AND n = ? ORDER BY id", book, kind, n)
}

// AddSaid notes a reminder as made; dup where its key was made before.
func (tx *Tx) AddSaid(r SaidRow) (id int64, dup bool, err error) {
	id, err = tx.insert(
		"INSERT INTO said (book, rule, kind, n, anchor, occurrence, made, due, answered, answer, snoozed, muted, outbox) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?)",
		r.Book, r.Rule, r.Kind, r.N, r.Anchor, r.Occurrence, toText(r.MadeAt), toText(r.Due), nullText(r.AnsweredAt), r.Answer, nullText(r.SnoozedTo), bit(r.Muted), r.Out)
	if errors.Is(err, ErrTwice) {
		return 0, true, nil
	}
	return id, false, err
}

// UpdateSaid notes an answer, a snooze, a mute or the row that carried it;
// ErrNotFound where the book has no such row.
func (tx *Tx) UpdateSaid(r SaidRow) error {
	return tx.must(
		"UPDATE said SET answered = ?, answer = ?, snoozed = ?, muted = ?, outbox = ? WHERE id = ? AND book = ?",
		nullText(r.AnsweredAt), r.Answer, nullText(r.SnoozedTo), bit(r.Muted), r.Out, r.ID, r.Book)
}
