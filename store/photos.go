package store

import "time"

// Photo is a picture of a batch. The platform's two names are kept because the bytes
// come later: the first fetches them, the second knows the same picture again.
type Photo struct {
	ID, Book           int64
	Batch              int
	Message            int64
	FileID, FileUnique string
	JPEG               []byte // nil until fetched
	Barcode            string
	At                 time.Time
}

const photoColumns = "id, book, batch, message, file_id, file_unique, jpeg, barcode, at"

func scanPhoto(s scanner) (p Photo, err error) {
	err = s.Scan(&p.ID, &p.Book, &p.Batch, &p.Message, &p.FileID, &p.FileUnique, &p.JPEG, &p.Barcode, at(&p.At))
	return p, err
}

// AddPhoto keeps a photo; one without bytes is fetched later.
func (tx *Tx) AddPhoto(p Photo) (int64, error) {
	var jpeg any
	if len(p.JPEG) > 0 {
		jpeg = p.JPEG
	}
	return tx.insert(
		"INSERT INTO photo (book, batch, message, file_id, file_unique, jpeg, barcode, at) VALUES (?,?,?,?,?,?,?,?)",
		p.Book, p.Batch, p.Message, p.FileID, p.FileUnique, jpeg, p.Barcode, toText(p.At))
}

// SetPhoto gives a photo its bytes and its barcode. Empty bytes say that there is
// nothing to fetch any more. It does nothing where the photo is gone, as after
// Forget.
func (tx *Tx) SetPhoto(id int64, jpeg []byte, barcode string) error {
	return tx.exec("UPDATE photo SET jpeg = ?, barcode = ? WHERE id = ?", blob(jpeg), barcode, id)
}

// Photo returns a photo of a book.
func (tx *Tx) Photo(book, id int64) (Photo, error) {
	return one(tx, scanPhoto, "SELECT "+photoColumns+" FROM photo WHERE id = ? AND book = ?", id, book)
}

// Photos returns the photos of a batch with their bytes, the oldest first.
func (tx *Tx) Photos(book int64, batch int) ([]Photo, error) {
	return all(tx, scanPhoto, "SELECT "+photoColumns+" FROM photo WHERE book = ? AND batch = ? ORDER BY id", book, batch)
}

// PhotosToFetch returns photos whose bytes are still on the platform.
func (tx *Tx) PhotosToFetch(limit int) ([]Photo, error) {
	return all(tx, scanPhoto, "SELECT "+photoColumns+" FROM photo WHERE jpeg IS NULL ORDER BY id LIMIT ?", limit)
}

// MovePhoto gives a photo of a book to a batch of it.
func (tx *Tx) MovePhoto(book, id int64, batch int) error {
	return tx.exec("UPDATE photo SET batch = ? WHERE id = ? AND book = ?", batch, id, book)
}

// DropPhoto forgets a photo of a book.
func (tx *Tx) DropPhoto(book, id int64) error {
	return tx.exec("DELETE FROM photo WHERE id = ? AND book = ?", id, book)
}
