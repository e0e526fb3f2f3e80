package bot

import (
	"context"
	"io"
	"log/slog"
	"time"

	"mustbook/store"
)

// Bot holds what the conversation needs beside the message itself. The book is its
// only memory: what it remembers of folded batches may be dropped at any time.
type Bot struct {
	Zone    func(name string) (*time.Location, error) // loads a zone; set by cmd
	Default *time.Location                            // zone of new books
	Rand    io.Reader                                 // random bytes for invites and codes
	Log     *slog.Logger
	Access  *Access // who may do what; nil where everybody is let in (terminal, scripts)
	Backups string  // folder of the nightly backups; empty: there are none

	// Look makes a picture at hand small and reads its barcode; without bytes where it
	// cannot be opened. nil: pictures come from the platform alone, which looks itself.
	Look func(data []byte) (jpeg []byte, code string)

	folds memory[folded]  // what is remembered of folded batches
	ahead memory[lookout] // and of when they are due
}

// Handle takes one incoming thing: the entries it makes, the replies it gets (as
// rows of the outbox) and everything else it changes are written through tx, all
// or nothing. A message that was handled before changes nothing.
func (b *Bot) Handle(ctx context.Context, tx *store.Tx, in Incoming) error {
	before := tx.Entered()
	if err := b.handle(ctx, tx, in); err != nil {
		return err
	}
	if in.Kind != Pressed && tx.Entered() == before {
		return nil // nothing was entered: no reminder moves
	}
	if in.Rush { // to the minute, so that a household's backlog writes it once
		return lookAgain(tx, in.Chat.Book, in.Now.Truncate(time.Minute))
	}
	return b.afterwards(tx, in)
}

func (b *Bot) handle(ctx context.Context, tx *store.Tx, in Incoming) error {
	switch in.Kind {
	case Edited:
		return b.edited(ctx, tx, in)
	case Pressed:
		return b.pressed(ctx, tx, in)
	case File:
		return b.file(ctx, tx, in)
	case Photo:
		return b.picture(ctx, tx, in)
	case Voice:
		return b.voice(tx, in)
	}
	return b.text(ctx, tx, in)
}
