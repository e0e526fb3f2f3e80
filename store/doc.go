// Package store keeps the household's books in one SQLite file. It hides SQL
// completely: callers see values and a *Tx. One message is one transaction, or a
// savepoint in a shared commit (DB.Batch); entries are append-only, a repair is a
// newer row of the same root.
//
// open.go opens and closes the file, migrate.go brings its schema up to date,
// tx.go runs transactions and savepoints, behind.go carries out writes beside the work,
// ahead.go lets the next begin before a commit is over, errors.go names what can go wrong, row.go has the conversions, shelf.go what is
// remembered of the file, gather.go reads a household in one go, packed.go an entry in two
// columns. books.go has households and people, chats.go where
// they speak, messages.go what was typed, entries.go the book itself, questions.go
// what is asked and which batch is in focus, buttons.go the buttons. inbox.go and
// outbox.go are the two ends of the platform. said.go has the reminders made and
// when each subject is due, invites.go the links, forecasts.go a cache, photos.go
// the pictures. backup.go copies and restores, rotate.go keeps the nightly copies,
// forget.go empties a book, dump.go shows tables to test scripts.
//
// Every query about a household takes its book and finds nothing of another's.
package store
