// Package say holds every text that people read, and turns quantities into it. An answer
// is a list of lines, at most Depth of them and Width characters wide; it is pure.
//
//   - style.go, amounts.go: quantities, times and days as a household reads them
//   - lines.go: width and depth, wrapping, what must not be shown
//   - reading.go: what a gravity means, and the buttons' labels; noted.go: whatever else was
//     logged; more.go: behind the button More
//   - status.go, foresight.go, doing.go: where a batch stands, where it is heading, what to do;
//     contents.go: what is in it
//   - asks.go: the questions of the bot; repair.go: what was corrected, or not found
//   - bench.go, bench_must.go, bench_sulphite.go, bench_wine.go: what was worked out
//   - like.go, split.go, merge.go, count.go, instrument.go: answers about just these
//   - faults.go, caution.go, danger.go: advice, what to beware of, emergencies
//   - remind.go, remind_texts.go, remind_together.go: reminders; reminding.go: the answers about
//     them; week.go: the round-up of the week
//   - access.go, leave.go, forget.go: who may do what, export and import, leaving
package say
