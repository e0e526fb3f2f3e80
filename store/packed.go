package store

import (
	"database/sql"
	"errors"
	"strconv"
	"strings"

	"mustbook/ferment"
)

// packedColumns is a live entry in two columns. The driver takes three locks and an
// allocation for each column of each row, which for the twenty-seven of an entry is
// most of what reading one costs; nearly all of them are empty or small. They come as
// one text, parted by a control character that no word has. Only value stands beside
// it, since a number as text would lose its last digits.
const packedColumns = "value, concat_ws(char(31), id, root, batch, message, ordinal, other, of_root, approx, day_only, author, " +
	"quantity, unit, typed, deed, material, basis, done_by, text, instrument, type, key, author_name, at, typed_at)"

const parting = "\x1f"

// errParted says that a text of somebody's has the parting character in it.
var errParted = errors.New("the row is not to be parted")

func scanPacked(s scanner) (e ferment.Entry, err error) {
	var v sql.NullFloat64
	var row string
	if err := s.Scan(&v, &row); err != nil {
		return e, err
	}
	e.Value, e.Has = v.Float64, v.Valid
	next := func() (part string) { part, row, _ = strings.Cut(row, parting); return part }
	integer := func() (n int64) {
		if err == nil {
			n, err = strconv.ParseInt(next(), 10, 64)
		}
		return n
	}
	if strings.Count(row, parting) != 23 {
		return e, errParted
	}
	e.ID, e.Root, e.Batch, e.Message, e.Ordinal = integer(), integer(), int(integer()), integer(), int(integer())
	e.Other, e.Of, e.Approx, e.DayOnly, e.Author = int(integer()), integer(), integer() != 0, integer() != 0, integer()
	if err != nil {
		return e, errors.Join(ErrDamaged, err)
	}
	e.Quantity, e.Unit, e.Typed, e.Deed, e.Material = ferment.Quantity(next()), next(), next(), next(), next()
	e.Basis, e.By, e.Text, e.Instrument, e.Type, e.Key, e.AuthorName = next(), next(), next(), next(), next(), next(), next()
	if e.At, err = parseStamp(next()); err == nil {
		e.TypedAt, err = parseStamp(next())
	}
	return e, err
}

// Which live entries, and their order.
const (
	// Without the cast the statement is planned anew whenever 0 or 1 follows on another
	// number, or the other way round: SQLite takes those two for flags.
	ofBatch = "book = ? AND batch = CAST(? AS INTEGER) ORDER BY id"
	ofBook  = "book = ? ORDER BY batch, id"
)

// live reads live entries; where is one of the above.
func (tx *Tx) live(where string, args ...any) ([]ferment.Entry, error) {
	es, err := all(tx, scanPacked, "SELECT "+packedColumns+" FROM entry WHERE live = 1 AND "+where, args...)
	if errors.Is(err, errParted) {
		es, err = all(tx, scanLive, "SELECT "+entryColumns+" FROM entry WHERE live = 1 AND "+where, args...)
	}
	return es, err
}
