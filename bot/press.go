package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
	"mustbook/ferment"
	"mustbook/store"
)

// joinWithin is how long after a gravity a lone temperature is that gravity's.
const joinWithin = 10 * time.Minute

func dateNoon(y int, m time.Month, d int, loc *time.Location) time.Time {
	return time.Date(y, m, d, 12, 0, 0, 0, loc)
}

// pressed does what a button says, once. It counts only in its own chat and book.
func (b *Bot) pressed(ctx context.Context, tx *store.Tx, in Incoming) error {
	first, err := tx.PressOnce(in.Callback)
	if err != nil || !first {
		return err
	}
	btn, err := tx.Button(in.Button, in.Now)
	if errors.Is(err, store.ErrNotFound) || errors.Is(err, store.ErrExpired) || err == nil && (btn.Book != in.Chat.Book || btn.Chat != in.Chat.ID) {
		return b.flash(tx, in, say.ButtonOver)
	}
	if err != nil {
		return err
	}
	bk, err := b.load(tx, in.Chat.Book, in.At, 0)
	if err != nil {
		return err
	}
	t := &turn{b: b, ctx: ctx, tx: tx, in: in, bk: bk}
	if b.Access != nil {
		if done, err := b.Access.Press(tx, in, btn.Action); done || err != nil {
			return err
		}
	}
	var do action
	if err := json.Unmarshal(btn.Action, &do); err != nil {
		return nil
	}
	return t.do(do, btn.Out)
}

// flash shows a word for a moment where a button was pressed. The row is the one that
// ends the press; whoever sends it makes it without words where there is none.
func (b *Bot) flash(tx *store.Tx, in Incoming, text string) error {
	_, _, err := tx.Enqueue(store.Out{Book: in.Chat.Book, Chat: in.Chat.ID, Source: "ack:" + in.Callback, Kind: "ack", Text: text, Created: in.Now, Priority: -1})
	return err
}

// do carries an action out. out is the answer that carried the button, 0 where
// its label was typed.
func (t *turn) do(a action, out int64) error {
	switch a.Do {
	case doStore:
		return t.doStore(a)
	case doRepair:
		first, err := t.tx.PressOnce("once:" + t.button())
		if err != nil {
			return err
		}
		if !first { // it would repair what came before
			return t.reply(reply{Lines: say.DoneBefore()})
		}
		return t.asMessage(a.Message, func() error {
			return t.repair(parse.Intent{Kind: parse.Correction, Action: a.Action, Whose: a.Text, Entries: a.Entries})
		})
	case doUndo:
		return t.takeBack(a.Message, out)
	case doRedo:
		return t.bringBack(a, out)
	case doPitched:
		return t.once(func() error {
			return t.keep(parse.Intent{Kind: parse.Event, Event: ferment.DeedPitched, Batch: a.Batch, Entries: a.Entries})
		})
	case doTakeOut:
		return t.takeOutAs(a)
	case doTemp:
		return t.giveTemperature(a)
	case doDrop:
		if err := t.tx.CloseQuestion(t.bk.id, a.Message); err != nil {
			return err
		}
		if err := t.tx.DropMessage(a.Message); err != nil {
			return err
		}
		if a.Key == "book" {
			return t.reply(reply{Lines: say.BookStays()})
		}
		return t.reply(reply{Lines: say.Dropped()})
	case doType:
		return t.reply(reply{Lines: t.bk.style.TypeReading(), Batch: a.Batch})
	case doMore:
		in := parse.Intent{Topic: a.Key, Batch: a.Batch}
		if a.Text != "" {
			in.Args = map[string]any{"text": a.Text, "asked": true}
		}
		return t.question(in)
	case doCounted:
		return t.allCounted(a)
	case doInTheirs:
		return t.inTheirs(a)
	case doForAll:
		return t.asMessageOnce(a.Message, func() error { return t.keepWord(*a.Word) })
	case doMerge:
		return t.asMessageOnce(a.Message, func() error { return t.pourAs(a.Text, parse.When{}) })
	case doSet:
		return t.once(func() error { return t.setFlag(a) })
	case doDeed:
		return t.once(func() error { return t.recordDeed(a) })
	case doAdd:
		return t.addOnce(a)
	case doSaid:
		return t.answered(a)
	case doSaidAll:
		return t.answeredAll(a)
	case doTake:
		return t.take(a)
	case doExport:
		return t.export(a)
	case doRemind:
		if a.Value == 0 {
			return t.agreed(a)
		}
		return t.once(func() error { return t.agreed(a) })
	case doSnooze:
		return t.snoozed(a)
	case doMute:
		return t.switchOff(a.Key, a.Batch)
	case doEarlier:
		return t.reply(reply{Lines: say.EarlierWhen(), Batch: a.Batch})
	case doForget:
		return t.forget(a)
	case doSerial:
		return t.keepSerial(a)
	}
	return nil
}

// pressTyped presses a button whose label was typed.
func (t *turn) pressTyped(btn store.Button) error {
	in := t.in
	in.Kind, in.Button, in.Callback = Pressed, btn.Key, fmt.Sprintf("typed%d", t.msg.ID)
	if err := t.tx.DropMessage(t.msg.ID); err != nil {
		return err
	}
	return t.b.pressed(t.ctx, t.tx, in)
}

// asMessage does something under an earlier message: its time and its author's
// words count, not those of the press.
func (t *turn) asMessage(id int64, f func() error) error {
	m, err := t.tx.Message(t.bk.id, id)
	if errors.Is(err, store.ErrNotFound) {
		return t.reply(reply{Lines: say.Gone()})
	}
	if err != nil {
		return err
	}
	t.msg = m
	return f()
}

// asMessageOnce is asMessage where nothing stands yet of the earlier message.
func (t *turn) asMessageOnce(id int64, f func() error) error {
	have, err := t.tx.EntriesOfMessage(t.bk.id, id)
	if err != nil {
		return err
	}
	if len(have) > 0 {
		return t.reply(reply{Lines: say.AlreadyThere()})
	}
	return t.asMessage(id, f)
}

// once does what puts something in the book under a message of the button's own: on a
// phone with bad reception it is tapped twice.
func (t *turn) once(f func() error) error {
	fresh, err := t.pressOnce(t.button())
	if err != nil {
		return err
	}
	if !fresh {
		return t.reply(reply{Lines: say.AlreadyThere()})
	}
	return f()
}

// doStore keeps what a question held back.
func (t *turn) doStore(a action) error {
	return t.asMessage(a.Message, func() error {
		q, err := t.tx.OpenQuestion(t.in.Chat.ID, t.msg.Member)
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		have, err := t.tx.EntriesOfMessage(t.bk.id, a.Message)
		if err != nil {
			return err
		}
		if q.Message != a.Message && len(have) > 0 {
			return t.reply(reply{Lines: say.AlreadyThere()})
		}
		if err := t.tx.CloseQuestion(t.bk.id, a.Message); err != nil {
			return err
		}
		kind := parse.Readings
		if len(a.Entries) > 0 && a.Entries[0].Quantity == string(ferment.QNewBatch) {
			kind = parse.NewBatch
		}
		if err := t.keepGallon(a.Entries); err != nil {
			return err
		}
		in := parse.Intent{Kind: kind, Entries: a.Entries, Event: a.Key}
		if a.Key == ferment.DeedBlended || len(a.Entries) > 0 && a.Entries[0].Deed == ferment.DeedBlended {
			if done, err := t.poured(t.msg.Text, in); done || err != nil {
				return err
			}
		}
		return t.keep(in)
	})
}

// keepGallon remembers which gallon a metric house means, so that it is asked once.
func (t *turn) keepGallon(es []parse.Entry) error {
	if t.bk.house.Units != "metric" || t.bk.house.Gallon != "" {
		return nil
	}
	for _, e := range es {
		if e.Unit == "US gal" || e.Unit == "imp gal" {
			_, err := t.set(0, ferment.Entry{Key: ferment.SetGallon, Text: e.Unit})
			return err
		}
	}
	return nil
}

// giveTemperature completes a gravity with the temperature on a button.
func (t *turn) giveTemperature(a action) error {
	g, err := t.tx.Entry(t.bk.id, a.Roots[0])
	if err != nil {
		return t.reply(reply{Lines: say.Gone()})
	}
	t.msg.ID = g.Message
	have, err := t.tx.EntriesOfMessage(t.bk.id, g.Message)
	if err != nil {
		return err
	}
	e := ferment.Entry{Message: g.Message, Batch: g.Batch, Quantity: ferment.QTemp, Value: a.Value, Has: true, Unit: a.Key, Typed: t.bk.style.Number(a.Value, 0),
		At: g.At, DayOnly: g.DayOnly, Of: g.Root, Author: t.in.Member.ID, AuthorName: t.in.Member.Name, TypedAt: t.in.At}
	for _, h := range have {
		if h.Of == g.Root && h.Quantity == ferment.QTemp {
			e.Root = h.Root
		}
		e.Ordinal = max(e.Ordinal, h.Ordinal+1)
	}
	if _, err := t.tx.AddEntries(t.bk.id, []ferment.Entry{e}); err != nil {
		return err
	}
	if t.bk, err = t.b.load(t.tx, t.bk.id, t.in.At, 0); err != nil {
		return err
	}
	return t.readingReceipt(g)
}

// setFlag sets a yes/no of a batch: dry enough, meant sweet, malolactic.
func (t *turn) setFlag(a action) error {
	if _, err := t.set(a.Batch, ferment.Entry{Key: a.Key, Text: a.Text}); err != nil {
		return err
	}
	return t.reply(reply{Lines: say.FlagSet(t.nameOf(a.Batch), a.Key, a.Text), Batch: a.Batch, Buttons: t.undoButton()})
}

// recordDeed logs a deed at the time of the tap.
func (t *turn) recordDeed(a action) error {
	if err := t.ownMessage(); err != nil {
		return err
	}
	s := t.bk.batch(a.Batch)
	if s == nil {
		return t.reply(reply{Lines: say.Gone()})
	}
	return t.keep(parse.Intent{Kind: parse.Event, Event: a.Key, Batch: s.N,
		Entries: []parse.Entry{{Quantity: string(ferment.QEvent), Deed: a.Key, Batch: s.Name, BatchN: s.N}}})
}

// button is the key of the button that was pressed; what was typed for one is itself.
func (t *turn) button() string {
	if t.in.Button != "" {
		return t.in.Button
	}
	return fmt.Sprintf("typed%d", t.msg.ID)
}

// ownMessage gives a press a message of its own, under which entries can stand; what was
// typed for one too.
func (t *turn) ownMessage() error {
	if t.msg.Kind == "press" {
		return nil
	}
	key := t.in.Callback
	if key == "" {
		key = t.button()
	}
	m, _, err := t.tx.AddMessage(store.Message{Book: t.bk.id, Chat: t.in.Chat.ID, Member: t.in.Member.ID, OriginChat: -t.in.Chat.ID,
		PlatformMessage: pressKey(key), Text: "", At: t.in.At, Kind: "press"})
	t.msg = m
	return err
}

// pressKey makes a number of a press's id (FNV-1a), for the key of its message.
func pressKey(id string) int64 {
	h := uint64(14695981039346656037)
	for i := 0; i < len(id); i++ {
		h = (h ^ uint64(id[i])) * 1099511628211
	}
	return int64(h >> 1)
}

func (t *turn) nameOf(n int) string {
	if s := t.bk.batch(n); s != nil {
		return s.Name
	}
	return say.House
}
