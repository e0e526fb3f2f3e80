package store

import (
	"database/sql"
	"time"
)

// stamp is how an instant stands in the file: UTC, fixed width, so that text
// order is time order.
const stamp = "2006-01-02T15:04:05.000Z"

func toText(t time.Time) string { return t.UTC().Format(stamp) }

// nullText writes a zero instant as NULL.
func nullText(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return toText(t)
}

func fromText(s string) time.Time {
	t, err := time.Parse(stamp, s)
	if err != nil {
		return time.Time{}
	}
	return t
}

func fromNull(s sql.NullString) time.Time {
	if !s.Valid {
		return time.Time{}
	}
	return fromText(s.String)
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// all runs a query and scans every row into a T.
func all[T any](tx *Tx, scan func(scanner) (T, error), query string, args ...any) ([]T, error) {
	rows, err := tx.tx.QueryContext(tx.ctx, query, args...)
	if err != nil {
		return nil, classify(err)
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, classify(err)
		}
		out = append(out, v)
	}
	return out, classify(rows.Err())
}

// one runs a query that gives at most one row; ErrNotFound where it gives none.
func one[T any](tx *Tx, scan func(scanner) (T, error), query string, args ...any) (T, error) {
	v, err := scan(tx.tx.QueryRowContext(tx.ctx, query, args...))
	return v, classify(err)
}

type scanner interface{ Scan(dest ...any) error }

func scanInt(s scanner) (int64, error) {
	var n int64
	return n, s.Scan(&n)
}

func scanText(s scanner) (string, error) {
	var t string
	return t, s.Scan(&t)
}
