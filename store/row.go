package store

import (
	"fmt"
	"time"
)

// stamp is how an instant stands in the file: RFC 3339, UTC, fixed width, so that
// text order is time order.
const stamp = "2006-01-02T15:04:05.000Z"

func toText(t time.Time) string { return t.UTC().Format(stamp) }

// nullText writes a zero instant as NULL.
func nullText(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return toText(t)
}

// instant reads a column of that form; NULL is the zero time. Anything else is
// damage and is told, because a time that quietly became zero would move every
// reminder.
type instant time.Time

// Scan implements sql.Scanner.
func (i *instant) Scan(src any) error {
	if src == nil {
		*i = instant{}
		return nil
	}
	s, ok := src.(string)
	if !ok {
		return fmt.Errorf("%w: a time of type %T", ErrDamaged, src)
	}
	t, err := time.Parse(stamp, s)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	*i = instant(t)
	return nil
}

func at(t *time.Time) *instant { return (*instant)(t) }

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// blob makes nothing the empty blob; the driver would make it NULL.
func blob(b []byte) []byte {
	if b == nil {
		return []byte{}
	}
	return b
}

type scanner interface{ Scan(dest ...any) error }

// all runs a query and scans every row into a T.
func all[T any](tx *Tx, scan func(scanner) (T, error), query string, args ...any) ([]T, error) {
	var out []T
	err := each(tx, scan, func(v T) error { out = append(out, v); return nil }, query, args...)
	return out, err
}

// each hands every row of a query to f without holding them all.
func each[T any](tx *Tx, scan func(scanner) (T, error), f func(T) error, query string, args ...any) error {
	rows, err := tx.rows(query, args)
	if err != nil {
		return classify(err)
	}
	defer rows.Close()
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return classify(err)
		}
		if err := f(v); err != nil {
			return err
		}
	}
	return classify(rows.Err())
}

// one runs a query that gives at most one row; ErrNotFound where it gives none.
func one[T any](tx *Tx, scan func(scanner) (T, error), query string, args ...any) (T, error) {
	var v T
	n := 0
	err := each(tx, scan, func(x T) error { v = x; n++; return nil }, query, args...)
	if err == nil && n == 0 {
		err = ErrNotFound
	}
	return v, err
}

func scanInt(s scanner) (int64, error) {
	var n int64
	return n, s.Scan(&n)
}

func scanText(s scanner) (string, error) {
	var t string
	return t, s.Scan(&t)
}
