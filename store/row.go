package store

import (
	"fmt"
	"strconv"
	"strings"
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
	t, err := parseStamp(s)
	*i = instant(t)
	return err
}

func at(t *time.Time) *instant { return (*instant)(t) }

// parseStamp reads the fixed form by place, several times faster than a layout
// does; a batch has two instants a row.
func parseStamp(s string) (time.Time, error) {
	if len(s) != len(stamp) {
		return time.Time{}, fmt.Errorf("%w: %q is no time", ErrDamaged, s)
	}
	var part [8]int // one more, for what follows the Z
	n, sound := 0, true
	for i := range len(s) {
		digit, wanted := s[i]-'0', stamp[i]-'0'
		switch {
		case wanted <= 9:
			sound = sound && digit <= 9
			part[n] = part[n]*10 + int(digit)
		default:
			sound = sound && s[i] == stamp[i]
			n++
		}
	}
	t := time.Date(part[0], time.Month(part[1]), part[2], part[3], part[4], part[5], part[6]*1e6, time.UTC)
	// The 31st of February would come back as another day, 24:00 as another hour.
	sameDay := t.Day() == part[2] && t.Month() == time.Month(part[1])
	sameHour := t.Hour() == part[3] && t.Minute() == part[4] && t.Second() == part[5]
	if !sound || n != 7 || !sameDay || !sameHour {
		return time.Time{}, fmt.Errorf("%w: %q is no time", ErrDamaged, s)
	}
	return t, nil
}

// whole, small and yesno read integers. The standard conversion prints a number
// and parses it again, which for the columns of an entry takes longer than SQLite
// needs to find them.
type (
	whole int64
	small int
	yesno bool
)

// Scan implements sql.Scanner.
func (w *whole) Scan(src any) error { n, err := integer(src); *w = whole(n); return err }

// Scan implements sql.Scanner.
func (w *small) Scan(src any) error { n, err := integer(src); *w = small(n); return err }

// Scan implements sql.Scanner.
func (w *yesno) Scan(src any) error { n, err := integer(src); *w = n != 0; return err }

// isGroup reads the kind of a chat.
type isGroup bool

// Scan implements sql.Scanner.
func (g *isGroup) Scan(src any) error { *g = src == "group"; return nil }

func integer(src any) (int64, error) {
	n, ok := src.(int64)
	if !ok {
		return 0, fmt.Errorf("%w: an integer of type %T", ErrDamaged, src)
	}
	return n, nil
}

func i64(p *int64) *whole { return (*whole)(p) }
func num(p *int) *small   { return (*small)(p) }
func yes(p *bool) *yesno  { return (*yesno)(p) }

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

// wider scans the columns behind those of another scan.
type wider struct {
	s    scanner
	more []any
}

func (w wider) Scan(dest ...any) error { return w.s.Scan(append(dest, w.more...)...) }

// of names columns of a table that goes by another name in a query.
func of(table, columns string) string {
	return table + "." + strings.ReplaceAll(columns, ", ", ", "+table+".")
}

// ofList is a set of numbers in a query; list makes its argument.
const ofList = "(SELECT value FROM json_each(?))"

func list(ns []int64) string {
	out := []byte{'['}
	for i, n := range ns {
		if i > 0 {
			out = append(out, ',')
		}
		out = strconv.AppendInt(out, n, 10)
	}
	return string(append(out, ']'))
}

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
