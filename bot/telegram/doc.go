// Package telegram moves messages between the platform and the book without
// losing or doubling one, whatever dies at whatever moment.
//
// Inwards: an update is on disk (the inbox) before its offset is confirmed, and
// a worker takes the inbox in order, each message in its own savepoint together
// with its entries, its replies and the mark that it is done. Outwards: replies
// leave from the outbox at the platform's pace, and what is known of their fate
// is written back. The library is used for sending; its own loop confirms before
// it handles and is not used.
//
//   - config.go: what a bot is made of; run.go: its parts started and stopped
//   - api.go: the calls that are not sends; redact.go: the token stays out of errors
//   - update.go: an update decoded part by part; key.go: what makes it the same one
//   - poll.go, webhook.go: updates in, stored first
//   - worker.go: the inbox in order; attempts.go: what is tried again, and parked
//   - incoming.go: an update as the conversation takes it; service.go: comings,
//     goings and moves of groups
//   - outbox.go: rows of the outbox in flight; pace.go: how fast they may go
//   - send.go: one row as calls of the library; transport.go: what is known of a
//     request that failed; outcome.go: what follows from it
//   - pictures.go: photos fetched, made small, their barcode read
//   - menu.go: the list of commands; health.go: a page for a watchdog
//   - points.go: the places at which a test may kill the program
package telegram
