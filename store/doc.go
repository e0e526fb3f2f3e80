// Package store keeps the household's books in one SQLite file. It hides SQL
// completely: callers see values and a *Tx. One message is one transaction, or a
// savepoint in a shared commit (DB.Batch); entries are append-only, a repair is a
// newer row of the same root.
//
// db.go opens, migrates and runs transactions; row.go has the conversions; books.go
// people and chats; entries.go the book itself; talk.go messages, questions,
// buttons and the batch in focus; outbox.go and inbox.go the two ends of the
// platform; said.go reminders; cache.go forecasts and photos; backup.go copies.
package store
