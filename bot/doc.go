// Package bot is the conversation, free of any platform: one message in, entries
// and replies written in one transaction.
//
// # The way of a message
//
// Whoever moves messages hands an Incoming (incoming.go) to Bot (bot.go). A turn
// (turn.go) reads the household's book, every batch folded (book.go; folds.go
// remembers what was folded), has the text understood by package parse and acts on
// the intent (act.go). It writes entries, and answers with what they mean
// (answer.go, answer_each.go). All that it says goes through package say and leaves by the outbox.
//
//   - topic.go: what is asked; next.go, outlook.go, foresee.go: what is to come
//   - named.go, undo_named.go: which batch, or which deed, a text names
//   - repair.go, redo.go: corrections, undo and its undoing; reopen.go: a batch closed too early
//   - press.go: buttons, pressed or their label typed
//   - settings.go, instrument.go, household.go: what is set, for a batch or the house
//   - like.go, split.go, merge.go, merge_text.go: batches begun like another, parted, put together
//   - count.go: bottles counted as they are filled
//   - complaint.go, cry.go, caution.go, names.go: faults, cries for help, what to beware of,
//     finings and what guests must be told of them
//   - draw.go: graph, sheet and labels; pictured.go: a sticker's photo
//   - focus.go: which batch a forum topic is about
//   - quiet.go, spoken.go: what a group is spared, and when the bot is spoken to
//
// # The bench
//
// bench.go answers what is to be worked out: bench_must.go before and during the
// ferment, bench_sulphite.go what protects, bench_wine.go what is finished,
// bench_blend.go how much of which wine a text names. bench_log.go is the button that
// puts the result in the book.
//
// # Reminders
//
// remind.go makes what is due, remind_gather.go puts into one message what is asked of
// several batches, remind_send.go writes it to the outbox, remind_where.go chooses the
// chat, ahead.go remembers when to look next. remind_answer.go is a button under one,
// remind_several.go one under several, remind_reply.go, remind_typed.go and
// remind_expect.go a message that answers. remind_set.go, remind_snooze.go,
// remind_away.go and remind_own.go are what a household says about them.
//
// # Doors
//
// Access (access.go) decides who may speak to which book, by chat (access_chat.go), link
// (access_link.go), code (access_code.go) and member (access_member.go). access_command.go
// and access_press.go are words and buttons about it, access_tell.go what others are told.
//
// # Out and in
//
// export.go has the document, summary.go a batch's state in it; leave.go and walk.go write
// it batch by batch, leaving.go asks and sends it in a chat, forget.go empties a book.
// import.go and table.go read a file, check.go looks whether it holds together, takein.go
// puts it in the book, file.go does so in a chat.
package bot
