package store

// PutForecast keeps what was computed for a batch as of an entry, in place of what
// was kept before. The caller compares the entry with MaxEntryID to see whether it
// still holds.
func (tx *Tx) PutForecast(book int64, batch int, entry int64, body []byte) error {
	return tx.exec(
		"INSERT INTO forecast (book, batch, entry, blob) VALUES (?,?,?,?) ON CONFLICT DO UPDATE SET entry = excluded.entry, blob = excluded.blob",
		book, batch, entry, blob(body))
}

// Forecast reads it back; ErrNotFound where none is kept.
func (tx *Tx) Forecast(book int64, batch int) (entry int64, body []byte, err error) {
	entry, err = one(tx, func(s scanner) (n int64, err error) {
		return n, s.Scan(&n, &body)
	}, "SELECT entry, blob FROM forecast WHERE book = ? AND batch = ?", book, batch)
	return entry, body, err
}

// DropForecasts empties the cache: it may be rebuilt at any time.
func (tx *Tx) DropForecasts() error { return tx.exec("DELETE FROM forecast") }
