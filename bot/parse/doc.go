// Package parse turns the text of a message into an Intent: what would be
// stored, what is asked, and why. It is pure: what it knows of batches, time and
// people comes in a Context, and it never touches a clock or a database.
//
// # The way of a message
//
// A scanner cuts the text into tokens with their place (scan.go); torn and
// spoken numbers are joined (mend.go, spoken.go), words without a space parted
// (unglue.go) and letters folded (fold.go), so that "Gęstość" and "gestosc" are one
// word. The tokens become items (item.go): numbers (number.go; price.go sets money and
// years apart), batch names (names.go; manywords.go those of several words, shortname.go
// those said in part) and forms of the lexicon (lexicon.go, lookup.go, lexicon/*.txt), the
// longest first, a slip forgiven in long words (typo.go). An item keeps every
// sense that its word has in any of the twelve languages; which one holds is decided
// by what stands around it, not by the order of rules.
//
// Grammars then claim items, each leaving what it does not know to the next:
//
//   - danger.go, danger_words.go: cries for help, before everything else, by the words
//     in danger/; mention.go: whether it is said to the bot or of it; quoted.go: what a
//     group only quotes;
//   - answer.go, follow.go: answers to the bot's own question, or under its message;
//   - when.go, date.go, clock.go: times, past by default;
//   - repair.go, undo.go, corrected.go, moved.go, lastmeant.go: "no, 1.026", undo, "that
//     went in the plum", and which entry of the last message is meant;
//   - command.go, question.go, judged.go, topics.go, workout.go, complaint.go: what is asked, to be
//     worked out, or complained of; askorder.go: where in a text asking begins and ends,
//     askround.go: what is asked of people;
//   - setting.go, zone.go, instrument.go, reminder.go, reminder_words.go, away.go: what is set;
//   - newbatch.go, newname.go, wish.go: a batch begun, and what it is to be served with;
//     batchword.go, merge.go, count.go: one deleted, put together, its bottles counted;
//   - statement.go: what is told (condition.go: what only if), with deed.go and told.go
//     (deeds, and those told without a deed's own word; object.go: which are done to a thing that
//     is no wine), addition.go, material.go,
//     dissolved.go, solution.go and intonamed.go (what went in, which amount is of what, and
//     what it was dissolved in), sulphur.go (its free and total part), amounts.go (volumes,
//     bottles, serials), inall.go (sums), value.go (numbers with unit and label), bare.go
//     (numbers without), measured.go (their limits), scope.go (which name and
//     which time governs which number) and several.go ("both", "the other one").
//
// What comes out are claims: candidate entries with the doubts about each. The
// policy weighs them against the context: welcome.go, baredeed.go and plainly.go (is it for
// the book at all, in this chat), choose.go (which batch), gravity.go and fit.go (does the
// number fit it), decide.go, doubt.go and conclude.go (store, ask, refuse or keep
// silent; what is held while a question is open, and which answers are likely).
//
// Requests that name batches which hold no wine any more, blends and splits are read with
// the same tokens and words by wines.go and pour.go, finings and receivers by finings.go;
// place.go takes what only says where a vessel stands, which batch is not meant, and the
// hours of other things; fetched.go keeps what was bought or picked, and what the wine was
// taken off, out of the wine; mended.go finds a deed that the next word takes back, people.go
// who is asked or meant, pleads.go what somebody is asked to do.
//
// words.go looks for words in a folded text, where no items are needed.
//
// intent.go has the types that the conversation works with, json.go the input
// and output of `hear --json`, explain.go the words of `hear`.
//
// # Adding to it
//
// A new word is a line in lexicon/*.txt, never a branch of code: "class name:
// form; form". A form may be several words. Words that are one letter from a word
// of the cellar and mean something else go under "guard". A new message goes into
// testdata/messages.txt with what it should mean before the code is touched; no
// message is special-cased.
//
// # Ambiguity
//
// Whatever is certain is stored, whatever is ambiguous is asked, and what is not
// the cellar's is ignored. In a group silence is the default: a false log there
// is the worst mistake, worse than a reading lost, which somebody types again.
package parse
