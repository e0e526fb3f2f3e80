// Package telegram moves messages between the platform and the book without
// losing or doubling one, whatever dies at whatever moment.
//
// Inwards: an update is on disk (the inbox) before its offset is confirmed, and
// a worker takes the inbox in order, each message whole: its entries, its replies and
// the mark that it is done are one commit. Outwards: replies
// leave from the outbox at the platform's pace, and what is known of their fate
// is written back. The library is used for sending; its own loop confirms before
// it handles and is not used.
//
// # Inwards
//
// The platform keeps an update until a poll carries a higher offset, at most for
// 24 hours. So the order is: fetch, commit to the inbox, and only then ask with
// the next offset. A kill before the commit means that the update comes again; a
// kill after it, that the inbox has it. What comes again is known by its content
// (chat and message id, date of an edit, id of a press), never by its update id,
// which starts anew after a quiet week. The worker makes that commit too: what comes
// while it has messages in hand rides in theirs.
//
// The worker takes rows in the order of the inbox. Waiting rows share a commit,
// since the disk's flush is what a message costs most. Where one of them fails all is
// undone and begun anew with a savepoint for each row, so that the failure undoes that
// row alone. When one fails, later rows of the same chat in
// the same commit step back: otherwise "racked" could overtake the reading that it
// follows. A row that fails three times is parked, with a word to its chat. A row
// that was there when the program died may be what killed it; its attempt is
// committed before the work, and it goes alone.
//
// In a backlog the next round begins while the disk is at the commit of the one before,
// with the rows that this takes into the inbox. It writes on top of it, so where that
// fails it is undone too; and whatever is told to anybody, to the poller, to the
// platform, is told once the commit has landed.
//
// # Outwards
//
// Rows of the outbox are marked as being sent in one commit and their outcomes are
// written in the next. While the worker has messages in hand both ride in its commit:
// an answer is marked as soon as it is made, and goes when that is on disk. In each
// chat one row is under way at a time, which keeps its order; across chats up to 100
// are, of which few are in work at a time (the road). A row waits for nothing but its turn and
// the platform's pace.
//
// There is no way to ask the platform whether a message arrived, and none to make
// a send idempotent. So a send that failed is sorted: refused for good, told to
// wait, certainly not sent (nothing of the request had left), or of unknown fate.
// Rows found as being sent at a start are of unknown fate too. Then edits,
// reactions and acks are simply repeated, for that changes nothing; an answer with
// a caution, a question or a figure is sent once more, for silence would be worse;
// a plain receipt is not repeated, for two receipts look like two entries: the
// message gets a thumb, and the next answer in that chat begins with the receipt's
// first line.
//
// # Privacy
//
// No token, link, name or text reaches the log: errors pass through redact, of a
// refusal only its code and known words are told, a panic is told by its type.
// Strangers are answered past the outbox, and their updates are removed whole. When
// nothing comes for a while the log beside the database is emptied, so that what was
// removed is gone from the disk too.
//
// # Files
//
//   - config.go: what a bot is made of; run.go: its parts started and stopped
//   - api.go: the calls that are not sends; redact.go: the token stays out of errors
//   - update.go: an update decoded part by part; key.go: what makes it the same one
//   - poll.go, webhook.go: updates in; arrive.go: stored first; door.go: what listens
//   - worker.go: the inbox in order; commit.go: a round's commit, and the next behind it;
//     attempts.go: what is tried again, and parked
//   - incoming.go: an update as the conversation takes it; service.go: comings,
//     goings and moves of groups
//   - outbox.go: rows of the outbox in flight; ride.go: in the worker's commit; pick.go:
//     which go next; pace.go: how fast they may go; road.go: how many at a time
//   - send.go: one row as calls of the library; transport.go: what is known of a
//     request that failed; outcome.go: what follows from it; settle.go: that in the book
//   - pictures.go: photos fetched, made small, their barcode read; files.go: other files
//   - menu.go: the list of commands; health.go: a page for a watchdog
//   - points.go: the places at which a test may kill the program, which points_storm.go
//     fills in under the tag storm
package telegram
