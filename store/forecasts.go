package store

import "errors"

// PutForecast keeps what was computed for a batch as of an entry, in place of what
// was kept before. The caller compares the entry with the newest of the batch to see
// whether it still holds.
func (tx *Tx) PutForecast(book int64, batch int, entry int64, body []byte) error {
	tx.wrote(shelfForecast, shelfKey{book, int64(batch), 0})
	return tx.exec(
		"INSERT INTO forecast (book, batch, entry, blob) VALUES (?,?,?,?) ON CONFLICT DO UPDATE SET entry = excluded.entry, blob = excluded.blob",
		book, batch, entry, blob(body))
}

// forecastRow is what is kept for a batch, or that nothing is.
type forecastRow struct {
	entry int64
	body  []byte
	there bool
}

// Forecast reads it back; ErrNotFound where none is kept.
func (tx *Tx) Forecast(book int64, batch int) (entry int64, body []byte, err error) {
	c, _, err := remembered(tx, shelfForecast, shelfKey{book, int64(batch), 0}, oneRow[forecastRow], func() (forecastRow, error) {
		c, err := one(tx, func(s scanner) (c forecastRow, err error) {
			c.there = true
			return c, s.Scan(&c.entry, &c.body)
		}, "SELECT entry, blob FROM forecast WHERE book = ? AND batch = ?", book, batch)
		if errors.Is(err, ErrNotFound) {
			return forecastRow{}, nil
		}
		return c, err
	})
	if err == nil && !c.there {
		err = ErrNotFound
	}
	return c.entry, c.body, err
}
